"""One sheet is cut one way; a list of sizes holds one at least. Each told where it stands."""

import pytest

from fitout.model.fault import DesignError


def with_entries(whole: str, *entries: str) -> str:
    kept, skip = [], False
    for line in whole.splitlines():
        if not line.startswith((" ", "#")):
            skip = line.startswith(("cutting:", "stock:", "boards:"))
        if not skip:
            kept.append(line)
    return "\n".join([*kept, *entries, ""])


@pytest.mark.parametrize(
    ("boards", "by", "path", "found", "expected"),
    [
        (
            "{carcass: birch ply 12, drawer: birch ply 12}",
            "{carcass: saw, drawer: router}",
            "drawer",
            "router for drawer",
            "saw, as for carcass: both are cut from birch ply 12",
        ),
        # Purposes left out have their usual sheet.
        (
            "{carcass: birch ply 12}",
            "{deck: router, carcass: saw, others: saw}",
            "carcass",
            "saw for carcass",
            "router, as for deck: both are cut from birch ply 12",
        ),
        (
            "{carcass: birch ply 12}",
            "{birch ply 12: saw, carcass: router}",
            "carcass",
            "router for carcass",
            "saw, as for birch ply 12: both are cut from birch ply 12",
        ),
    ],
)
def test_two_ways_for_one_sheet_are_refused(read, whole, boards, by, path, found, expected):
    text = with_entries(whole, f"boards: {boards}", f"cutting: {{by: {by}}}")
    with pytest.raises(DesignError) as caught:
        read(text)
    (fault,) = caught.value.faults
    assert (fault.path, fault.found) == (("cutting", "by", path), found)
    assert fault.expected == expected
    where = text.splitlines()[fault.line - 1]
    assert where.startswith("cutting:")
    assert where[fault.column - 1 :].startswith(("router", "saw"))


def test_one_way_for_one_sheet_is_read(read, whole):
    by = "{carcass: saw, drawer: saw, bottom: router, others: router}"
    design = read(with_entries(whole, f"cutting: {{by: {by}}}"))
    assert design.cutting.tool("bottom") == "router"


@pytest.mark.parametrize("stock", ["{sheets: {birch ply 12: []}}"])
def test_a_material_of_no_size_is_refused(read, whole, stock):
    text = with_entries(whole, f"stock: {stock}")
    with pytest.raises(DesignError) as caught:
        read(text)
    (fault,) = caught.value.faults
    assert fault.path == ("stock", "sheets", "birch ply 12")
    assert fault.found == "no size"
    assert text.splitlines()[fault.line - 1][fault.column - 1 :].startswith("[]")

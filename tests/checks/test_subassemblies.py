"""What is carried as one: by joints, by motions, and when joints stay open."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.subassemblies import separable, split, sub_assemblies
from fitout.model.module import Joint, JointKind


def test_what_is_screwed_goes_in_as_one_and_what_rests_by_itself(
    subject: Callable[..., Any], module: Callable[..., Any], panel: Any, item: Any
) -> None:
    base, side = panel("a/base", (0, 400), (0, 300)), panel("a/side", (0, 400), (0, 300), 10.0)
    tank = item("a/tank", (0, 100), (0, 100), (20, 120))
    whole = module(
        "a",
        base,
        side,
        tank,
        joints=(
            Joint("a/base", "a/side", JointKind.SCREWED),
            Joint("a/tank", "a/side", JointKind.RESTS),
        ),
    )
    found = sub_assemblies(subject(whole))
    assert [(sub.id, sub.parts) for sub in found] == [
        ("a: box", ("a/base", "a/side")),
        ("a: tank", ("a/tank",)),
    ]
    assert found[0].mass_kg == pytest.approx(2 * 0.4 * 0.3 * 0.01 * 700.0)


def test_a_drawer_comes_off_its_slides_which_stay_with_the_carcass(
    subject: Callable[..., Any], module: Callable[..., Any], panel: Any, item: Any
) -> None:
    side = panel("a/side", (0, 400), (0, 10))
    box = panel("a/box", (0, 400), (20, 30), moves="drawer")
    slide = item("a/slide", (0, 400), (10, 20), (0, 10))
    joints = (
        Joint("a/slide", "a/side", JointKind.SLIDES),
        Joint("a/slide", "a/box", JointKind.SLIDES),
    )
    found = sub_assemblies(subject(module("a", side, box, slide, joints=joints, kind="drawers")))
    assert {sub.id: sub.parts for sub in found} == {
        "a: carcass": ("a/side", "a/slide"),
        "a: box": ("a/box",),
    }


def test_what_is_only_fitted_goes_with_what_it_is_fitted_to(
    subject: Callable[..., Any], module: Callable[..., Any], panel: Any
) -> None:
    parts = [panel(f"a/{name}", (0, 400), (0, 300), z) for name, z in (("x", 0), ("y", 10))]
    fitted = Joint("a/x", "a/y", JointKind.FITTED)
    found = sub_assemblies(subject(module("a", *parts, joints=(fitted,))))
    assert [sub.parts for sub in found] == [("a/x", "a/y")]


def test_joints_left_open_split_it_and_welds_never_open(
    subject: Callable[..., Any], module: Callable[..., Any], panel: Any
) -> None:
    parts = [panel(f"a/{name}", (0, 400), (0, 300), 10.0 * k) for k, name in enumerate("xyz")]
    welded = Joint("a/x", "a/y", JointKind.FITTED, "welded")
    screwed = Joint("a/y", "a/z", JointKind.SCREWED)
    there = subject(module("a", *parts, joints=(welded, screwed)))
    (whole,) = sub_assemblies(there)
    assert separable(there, whole) == (screwed,)
    assert split(there, whole, ()) == (whole,)
    assert [piece.parts for piece in split(there, whole, [screwed])] == [("a/x", "a/y"), ("a/z",)]
    with pytest.raises(ValueError, match="left open"):
        split(there, whole, [welded])


def test_what_is_left_open_all_round_does_not_hang_on_by_a_fitted_joint(
    subject: Callable[..., Any], module: Callable[..., Any], panel: Any
) -> None:
    """A carcass' top is screwed to its sides and only stands against its back."""
    names = ("base", "side", "back", "rail", "top")
    parts = [panel(f"a/{n}", (0, 400), (0, 300), 10.0 * k) for k, n in enumerate(names)]
    screwed = [Joint("a/base", f"a/{n}", JointKind.SCREWED) for n in ("side", "back", "rail")]
    on = Joint("a/top", "a/side", JointKind.SCREWED)
    against = Joint("a/top", "a/back", JointKind.FITTED)
    there = subject(module("a", *parts, joints=(*screwed, on, against)))
    (whole,) = sub_assemblies(there)
    pieces = split(there, whole, [on])
    assert [(piece.id.partition(": ")[2], len(piece.parts)) for piece in pieces] == [
        (f"{whole.id.partition(': ')[2]} without top", 4),
        ("top", 1),
    ]


@pytest.mark.parametrize("design", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_each_part_of_a_demo_is_carried_once(design: str, demo: Callable[[str], Any]) -> None:
    there = demo(design)
    carried = [part for sub in sub_assemblies(there) for part in sub.parts]
    assert sorted(carried) == sorted(there.parts)
    names = [sub.id for sub in sub_assemblies(there)]
    assert len(set(names)) == len(names)

"""How each sheet is cut, and what is worth keeping."""

from fitout.model.cutting import CuttingSpec, OffcutSpec, SawSpec, StockSpec


def test_one_word_holds_for_every_sheet():
    spec = CuttingSpec(by="saw", kerf=4.0)
    assert (spec.of("ply 9").by, spec.of("ply 9").kerf) == ("saw", 4.0)


def test_a_sheet_has_its_tool_and_that_tools_kerf():
    spec = CuttingSpec(by={"ply 9": "saw", "others": "router"}, kerf=6.0, saw=SawSpec(kerf=2.8))
    assert (spec.tool("ply 9"), spec.tool("foam")) == ("saw", "router")
    assert (spec.of("ply 9").kerf, spec.of("foam").kerf) == (2.8, 6.0)
    assert CuttingSpec(by={"ply 9": "saw"}).tool("foam") == "router"


def test_a_purpose_stands_for_its_sheet():
    spec = CuttingSpec(by={"carcass": "saw", "foam 30": "router"})
    assert spec.with_purposes({"carcass": "ply 12", "lid": "ply 9"}).by == {
        "ply 12": "saw",
        "foam 30": "router",
    }


def test_an_offcut_worth_keeping_is_wide_and_long_enough():
    spec = CuttingSpec(keep_offcuts=(400.0, 100.0))
    assert spec.worth_keeping(400.0, 100.0)
    assert spec.worth_keeping(100.0, 400.0)
    assert not spec.worth_keeping(399.0, 300.0)
    assert not spec.worth_keeping(900.0, 99.0)


def test_offcuts_by_sheet():
    a = OffcutSpec(sheet="ply 9", size=(1.0, 1.0), thickness=9.0)
    stock = StockSpec(offcuts=(a,))
    assert stock.offcuts_of("ply 9") == (a,)
    assert stock.offcuts_of("ply 12") == ()
    assert (stock.of_sheet("ply 9"), stock.of_bar("tube")) == ((), ())

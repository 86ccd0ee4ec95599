import pytest

from fitout.design_file import cautions, show_faults

OPENING = "  opening: {height: %s, widths: {0: 1004, 400: %s}}\nboards:"


def test_nothing_to_doubt(read, whole):
    assert cautions(read(whole)) == ()


@pytest.mark.parametrize(
    ("old", "new", "path", "found"),
    [
        (
            "620: 1012",
            "620: 101",
            ("bay", "sections", 0, "widths", "620"),
            "a width of 101 mm",
        ),
        ("foot: 1064", "foot: 190", ("bay", "seat_back", "foot"), "a bay 190 mm long"),
        ("foot: 1064", "foot: 41 m", ("bay", "seat_back", "foot"), "a bay 41000 mm long"),
        (
            "620: 1012",
            "900: 1012",
            ("bay", "sections", 0, "widths", "900"),
            "a width at 900, above",
        ),
        ("1046 ± 2", "1046 mm ± 3 cm", ("bay", "sections", 0, "widths", "0"), "± 30 mm"),
        ("boards:", OPENING % (900, 1000), ("bay", "opening", "height"), "an opening 900 high"),
        (
            "boards:",
            OPENING % (772, 1100),
            ("bay", "opening", "widths", "400"),
            "an opening 1100 wide",
        ),
        (
            "690 x 398 x 470",
            "690 x 398 x 4700",
            ("items", "fridge", "size"),
            "an item 4700 mm long",
        ),
        ("21 kg", "2100", ("items", "fridge", "mass"), "2100 kg"),
        (
            "690 x 398 x 470, mass: 21 kg",
            "69 x 39.8 x 47, mass: 21 kg",
            ("items", "fridge", "size"),
            "an item of 21 kg, 69 mm at its longest",
        ),
        (
            "21 kg",
            "21 kg, holds: 130 l",
            ("items", "fridge", "holds"),
            "130 l in a tank of 129 l, measured outside",
        ),
        ("modules:", "cutting: {kerf: 12.5}\nmodules:", ("cutting", "kerf"), "a kerf of 12.5 mm"),
        (
            "modules:",
            "cutting: {scribe_allowance: 30.5}\nmodules:",
            ("cutting", "scribe_allowance"),
            "a scribe allowance of 30.5 mm",
        ),
        (
            "at: 0,",
            "at: 151,",
            ("bay", "sections"),
            "no section nearer to the sill than 151",
        ),
    ],
)
def test_doubt(read, whole, old, new, path, found):
    assert old in whole
    design = read(whole.replace(old, new, 1).replace("top: 612", "top: 300", 1))
    doubts = [doubt for doubt in cautions(design) if doubt.path == path]
    assert doubts[0].found.startswith(found)
    assert doubts[0].caution
    assert (doubts[0].line, doubts[0].column) == design.sources[path]


def test_cautions_say_so(read, whole):
    text = whole.replace("21 kg", "2100", 1)
    shown = show_faults(cautions(read(text)), text, "van.yaml")
    assert shown.startswith("van.yaml:12:41: caution: found 2100 kg; expected at most 300 kg.")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("690 x 398 x 470, mass: 21 kg", "119 x 119 x 119, mass: 3 kg"),
        ("690 x 398 x 470, mass: 21 kg", "120 x 40 x 40, mass: 21 kg"),
        ("21 kg", "21 kg, holds: 129 l"),
        ("470, mass: 21 kg", "470, top: [700, 400], mass: 21 kg, holds: 131 l"),
        ("modules:", "cutting: {kerf: 12}\nmodules:"),
        ("at: 0,", "at: 150,"),
    ],
)
def test_what_can_well_be_is_not_doubted(read, whole, old, new):
    assert old in whole
    assert cautions(read(whole.replace(old, new, 1))) == ()

import pytest

from fitout.design_file.quantities import (
    Misread,
    plain_number,
    read_days,
    read_measured,
    read_quantity,
    read_size,
    read_whole,
)
from fitout.model.spec import Days, Measured, Quantity, Size, Unit

LENGTH = Quantity(Unit.LENGTH, least=0.0)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("560", 560.0),
        ("1.2 m", 1200.0),
        ("118 cm", 1180.0),
        ("1 m 20 cm", 1200.0),
        ("35 1/2 in", 901.7),
        ("35-1/2 in", 901.7),
        ("35½ in", 901.7),
        ('3/4"', 19.05),
        ("3/4 in.", 19.05),
        ("5 ft 3 1/4 in", 1606.55),
        ("5' 3\"", 1600.2),
        ("6 feet", 1828.8),
        ("1e3", 1000.0),
        ("+5", 5.0),
        ("0", 0.0),
        ("12\xa0MM", 12.0),
    ],
)
def test_lengths(text, mm):
    assert read_quantity(text, LENGTH) == mm


@pytest.mark.parametrize(
    ("unit", "text", "value"),
    [
        (Unit.MASS, "21 kg", 21.0),
        (Unit.MASS, "850 g", 0.85),
        (Unit.MASS, "1.9 t", 1900.0),
        (Unit.MASS, "40 lb", 18.143694800),
        (Unit.MASS, "3 lb 8 oz", 1.587573295),
        (Unit.ANGLE, "17 deg", 17.0),
        (Unit.ANGLE, "17°", 17.0),
        (Unit.ANGLE, "−17", -17.0),
        (Unit.ANGLE, "0.5 rad", 28.647889757),
        (Unit.VOLUME, "42 l", 42.0),
        (Unit.VOLUME, "42 L", 42.0),
        (Unit.VOLUME, "500 ml", 0.5),
        (Unit.VOLUME, "11 gal(us)", 41.639529624),
        (Unit.VOLUME, "11 US gal.", 41.639529624),
        (Unit.VOLUME, "11 gal (uk)", 50.00699),
        (Unit.MONEY, "84.50", 84.5),
        (Unit.STIFFNESS, "32", 32.0),
        (Unit.STIFFNESS, "32 N/mm", 32.0),
        (Unit.STIFFNESS, "32 N / mm", 32.0),
        (Unit.STIFFNESS, "32000 N/m", 32.0),
        (Unit.STIFFNESS, "32 kN/m", 32.0),
        (Unit.STIFFNESS, "180 lb/in", 31.522830344),
        (Unit.STIFFNESS, "3.2 kg/mm", 31.38128),
        (Unit.PRESSURE, "1.5", 1.5),
        (Unit.PRESSURE, "150 kPa", 1.5),
        (Unit.PRESSURE, "22 psi", 1.516846604),
        (Unit.RATIO, "0.3", 0.3),
        (Unit.RATIO, "30 %", 0.3),
        (Unit.POWER, "45", 45.0),
        (Unit.POWER, "1.2 kW", 1200.0),
        (Unit.POWER, "20 A at 13.8 V", 276.0),
        (Unit.ENERGY, "1.28 kWh", 1280.0),
        (Unit.ENERGY, "100 Ah at 12.8 V", 1280.0),
        (Unit.ENERGY, "100Ah@12.8V", 1280.0),
        (Unit.TEMPERATURE, "28", 28.0),
        (Unit.TEMPERATURE, "-5 °C", -5.0),
        (Unit.TEMPERATURE, "82 °F", 27.777777778),
        (Unit.TEMPERATURE, "-40 F", -40.0),
        (Unit.CONSUMPTION, "9.4", 9.4),
        (Unit.CONSUMPTION, "9.4 l/100 km", 9.4),
        (Unit.CONSUMPTION, "9.4 l / 100km", 9.4),
        (Unit.CONSUMPTION, "25 mpg(us)", 9.408583333),
        (Unit.CONSUMPTION, "30 mpg(uk)", 9.416031211),
        (Unit.DISTANCE, "150 mi", 241.4016),
        (Unit.DURATION, "1 h 30 min", 1.5),
    ],
)
def test_other_kinds(unit, text, value):
    # Factors: NIST SP 811; 11 x 3.785411784, 11 x 4.54609, 40 x 0.45359237.
    assert read_quantity(text, Quantity(unit)) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1046", Measured(1046.0)),
        ("1046 ± 2", Measured(1046.0, 2.0)),
        ("1046 +/- 2", Measured(1046.0, 2.0)),
        ("1046±2 mm", Measured(1046.0, 2.0)),
        ("1.2 m ± 3 mm", Measured(1200.0, 3.0)),
        ("35 1/2 in ± 1/8 in", Measured(901.7, 3.175)),
        ("-12", Measured(-12.0)),
    ],
)
def test_measured(text, expected):
    assert read_measured(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("690 x 398 x 470", Size(690.0, 398.0, 470.0)),
        ("690x398x470 mm", Size(690.0, 398.0, 470.0)),
        ("27 × 15 1/2 × 18 in", Size(685.8, 393.7, 457.2)),
        ("0.9 m x 17 cm x 330 mm", Size(900.0, 170.0, 330.0)),
        ("24 1/2 in x 15 in x 450", Size(622.3, 381.0, 450.0)),
        ("690 x 40 cm x 100", Size(690.0, 400.0, 100.0)),
    ],
)
def test_sizes(text, expected):
    assert read_size(text) == expected


@pytest.mark.parametrize(
    ("text", "expected", "hint"),
    [
        ("", "a length of 0 or more, such as", ""),
        ("12,5", "a number", "Write 12.5."),
        ("0,125", "a number", "Write 0.125."),
        ("1,046", "a number", "Write 1046 or 1.046."),
        ("1 046", "a length", "Leave no space within a number."),
        ("3/4", "a unit after a fraction", "Write 3/4 in if inches are meant."),
        ("1/0 in", "a fraction such as 3/4", "Nothing can be divided by 0."),
        ("1/2/3 in", "a length", "Write a fraction as 3/4 in or 35 1/2 in."),
        ("3 in 5 ft", "a length", ""),
        ("5 ft 3", "a length", ""),
        ("20 mn", "a length", "Write the unit as mm, cm, m, in or ft; mm if left out."),
        ("-5", "a length of 0 or more", ""),
        ("--5", "a length", ""),
        ("-", "a length", ""),
        ("200 m", "a length of at most 100000 mm", ""),
        ("1e999", "a length of at most 100000 mm", ""),
        ("5 ± 2", "a length", "No ± is kept for this one; leave it out."),
        ("1_000", "a length", ""),
        ("0x1F", "a length", ""),
    ],
)
def test_misread_lengths(text, expected, hint):
    with pytest.raises(Misread) as caught:
        read_quantity(text, LENGTH)
    assert caught.value.expected.startswith(expected)
    assert caught.value.hint == hint


@pytest.mark.parametrize("text", ["nan", ".nan", "-.inf", "Infinity", "+inf"])
def test_no_finite_number(text):
    with pytest.raises(Misread) as caught:
        read_quantity(text, LENGTH)
    assert caught.value.note == " (no finite number)"


@pytest.mark.parametrize(
    ("text", "note"), [("20 kg", " (a mass)"), ("4 gal", " (a volume)"), ("90°", " (an angle)")]
)
def test_wrong_kind_is_named(text, note):
    with pytest.raises(Misread) as caught:
        read_quantity(text, LENGTH)
    assert caught.value.note == note


@pytest.mark.parametrize(
    ("unit", "text", "hint"),
    [
        (Unit.ENERGY, "100 Ah", "Write the unit as Wh or kWh, or as Ah at so many V"),
        (Unit.ENERGY, "100 Ah at 12", "Write the unit as Wh or kWh"),
        (Unit.ENERGY, "100 V at 12 Ah", "Write the unit as Wh or kWh"),
        (Unit.POWER, "1 A at 2 V at 3 V", "Write the unit as W or kW"),
        (Unit.CONSUMPTION, "9 l/km", "Write the unit as l/100 km"),
        (Unit.CONSUMPTION, "0 mpg(us)", ""),
        (Unit.TEMPERATURE, "28 K", "Write the unit as °C or °F"),
    ],
)
def test_misread_of_trips(unit, text, hint):
    with pytest.raises(Misread) as caught:
        read_quantity(text, Quantity(unit))
    assert caught.value.hint.startswith(hint)


@pytest.mark.parametrize(
    ("text", "days"),
    [("3", Days(3, 3)), ("3-7", Days(3, 7)), ("3 to 7", Days(3, 7)), ("4–6", Days(4, 6))],
)
def test_days(text, days):
    assert read_days(text) == days
    assert days.first in days
    assert days.last + 1 not in days


@pytest.mark.parametrize(
    ("text", "hint"),
    [("7-3", "Write 3-7."), ("0", "The day of departure is day 1."), ("x", ""), ("1.5", "")],
)
def test_misread_days(text, hint):
    with pytest.raises(Misread, match="a day or days counted from 1") as caught:
        read_days(text)
    assert caught.value.hint == hint


def test_gallon_must_say_which():
    with pytest.raises(Misread) as caught:
        read_quantity("4 gal", Quantity(Unit.VOLUME))
    assert caught.value.expected == "gal(us) or gal(uk)"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5 ± 0", "a tolerance above 0"),
        ("5 ± -1", "a tolerance above 0"),
        ("5 ±", "a number after ±"),
        ("5 ± 1 ± 2", "a length"),
        ("1.2 m ± 3", "one reading of the numbers"),
        ("104.6 ± 0.2 cm", "one reading of the numbers"),
    ],
)
def test_misread_tolerances(text, expected):
    with pytest.raises(Misread) as caught:
        read_measured(text)
    assert caught.value.expected.startswith(expected)


@pytest.mark.parametrize(
    "text",
    ["690 x 398", "1 x 2 x 3 x 4", "1 x 2 x 0", "27 in x 15 x 18", "27 in x 99 x 18 in", "x"],
)
def test_misread_sizes(text):
    with pytest.raises(Misread):
        read_size(text)


@pytest.mark.parametrize(
    ("value", "good"), [(0.0, False), (0.1, True), (90.0, True), (91.0, False)]
)
def test_ranges_hold_at_their_ends(value, good):
    quantity = Quantity(Unit.ANGLE, above=0.0, most=90.0)
    if good:
        assert read_quantity(str(value), quantity) == value
    else:
        with pytest.raises(Misread, match="an angle above 0 and up to 90"):
            read_quantity(str(value), quantity)


def test_whole_numbers():
    four = Quantity(Unit.RATIO, least=1, most=4)
    assert read_whole("3", four) == 3
    for text in ("0", "5", "2.5", "two", "1e999"):
        with pytest.raises(Misread, match="a whole number from 1 to 4"):
            read_whole(text, four)


@pytest.mark.parametrize(
    ("text", "value"),
    [("12", 12), ("-3", -3), ("1.5", 1.5), ("1e2", 100.0), ("12 mm", None), (".nan", None)],
)
def test_plain_numbers(text, value):
    assert plain_number(text) == value
    assert type(plain_number(text)) is type(value)

"""What holds round a bolt: bad numbers are refused, more material holds more."""

import pytest

from fitout.mechanics import fasteners as f


@pytest.mark.parametrize(
    ("ask", "good"),
    [
        (f.withdrawal_n, (0.6, 4.0, 20.0)),
        (f.screw_embedment_mpa, (630.0, 4.0)),
        (f.bolt_embedment_mpa, (630.0, 8.0)),
        (f.yield_moment_nmm, (600.0, 4.0)),
        (f.washer_n, (2.5, 24.0, 8.0)),
    ],
)
def test_every_number_must_be_positive(ask, good) -> None:
    assert ask(*good) > 0.0
    for index in range(len(good)):
        bad = [*good[:index], -good[index], *good[index + 1 :]]
        with pytest.raises(ValueError, match="must be above 0"):
            ask(*bad)


def test_a_density_is_no_specific_gravity() -> None:
    with pytest.raises(ValueError, match="is it a density"):
        f.withdrawal_n(680.0, 4.0, 20.0)


def test_a_washer_no_wider_than_its_hole() -> None:
    with pytest.raises(ValueError, match="must be wider than the hole, 9"):
        f.washer_n(2.5, 9.0, 8.0)


def test_ranges() -> None:
    with pytest.raises(ValueError, match="up to 8 mm"):
        f.screw_embedment_mpa(630.0, 9.0)
    with pytest.raises(ValueError, match="up to 30 mm"):
        f.bolt_embedment_mpa(630.0, 31.0)


def test_a_load_that_comes_again_and_again_counts_more() -> None:
    once = f.washer_through_sheet_n(0.8, 24.0, 270.0, "ultimate")
    assert once == pytest.approx(24.0 * 0.8 * 270.0)
    assert f.washer_through_sheet_n(0.8, 24.0, 270.0, "working") == pytest.approx(once / 2.5)


def test_thin_sheet_tears_sooner() -> None:
    thin = f.bolt_in_sheet_n(0.8, 8.0, 270.0, "ultimate")
    assert thin == pytest.approx(2.5 * (0.8 * 0.8 + 1.5) / 2.5 * 270.0 * 8.0 * 0.8)
    assert f.bolt_in_sheet_n(0.8, 8.0, 270.0, "working") == pytest.approx(thin / 1.25)
    assert f.bolt_in_sheet_n(1.6, 8.0, 270.0, "ultimate") > 2.0 * thin


def test_a_screw_sideways_gives_way_where_it_is_weakest() -> None:
    """A thick piece on both sides bends the screw twice; a thin one is torn."""
    moment = f.yield_moment_nmm(600.0, 4.0)
    thick = f.lateral_screw_n((40.0, 40.0), (100.0, 100.0), 4.0, moment)
    assert thick == pytest.approx(1.15 * (2.0 * moment * 40.0 * 4.0) ** 0.5)
    thin = f.lateral_screw_n((40.0, 40.0), (1.0, 100.0), 4.0, moment)
    assert thin == pytest.approx(40.0 * 1.0 * 4.0)
    turned = f.lateral_screw_n((40.0, 20.0), (100.0, 12.0), 4.0, moment)
    assert turned == pytest.approx(
        f.lateral_screw_n((20.0, 40.0), (12.0, 100.0), 4.0, moment), rel=1e-9
    )

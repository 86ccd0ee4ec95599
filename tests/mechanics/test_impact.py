"""Blocks that fly: refusals, and how far a barrier gives."""

import pytest

from fitout.mechanics import impact


def test_bad_numbers() -> None:
    for ask in (
        lambda: impact.force_n(-1.0, 1.0),
        lambda: impact.energy_j(1.0, -1.0),
        lambda: impact.stopping_distance(48.0, 0.0),
        lambda: impact.gives_way(1.0, 1.0, 0.0, 1.0),
    ):
        with pytest.raises(ValueError, match=r"below 0|above 0|must"):
            ask()


def test_a_barrier_that_holds_gives_elastically() -> None:
    assert impact.gives_way(1000.0, 0.01, 2000.0, 453.0) == pytest.approx(10.0)
    assert impact.gives_way(0.0, 0.01, 2000.0, 453.0) == 0.0


def test_a_barrier_that_yields_lets_the_load_go_on() -> None:
    """Work: 1000 N x (453 + ahead) = 2000 N x 453, so the load ends 453 mm further ahead."""
    assert impact.gives_way(2000.0, 0.0, 1000.0, 453.0) == pytest.approx(453.0)
    assert impact.gives_way(2000.0, 0.01, 1000.0, 453.0) == pytest.approx(463.0)


def test_the_blocks() -> None:
    assert [b.mass_kg for b in impact.BLOCKS] == [18.0, 10.0]
    assert all("from memory" in b.source for b in impact.BLOCKS)

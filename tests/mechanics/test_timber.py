"""Shares of strength and final sags, and what has none."""

import pytest

from fitout.mechanics.timber import final_factor, joint_share, strength_share


def test_a_knee_on_ply_may_use_half_of_its_strength() -> None:
    assert strength_share("plywood", "short") == pytest.approx(0.5)


def test_the_longer_a_load_lies_the_less_it_may_use() -> None:
    for kind in ("plywood", "mdf"):
        shares = [strength_share(kind, d) for d in
                  ("permanent", "long", "medium", "short", "instant")]  # fmt: skip
        assert shares == sorted(shares)
        assert len(set(shares)) == 5
    assert strength_share("metal", "permanent") == strength_share("metal", "instant")


def test_a_joint_may_use_less_than_the_board() -> None:
    assert joint_share("short") == pytest.approx(strength_share("plywood", "short") * 1.2 / 1.3)


def test_what_lies_there_half_the_time_creeps_half() -> None:
    assert final_factor("plywood", 0.5) - 1.0 == pytest.approx((final_factor("plywood") - 1.0) / 2)
    assert final_factor("plywood", 0.0) == 1.0
    assert final_factor("metal") == 1.0


@pytest.mark.parametrize("lasting", [-0.1, 1.1])
def test_a_share_is_from_0_to_1(lasting: float) -> None:
    with pytest.raises(ValueError, match="lasting"):
        final_factor("plywood", lasting)


def test_what_has_no_values_is_refused() -> None:
    with pytest.raises(KeyError):
        strength_share("straw", "long")
    with pytest.raises(KeyError):
        final_factor("mdf", 1.0, 3)

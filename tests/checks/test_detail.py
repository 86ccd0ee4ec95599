"""What a detail tells a summary: the share of what is allowed."""

import pytest

from fitout.checks.detail import Detail
from fitout.checks.verdict import at_most, remark
from fitout.model.finding import Severity


@pytest.mark.parametrize(("value", "limit", "share"), [(3.0, 4.0, 0.75), (6.0, 4.0, 1.5)])
def test_the_share_of_what_is_allowed(value: float, limit: float, share: float) -> None:
    found = at_most("panel sag", "a/shelf", value, limit, "mm", "It sags.", "a book")
    assert Detail(found, "sag of shelf").share == pytest.approx(share)


def test_what_was_not_compared_has_no_share() -> None:
    found = remark("panel bending", "a/shelf", Severity.UNCHECKED, "Not known.")
    assert Detail(found, "bending of shelf").share is None

"""What is said to stand in a block is what the clearance engine finds in it."""

from pathlib import Path

import numpy as np
import pytest
from dossiers import evaluated
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.checks import Subject
from fitout.checks.tool_room import SLACK, Room
from fitout.clearance.body import body_of_pieces
from fitout.clearance.contact import contacts
from fitout.model.item import block
from fitout.model.placement import Placement

DESIGNS = Path(__file__).parents[2] / "designs"
CORNER = st.tuples(st.floats(0.0, 900.0), st.floats(-600.0, 600.0), st.floats(0.0, 500.0))
SIZE = st.tuples(st.floats(5.0, 300.0), st.floats(5.0, 300.0), st.floats(5.0, 300.0))


@pytest.fixture(scope="module")
def subject() -> Subject:
    return evaluated("small-hatch").subject


@given(low=CORNER, size=SIZE)
@settings(max_examples=25, deadline=None)
def test_blocks_hold_what_clashes_with_them(
    subject: Subject, low: tuple[float, float, float], size: tuple[float, float, float]
) -> None:
    """Deeper than the slack it is in; with no common volume it is not; `surely` misses some."""
    room = Room(subject)
    high = tuple(np.add(low, size).tolist())
    found = room.within((low, high))
    assert room.surely((low, high)) <= found
    bodies = [body_of_pieces("asked", [block(*size, low)], Placement())]
    bodies += [subject.bodies[i] for i in room.ids]
    pairs = np.array([(0, j) for j in range(1, len(bodies))])
    for (_, j), contact in contacts(bodies, 0.0, None, pairs).items():
        if contact.depth > 2.0 * SLACK:
            assert bodies[j].id in found
        elif not contact.clashes:
            assert bodies[j].id not in found

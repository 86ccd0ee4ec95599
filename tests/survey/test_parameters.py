"""The bay as a vector: names, order, round trip, and what each number moves."""

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.design import BaySpec, KeepClearSpec
from fitout.survey.bay import build_bay
from fitout.survey.parameters import parameters, with_value, with_values


def test_names_are_the_paths_a_builder_writes(tour_bay: BaySpec) -> None:
    names = [p.name for p in parameters(tour_bay)]
    assert names == [
        "sections[0].at",
        "sections[0].widths[0].left",
        "sections[0].widths[0].right",
        "sections[0].widths[240].left",
        "sections[0].widths[240].right",
        "sections[0].widths[620].left",
        "sections[0].widths[620].right",
        "sections[0].roof",
        "sections[1].at",
        "sections[1].widths[0]",
        "sections[1].widths[300]",
        "sections[1].widths[620]",
        "sections[1].roof",
        "sections[2].at",
        "sections[2].widths[0]",
        "sections[2].widths[620].left",
        "sections[2].widths[620].right",
        "sections[2].roof",
        "wheel_arches.between.left",
        "wheel_arches.between.right",
        "wheel_arches.from",
        "wheel_arches.to",
        "wheel_arches.height",
        "seat_back.foot",
        "seat_back.leans",
        "seat_back.top",
        "tailgate.inner_face[0]",
        "tailgate.inner_face[450]",
        "tailgate.inner_face[800]",
        "opening.lip",
        "opening.height",
        "opening.widths[0]",
        "opening.widths[400].left",
        "opening.widths[400].right",
        "opening.widths[772]",
    ]


def test_values_and_tolerances_are_those_entered(tour_bay: BaySpec) -> None:
    by_name = {p.name: p for p in parameters(tour_bay)}
    assert by_name["seat_back.foot"].value == 1164.0
    assert by_name["seat_back.foot"].tolerance == 3.0
    assert by_name["wheel_arches.between.left"].tolerance == 2.0
    assert by_name["wheel_arches.from"].tolerance is None


def test_putting_the_values_back_changes_nothing(tour_bay: BaySpec) -> None:
    assert with_values(tour_bay, [p.value for p in parameters(tour_bay)]) == tour_bay


def test_new_values_arrive_in_order_and_keep_their_tolerance(tour_bay: BaySpec) -> None:
    before = parameters(tour_bay)
    after = parameters(with_values(tour_bay, [p.value + i for i, p in enumerate(before)]))
    assert [p.value - q.value for p, q in zip(after, before, strict=True)] == list(
        range(len(before))
    )
    assert [(p.path, p.tolerance) for p in after] == [(p.path, p.tolerance) for p in before]


def test_one_value_replaced_is_as_all_with_one_changed(tour_bay: BaySpec) -> None:
    numbers = parameters(tour_bay)
    for k, number in enumerate(numbers):
        values = [n.value + (3.0 if i == k else 0.0) for i, n in enumerate(numbers)]
        assert with_value(tour_bay, number, number.value + 3.0) == with_values(tour_bay, values)


def test_the_number_of_values_must_be_right(tour_bay: BaySpec) -> None:
    values = [p.value for p in parameters(tour_bay)]
    with pytest.raises(ValueError, match="fewer"):
        with_values(tour_bay, values[:-1])
    with pytest.raises(ValueError, match="more"):
        with_values(tour_bay, [*values, 1.0])


def test_one_bay_for_one_vector(tour_bay: BaySpec) -> None:
    first, second = build_bay(tour_bay), build_bay(with_values(tour_bay, values_of(tour_bay)))
    assert moved(first, second) == set()
    assert first.opening == second.opening


def values_of(bay: BaySpec) -> list[float]:
    return [p.value for p in parameters(bay)]


def moved(first: Any, second: Any) -> set[str]:
    """Names of the obstacles that differ."""
    pairs = zip(first.obstacles, second.obstacles, strict=True)
    return {
        a.name
        for a, b in pairs
        if a.vertices.shape != b.vertices.shape or not np.array_equal(a.vertices, b.vertices)
    }


SEATS = {"seat back at 14°", "seat back at 17°", "seat back at 21°"}
LEAF = {"open tailgate"}
JAMBS = {"left jamb of the opening", "right jamb of the opening"}


@pytest.mark.parametrize(
    ("name", "surfaces"),
    [
        ("sections[0].widths[240].left", {"left wall"}),
        ("sections[2].widths[620].right", {"right wall"}),
        ("sections[1].widths[620]", {"left wall", "right wall"}),
        ("sections[1].roof", {"roof"}),
        ("wheel_arches.between.left", {"left wheel arch"}),
        ("wheel_arches.height", {"left wheel arch", "right wheel arch"}),
        ("wheel_arches.to", {"left wheel arch", "right wheel arch"}),
        ("seat_back.top", SEATS),
        ("tailgate.inner_face[450]", {"tailgate", *LEAF, *JAMBS, "upper edge of the opening"}),
        ("opening.lip", {"sill", *LEAF, *JAMBS}),
        ("opening.widths[400].right", {"right jamb of the opening", *LEAF}),
        ("opening.height", {*JAMBS, *LEAF, "upper edge of the opening"}),
    ],
)
def test_a_number_moves_only_what_it_measures(
    tour_bay: BaySpec, name: str, surfaces: set[str]
) -> None:
    values = values_of(tour_bay)
    values[[p.name for p in parameters(tour_bay)].index(name)] -= 4.0
    assert moved(build_bay(tour_bay), build_bay(with_values(tour_bay, values))) == surfaces


def test_the_seats_foot_moves_the_seat_and_how_far_the_rest_goes_on(tour_bay: BaySpec) -> None:
    """Walls, roof and floor are carried on 400 ahead of the foot, so that they follow it."""
    values = values_of(tour_bay)
    values[[p.name for p in parameters(tour_bay)].index("seat_back.foot")] += 2.0
    changed = moved(build_bay(tour_bay), build_bay(with_values(tour_bay, values)))
    assert changed == {*SEATS, "left wall", "right wall", "roof", "floor"}


def test_what_is_no_measurement_is_no_parameter(
    plain_bay: Callable[..., BaySpec],
) -> None:
    jack = KeepClearSpec(name="jack", side="left", start=0.0, end=10.0, reach=50.0, up_to=90.0)
    bare = plain_bay()
    assert parameters(dataclasses.replace(bare, keep_clear=(jack,))) == parameters(bare)
    assert [p.name for p in parameters(bare)] == [
        "sections[0].at",
        "sections[0].widths[0]",
        "sections[0].roof",
        "front_wall",
    ]

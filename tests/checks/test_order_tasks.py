"""The tasks of a step: each thing that is done, once, to the right parts."""

from fitout.checks.order_tasks import bench_tasks, top_task
from fitout.model.assembly import Task
from fitout.model.module import Fixing, Joint, JointKind


def test_what_is_bought_goes_on_its_panel_before_the_panel_is_joined():
    joints = [
        Joint("d/slide", "d/side", JointKind.SCREWED),
        Joint("d/side", "d/base", JointKind.SCREWED),
    ]
    tasks = bench_tasks(
        ["d/base", "d/side", "d/slide"], ["d/base"], joints, {"d/slide": "d/side"}, {}
    )
    assert tasks == (
        Task("begin", ("d/base",)),
        Task("first", ("d/slide",), ("d/side",)),
        Task("screwed", ("d/side",), ("d/base",)),
    )


def test_a_part_joined_in_two_ways_has_two_tasks():
    joints = [
        Joint("d/back", "d/left", JointKind.SCREWED),
        Joint("d/back", "d/base", JointKind.FITTED),
        Joint("d/foam", "d/base", JointKind.FITTED, "glued"),
    ]
    assert bench_tasks(["d/back"], [], joints[:2], {}, {}) == (
        Task("fitted", ("d/back",), ("d/base",)),
        Task("screwed", ("d/back",), ("d/left",)),
    )
    glued = bench_tasks(["d/foam"], [], joints[2:], {}, {})
    assert glued == (Task("glue", ("d/foam",), ("d/base",)),)


def test_parts_that_go_to_different_others_have_tasks_of_their_own():
    """A side on the base and a toe board on the other side: neither goes to what the other does."""
    joints = [
        Joint("d/base", "d/right", JointKind.SCREWED),
        Joint("d/left", "d/toe", JointKind.SCREWED),
        Joint("d/toe", "d/base", JointKind.FITTED),
    ]
    assert bench_tasks(["d/right", "d/toe"], [], joints, {}, {}) == (
        Task("fitted", ("d/toe",), ("d/base",)),
        Task("screwed", ("d/base",), ("d/right",)),
        Task("screwed", ("d/left",), ("d/toe",)),
    )


def test_the_other_half_of_a_slide_goes_on_the_part_that_moves():
    tasks = bench_tasks(["d/box"], ["d/box"], [], {}, {"d/slide": "d/box"})
    assert tasks == (Task("begin", ("d/box",)), Task("halves", ("d/slide",), ("d/box",)))


def test_the_tops_of_posts_are_told_by_name_and_place():
    top = Fixing(
        module="barrier",
        point=(905.0, 655.0, 880.0),
        article="bolt M8 x 40",
        anchor="left pillar bolt",
    )
    assert top_task([top]).points == (("left pillar bolt", (905.0, 655.0, 880.0)),)

"""Answers are worked out once, and the oldest are dropped."""

from fitout.checks import Memory


def test_an_answer_is_worked_out_once() -> None:
    memory, asked = Memory(), []

    def work_out() -> int:
        asked.append("now")
        return 42

    assert [memory.recall("question", work_out) for _ in range(3)] == [42, 42, 42]
    assert asked == ["now"]
    assert memory.recall("another", lambda: 7) == 7


def test_the_oldest_answers_are_dropped() -> None:
    memory = Memory(limit=2)
    for number in range(4):
        assert memory.recall(number, lambda n=number: n * 10) == number * 10
    assert memory.recall(3, lambda: -1) == 30
    assert memory.recall(0, lambda: -1) == -1

"""The steps of assembly and installation as a table and as JSON."""

from __future__ import annotations

from collections.abc import Iterable

from fitout.documents.tables import table
from fitout.model.assembly import Step

ASSEMBLY_HEADINGS = (
    "step", "phase", "what", "parts", "joins", "fasteners", "tool", "people", "how", "after step",
)  # fmt: skip


def assembly_csv(steps: Iterable[Step]) -> bytes:
    """One row a step, in the order in which they are done."""
    return table(
        ASSEMBLY_HEADINGS,
        [
            [
                step.number,
                step.phase,
                step.what,
                "; ".join(step.parts),
                "; ".join(f"{a} – {b}" for a, b in step.joins),
                "; ".join(f"{count} x {article}" for article, count in step.fasteners),
                step.tool,
                step.people,
                step.how,
                "; ".join(str(number) for number in step.after),
            ]
            for step in steps
        ],
    )


def order_rows(steps: Iterable[Step]) -> list[dict[str, object]]:
    """The steps as `check --json` tells them; moves are the last shifts into place, mm."""
    return [
        {
            "step": step.number,
            "phase": step.phase,
            "what": step.what,
            "parts": list(step.parts),
            "joins": [list(pair) for pair in step.joins],
            "fasteners": [{"article": a, "quantity": n} for a, n in step.fasteners],
            "tool": step.tool,
            "people": step.people,
            "how": step.how,
            "moves": [[round(value, 3) for value in shift] for shift in step.shifts],
            "after": list(step.after),
        }
        for step in steps
    ]

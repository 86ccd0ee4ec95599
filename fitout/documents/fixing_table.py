"""The fixing schedule as a table and as JSON: each bolt, its washer, the floor, what it bears."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.checks.restraint_grip import Grip
from fitout.checks.restraint_held import Used
from fitout.checks.restraint_rows import FixingRow
from fitout.documents.tables import Cell, table

FIXING_HEADINGS = (
    "module", "point", "forward (mm)", "left (mm)", "up (mm)", "bolt", "class",
    "washer or plate on the ply (mm)", "into", "below", "on the road (%)", "governs on the road",
    "pull (N)", "sideways (N)", "in our crash case (%)", "governs in it", "pull in it (N)",
    "sideways in it (N)",
)  # fmt: skip


def fixings_csv(rows: Sequence[FixingRow]) -> bytes:
    """One row for each bolt that holds a module down."""
    return table(FIXING_HEADINGS, [_row(row) for row in rows])


def fixings_object(rows: Sequence[FixingRow]) -> list[dict[str, object]]:
    """The same as JSON, forces in N, shares in %."""
    return [
        {
            "module": row.module,
            "point": row.point,
            "at": [round(value, 1) for value in row.at],
            "bolt": row.grip.thread,
            "class": row.grip.grade,
            "washer": row.grip.washer if row.grip.board else None,
            "below": below(row.grip),
            "road": _used(row.road),
            "crash": _used(row.crash),
        }
        for row in rows
    ]


def below(grip: Grip) -> str:
    """What holds a bolt on the vehicle's side, in words."""
    if grip.rating_n is not None:
        return f"rated {grip.rating_n:.0f} N"
    if grip.into is None:
        return "insert nut" if grip.insert_n is not None else "nut"
    if grip.into != "nut":
        tested = "not tested" if grip.tested_n is None else f"tested {grip.tested_n:.0f} N"
        return f"{grip.into}, {tested}"
    sheet = "sheet not known" if grip.sheet is None else f"{grip.sheet:g} mm sheet"
    return f"{sheet}, {grip.plate:g} mm plate" if grip.plate else f"{sheet}, washer"


def _used(used: Used | None) -> dict[str, object] | None:
    if used is None:
        return None
    return {
        "percent": round(100.0 * used.share, 1),
        "governs": used.part,
        "case": used.case.words,
        "tension_n": round(used.tension_n, 1),
        "shear_n": round(used.shear_n, 1),
    }


def _row(row: FixingRow) -> list[Cell]:
    grip = row.grip
    return [
        row.module,
        row.point,
        *(f"{value:.0f}" for value in row.at),
        grip.thread,
        grip.grade,
        f"{grip.washer:g}" if grip.board else "",
        grip.into or "",
        below(grip),
        *_cells(row.road),
        *_cells(row.crash),
    ]


def _cells(used: Used | None) -> list[Cell]:
    if used is None:
        return ["", "", "", ""]
    percent, governs = f"{100.0 * used.share:.1f}", used.part
    return [percent, governs, f"{used.tension_n:.0f}", f"{used.shear_n:.0f}"]

"""What can't be true of documents: labels beyond the paper's edge, or too small to be read."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.design_file.parts import Parts
from fitout.model.documents import DocumentSpec, LabelSheet, LabelSheetSpec, label_sheet
from fitout.model.fault import Fault, Path

LABELS: Path = ("documents", "labels")

LEAST_LABEL = (35.0, 16.0)
"""Width and height below which a code that can be read and a part's number don't fit, mm."""

SLACK = 0.05
"""What sizes rounded to tenths may add up to beyond the paper, mm."""


def labels(parts: Parts) -> Iterator[Fault]:
    """A sheet's labels lie on the paper, and each has room for its code and number."""
    spec = parts.record(DocumentSpec, "documents")
    entered = parts.record(LabelSheetSpec, *LABELS)
    if spec is None or entered is None:
        return
    sheet = label_sheet(entered, spec.paper)
    yield from _beyond(spec, entered, sheet)
    for name, value, least in zip(
        ("width", "height"), (sheet.width, sheet.height), LEAST_LABEL, strict=True
    ):
        if value < least:
            found = f"a label of {sheet.width:g} x {sheet.height:g} mm"
            wanted = f"at least {LEAST_LABEL[0]:g} x {LEAST_LABEL[1]:g} mm"
            hint = "A smaller one has no room for a code that can be read."
            yield Fault(path=(*LABELS, name), found=found, expected=wanted, hint=hint)
    if sheet.first > sheet.count:
        wanted = f"at most {sheet.count}, as many as there are on a sheet"
        yield Fault(path=(*LABELS, "first"), found=f"{sheet.first}", expected=wanted)


def _beyond(spec: DocumentSpec, entered: LabelSheetSpec, sheet: LabelSheet) -> Iterator[Fault]:
    """Labels that stand out over the paper's right or lower edge, or over both sides."""
    directions = (
        (sheet.left, sheet.right_margin, ("width", "across", "left", "gap_across"), "wide"),
        (sheet.top, sheet.lower_margin, ("height", "down", "top", "gap_down"), "high"),
    )
    for (before, after, names, way), size in zip(directions, sheet.paper, strict=True):
        if after >= -SLACK:
            continue
        # Of what was written, the entry most likely at fault; centred labels have no margin.
        written = [name for name in names if getattr(entered, name) is not None]
        needed = size - after - min(before, 0.0)
        yield Fault(
            path=(*LABELS, *written[:1]),
            found=f"labels that take {needed:.1f} mm with the margin before the first",
            expected=f"at most {size:g} mm: {spec.paper} is so {way}",
            hint="Or is `paper` another one?",
        )


RULES = (labels,)

"""What is bought for the bolts to the vehicle: as wide, as strong and as many as was reckoned with.

Modules buy each bolt with the usual large washer. What a design enters under `restraint`, or at a
point, takes its place here: wider washers, plates let in under countersunk heads, plates and nuts
beneath the floor, the bolts' class. So the list of hardware says what the fixing schedule says.
"""

from __future__ import annotations

import dataclasses
import math
from collections import Counter
from collections.abc import Iterator

from fitout.checks.restraint_grip import HEAD_WIDTH, LARGE_WASHERS, Grip
from fitout.checks.restraint_held import grip_of
from fitout.checks.subject import Subject
from fitout.mechanics import bolts
from fitout.model.bay import AnchorPoint
from fitout.model.hardware import Article, HardwareLine
from fitout.model.module import Fixing, Module

FLOOR, TOPS, BELOW = "floor fixing", "post tops to the vehicle", "down to"
"""The purposes for which modules buy what is replaced; the last is how it begins."""

STEEL_KG_MM3 = 7.85e-6
WASHER_THICK, LET_IN_THICK = 3.0, 3.0
"""Thickness of a wide washer and of a plate let into the ply, mm (common practice)."""

USUAL_GRADE = "8.8"
"""The class of the catalogue's bolts."""


def with_floor_hardware(subject: Subject) -> Subject:
    """The subject with what its bolts to the vehicle need in its modules' hardware.

    Articles that no catalogue row tells are added to its setting's catalogue, without a price.
    """
    anchors = {a.name: a for a in (*subject.fitout.bay.anchors, *subject.fitout.bay.upper_anchors)}
    rows = dict(subject.setting.catalogue.articles)
    modules = tuple(_with_own(subject, m, anchors, rows) for m in subject.fitout.modules)
    catalogue = dataclasses.replace(subject.setting.catalogue, articles=rows)
    return dataclasses.replace(
        subject,
        fitout=dataclasses.replace(subject.fitout, modules=modules),
        modules={m.name: m for m in modules},
        setting=dataclasses.replace(subject.setting, catalogue=catalogue),
    )


def _with_own(
    subject: Subject, module: Module, anchors: dict[str, AnchorPoint], rows: dict[str, Article]
) -> Module:
    found: Counter[tuple[str, str]] = Counter()
    for purpose, fixings in ((FLOOR, module.fixings), (TOPS, module.tops)):
        for fixing in fixings:
            if fixing.anchor not in anchors:
                continue
            grip = grip_of(subject, module, fixing, anchors[fixing.anchor])
            for article in articles_of(fixing, grip, rows):
                rows.setdefault(article.key, article)
                found[article.key, purpose] += 1
    module = _graded_below(subject, module, rows)
    if not found:
        return module
    bolted = {f.article for f in (*module.fixings, *module.tops)}
    kept = [line for line in module.hardware if not _replaced(line, bolted, rows)]
    # What is bought for the floor stays where it was in the list.
    at = next(
        (i for i, line in enumerate(module.hardware) if _replaced(line, bolted, rows)), len(kept)
    )
    own = [
        HardwareLine(article=article, quantity=count, module=module.name, purpose=purpose)
        for (article, purpose), count in found.items()
    ]
    return dataclasses.replace(module, hardware=(*kept[:at], *own, *kept[at:]))


def _graded_below(subject: Subject, module: Module, rows: dict[str, Article]) -> Module:
    """With the bolts to the module below of the class entered for all bolts."""
    grade = subject.restraint.bolt.grade or USUAL_GRADE
    hardware = []
    for line in module.hardware:
        row = rows.get(line.article)
        if line.purpose.startswith(BELOW) and row is not None and row.kind.endswith("bolt"):
            own = _bolt(row, grade)
            rows.setdefault(own.key, own)
            hardware.append(dataclasses.replace(line, article=own.key))
        else:
            hardware.append(line)
    return dataclasses.replace(module, hardware=tuple(hardware))


def _replaced(line: HardwareLine, bolted: set[str], rows: dict[str, Article]) -> bool:
    washer = line.article in rows and rows[line.article].kind == "washer"
    return line.purpose in (FLOOR, TOPS) and (washer or line.article in bolted)


def articles_of(fixing: Fixing, grip: Grip, rows: dict[str, Article]) -> Iterator[Article]:
    """A bolt, what lies under its head, and what holds it beneath; one of each.

    What the vehicle brings, a rated point or a captive nut, is not bought.
    """
    d = bolts.diameter(grip.thread)
    yield _bolt(rows[fixing.article], grip.grade)
    usual = LARGE_WASHERS.get(round(d), 3.0 * d)
    if not grip.countersunk:
        yield _washer(rows, d, grip.washer if grip.board else usual)
    elif grip.washer > HEAD_WIDTH * d:
        yield _plate("let-in plate", d, grip.washer, LET_IN_THICK)
    if grip.rating_n is not None or grip.into in (None, "captive nut"):
        return
    if grip.into == "rivet nut":
        yield _nut(rows, "rivet nut", d)
        return
    if grip.plate:
        yield _plate("floor plate", d, grip.plate, grip.plate_thickness)
    else:
        yield _washer(rows, d, max(grip.washer, usual))
    yield _nut(rows, "lock nut", d)


def _bolt(article: Article, grade: str) -> Article:
    if grade == USUAL_GRADE:
        return article
    # Its rating follows from the class (`Grip.limits`); the row's is that of the usual one.
    return dataclasses.replace(article, key=f"{article.key} {grade}", rating_n=None, price=None)


def _washer(rows: dict[str, Article], d: float, wide: float) -> Article:
    """The catalogue's washer of that hole and width, or one told by its size."""
    for row in rows.values():
        if (row.kind, row.diameter, row.width) == ("washer", d, wide):
            return row
    mass = math.pi / 4.0 * (wide**2 - (d + 1.0) ** 2) * WASHER_THICK * STEEL_KG_MM3
    return Article(
        key=f"washer {wide:g} M{d:g}",
        kind="washer",
        mass_kg=mass,
        diameter=d,
        width=wide,
        source=f"As entered; mass from the size, {WASHER_THICK:g} mm thick (common practice).",
    )


def _plate(name: str, d: float, side: float, thick: float) -> Article:
    mass = (side**2 - math.pi / 4.0 * (d + 1.0) ** 2) * thick * STEEL_KG_MM3
    return Article(
        key=f"{name} {side:g} x {side:g} x {thick:g} M{d:g}",
        kind="plate",
        mass_kg=mass,
        diameter=d,
        width=side,
        length=side,
        source="As entered, of steel; mass from the size.",
    )


def _nut(rows: dict[str, Article], name: str, d: float) -> Article:
    key = f"{name} M{d:g}"
    usual = rows["lock nut M8"]
    return rows.get(key) or dataclasses.replace(
        usual,
        key=key,
        kind=name if name == "rivet nut" else "nut",
        mass_kg=usual.mass_kg * (d / 8.0) ** 3,
        diameter=d,
        width=None,
        price=None,
        source="As entered; mass from that of an M8 nut by the cube of its size.",
    )

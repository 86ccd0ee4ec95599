"""What stands in the bay, as the arrangement's drawings look at it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from fitout.documents.dossier import Dossier
from fitout.documents.views.forms import Form, extent, part_form
from fitout.model.bay import Bay

PLANES = 161
"""So many places are tried for a section."""

LENGTHWISE = 40.0
"""A part thinner than this, mm, is not to be cut along its faces."""

Span = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Scene:
    """The forms of all parts in the bay, and questions about them; without slots, for caching."""

    dossier: Dossier

    @property
    def bay(self) -> Bay:
        """The bay."""
        return self.dossier.fitout.bay

    @cached_property
    def forms(self) -> tuple[Form, ...]:
        """Every part in the bay, where it stands with everything shut."""
        subject = self.dossier.subject
        return tuple(part_form(part) for id_, part in subject.parts.items() if subject.in_bay(id_))

    @cached_property
    def by_module(self) -> Mapping[str, tuple[Form, ...]]:
        """The forms of each module in the bay, in the fit-out's order."""
        parts = self.dossier.subject.parts
        found: dict[str, list[Form]] = {}
        for form in self.forms:
            found.setdefault(parts[form.id].module, []).append(form)
        return {name: tuple(forms) for name, forms in found.items()}

    @property
    def outside(self) -> tuple[str, ...]:
        """The modules that stand in voids of their own."""
        return tuple(m.name for m in self.dossier.fitout.modules if m.name not in self.by_module)

    def spans(self, axis: int, names: Iterable[str] | None = None) -> dict[str, Span]:
        """From where to where modules reach along x, y or z, mm."""
        chosen = self.by_module if names is None else names
        found = {}
        for name in chosen:
            low, high = extent(self.by_module[name])
            found[name] = (float(low[axis]), float(high[axis]))
        return found

    @cached_property
    def _arches(self) -> tuple[Span, ...]:
        """From where to where the wheel arches reach forward."""
        return tuple((profile[0][0], profile[-1][0]) for profile, _ in self.bay.arches.values())

    @cached_property
    def level(self) -> float:
        """The height of the tops that most of the floor is covered by, mm."""
        covered: dict[float, float] = {}
        for forms in self.by_module.values():
            low, high = extent(forms)
            top = round(float(high[2]), 1)
            covered[top] = covered.get(top, 0.0) + float((high - low)[0] * (high - low)[1])
        return max(covered, key=lambda top: (covered[top], top))

    def plane(self, axis: int, wanted: Sequence[str] = ()) -> float:
        """Where a section across an axis tells most, mm along it.

        It cuts as many modules as can be, first those of the kinds `wanted`, no part along its
        faces, and lies as near the middle as that lets it.
        """
        kinds = {m.name: m.kind for m in self.dossier.fitout.modules}
        low, high = (float(end[axis]) for end in extent(self.forms))
        ends = [(form.vertices[:, axis].min(), form.vertices[:, axis].max()) for form in self.forms]
        spans = self.spans(axis)

        def worth(at: float) -> tuple[float, ...]:
            cut = [name for name, (a, b) in spans.items() if a + 5.0 < at < b - 5.0]
            flat = sum(1 for a, b in ends if b - a < LENGTHWISE and a - 4.0 < at < b + 4.0)
            parts = sum(1 for a, b in ends if a < at < b)
            first = sum(1 for name in cut if kinds[name] in wanted)
            arched = axis == 0 and any(a < at < b for a, b in self._arches)
            away = abs(at - (low + high) / 2.0)
            return (first, len(cut) + 0.5 * arched - 0.4 * flat, parts, -away)

        return float(max(np.linspace(low, high, PLANES).tolist(), key=worth))

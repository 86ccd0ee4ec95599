"""All modules of a design, built in their berths and joined to what they stand on."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping

from fitout.model.module import Fitout, Joint, JointKind, Module
from fitout.modules.builds import Builds
from fitout.modules.kind import Setting
from fitout.modules.neighbours import TOUCH, box_of


def assemble(name: str, setting: Setting, builds: Builds | None = None) -> Fitout:
    """Build every module of `setting.specs` in `setting.berths`.

    With the `builds` of an earlier call only what has changed is built again.

    Those with a berth come first, in the design's order, so that the others (the deck) can
    see what is there.

    Raises:
        DesignError: when a module's entries can't be built, with the entry's path.
    """
    kept = Builds() if builds is None else builds
    built: dict[str, Module] = {}
    order = sorted(setting.specs, key=lambda n: n not in setting.berths)
    for module in order:
        spec = setting.specs[module]
        now = dataclasses.replace(setting, built=dict(built))
        built[module] = kept.build(module, spec, setting.berths.get(module), now)
    modules = tuple(built[n] for n in setting.specs)
    return Fitout(
        name=name, bay=setting.bay, modules=modules, joints=tuple(_stands(setting, built))
    )


def _stands(setting: Setting, built: Mapping[str, Module]) -> Iterator[Joint]:
    """Panels of a module that lie on panels of the module it stands on."""
    for name, spec in setting.specs.items():
        for below in _named(spec.on, built):
            berth = built[name].berth
            if berth is None:
                continue
            feet = [p for p in built[name].panels if abs(box_of(p).z0 - berth.z0) < TOUCH]
            tops = [p for p in built[below].panels if abs(box_of(p).z1 - berth.z0) < TOUCH]
            for foot in feet:
                for top in tops:
                    yield Joint(foot.id, top.id, JointKind.BOLTED, f"{name} on {below}")


def _named(name: str | None, built: Mapping[str, Module]) -> list[str]:
    return [n for n in (name, f"{name} left", f"{name} right") if n is not None and n in built]

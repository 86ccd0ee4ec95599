"""The seat tray: sound in every board, inside its void, faults with the millimetres missing."""

import dataclasses
from collections.abc import Callable, Mapping

import pytest

from fitout.model.bay import Bay
from fitout.model.fault import DesignError
from fitout.model.module import Module
from fitout.modules.foam import ExtraShapeSpec, ToolSpec
from fitout.modules.kind import Setting
from fitout.modules.seat_tray import SeatTraySpec, build, needs, origin_of
from fitout.modules.void import KeepOutSpec, SlopeSpec, VoidSpec

Faults = Callable[[Module, Setting], list[str]]
SettingOf = Callable[..., Setting]

KIT = (
    ToolSpec(name="ring spanner", size=(240, 36), height=14, mass=0.3, quantity=3),
    ToolSpec(name="3/8 handle", size=(420, 20), height=20, mass=0.8),
    ToolSpec(
        name="hammer",
        size=(300, 30),
        height=30,
        mass=0.9,
        also=(ExtraShapeSpec(size=(30, 110), at=(140, 0)),),
    ),
    ToolSpec(name="tin", diameter=70, height=60, mass=0.4, quantity=2),
    ToolSpec(name="shears", points=((0, 0), (160, 0), (200, 40), (0, 40)), height=25, mass=0.5),
)
LEG = KeepOutSpec(name="seat leg", from_left=0, from_front=0, across=50, depth=80)
VOIDS = {
    "plain": VoidSpec(across=960, depth=420, height=120),
    "legs": VoidSpec(
        across=1000,
        depth=430,
        height=125,
        keep_out=(LEG, dataclasses.replace(LEG, from_left=950)),
    ),
    "slopes down": VoidSpec(across=900, depth=460, height=SlopeSpec(front=100, rear=140)),
    "slopes up": VoidSpec(across=900, depth=460, height=SlopeSpec(front=140, rear=100)),
}


def made(spec: SeatTraySpec, setting: Setting) -> Module:
    return build("tools", spec, None, setting)


def panel(module: Module, name: str):
    return next(p for p in module.panels if p.name == name)


@pytest.mark.parametrize("void", VOIDS)
@pytest.mark.parametrize(("thickness", "play"), [(None, 2.0), (9.0, 0.9), (11.7, 2.0), (15.0, 0.5)])
def test_sound_and_within_its_void(
    bays: Mapping[str, Bay],
    setting_of: SettingOf,
    faults_of: Faults,
    void: str,
    thickness: float | None,
    play: float,
) -> None:
    setting = setting_of(bays["wagon"], thickness)
    spec = SeatTraySpec(void=VOIDS[void], tools=KIT, play=play)
    module = made(spec, setting)
    assert module.berth is None
    assert needs(spec, setting) is None
    assert faults_of(module, setting) == []
    origin = origin_of(spec.void, setting.bay)
    for part in module.panels:
        x0, y0, x1, y1 = part.outline.bounds
        for w in (0.0, part.thickness):
            for u, v in ((x0, y0), (x1, y1)):
                x, y, z = (a - b for a, b in zip(part.placement.at(u, v, w), origin, strict=True))
                assert 3.0 - 1e-6 <= x <= spec.void.depth - 3.0 + 1e-6
                assert 3.0 - 1e-6 <= y <= spec.void.across - 3.0 + 1e-6
                assert 5.0 - 1e-6 <= z <= spec.void.height_at(x) - 3.0 + 1e-6
    for item in module.items:
        for corners in item.corners():
            for x, _, z in (corners - origin).tolist():
                assert z <= spec.void.height_at(x) - 3.0 + 1e-6
    (fit,) = module.voids
    assert all(n <= a + 1e-6 for n, a in zip(fit.needed, fit.available, strict=True))


def test_layers_are_cut_for_the_tools_that_lie_so_deep(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    module = made(SeatTraySpec(void=VOIDS["plain"], tools=KIT), setting_of(bays["wagon"]))
    # The tins are 60 mm tall: 36 mm in the foam, two layers of 20; all others lie in one.
    counts = {p.name: len(p.outline.inner) for p in module.panels if p.name.startswith("foam")}
    assert counts == {"foam floor": 0, "foam layer 1": 2, "foam layer 2": 8}
    levels = {i.name: i.placement.origin[2] for i in module.items}
    base_top = 5.0 + 6.4
    assert levels["tin 1"] == pytest.approx(base_top + 20)
    assert levels["hammer"] == pytest.approx(base_top + 40)


def test_mass_is_boards_foam_and_tools(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    module = made(SeatTraySpec(void=VOIDS["plain"], tools=KIT), setting_of(bays["wagon"]))
    assert sum(i.mass_kg for i in module.items) == pytest.approx(3 * 0.3 + 0.8 + 0.9 + 0.8 + 0.5)
    for part in module.panels:
        if part.name.startswith("foam"):
            area = part.outline.outer.area - sum(loop.area for loop in part.outline.inner)
            assert part.mass_kg == pytest.approx(area * 20.0 * 33e-9)
    (duty,) = module.plates
    assert duty.load_kg == pytest.approx(3.9)


def test_the_front_has_a_pull_hole_and_room_for_fingers_behind(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    module = made(SeatTraySpec(void=VOIDS["plain"], tools=KIT), setting_of(bays["wagon"]))
    front, floor = panel(module, "front"), panel(module, "foam floor")
    (hole,) = front.outline.inner
    x0, y0, x1, y1 = hole.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((110.0, 32.0))
    foam_end = floor.placement.origin[0] + floor.outline.size[0]
    assert front.placement.origin[0] - foam_end == pytest.approx(30.0)


def test_a_low_void_lowers_the_sides(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    spanners = (ToolSpec(name="spanner", size=(200, 30), height=10),)
    low = SeatTraySpec(void=VoidSpec(across=600, depth=300, height=64), tools=spanners)
    module = made(low, setting_of(bays["wagon"]))
    # 64 less 3 clearance, 5 glides and 6.4 base.
    assert panel(module, "left side").outline.size[1] == pytest.approx(49.6)


def test_hardware_is_counted(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    module = made(SeatTraySpec(void=VOIDS["plain"], tools=KIT), setting_of(bays["wagon"]))
    counted = {line.article: line.quantity for line in module.hardware}
    drilled = {
        name: sum(1 for h in panel(module, name).holes if h.purpose == "screw")
        for name in ("base", "left side", "right side")
    }
    assert counted["wood screw 4 x 30"] == drilled["base"]
    assert counted["wood screw 4 x 40"] == drilled["left side"] + drilled["right side"]
    assert counted["felt glide"] == 4
    # Three glued faces of about 0.32 m²: one can.
    assert counted["foam glue"] == 1


def test_named_and_measured_foams_are_used(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    setting = setting_of(bays["wagon"])
    measured = dataclasses.replace(setting.boards["foam"], thickness=28.5)
    setting = dataclasses.replace(setting, boards={**setting.boards, "foam": measured})
    spec = SeatTraySpec(void=VOIDS["plain"], tools=KIT[:3], foams=("closed-cell foam 30",))
    thicknesses = [p.thickness for p in made(spec, setting).panels if p.name.startswith("foam")]
    assert thicknesses == [28.5, 28.5]
    with pytest.raises(DesignError) as raised:
        made(dataclasses.replace(spec, foams=("birch ply 4",)), setting)
    (fault,) = raised.value.faults
    assert fault.path == ("modules", "tools", "foams", 0)
    assert fault.found == "birch ply 4, a plywood"


def test_a_tray_larger_than_its_void_is_told_by_its_fit(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    spec = SeatTraySpec(void=VOIDS["plain"], tools=KIT, width=970.0)
    (fit,) = made(spec, setting_of(bays["wagon"])).voids
    assert fit.needed[1] - fit.available[1] == pytest.approx(16.0)
    assert fit.needed[0] == fit.available[0]


def test_a_tool_too_tall_is_told_with_the_millimetres(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    tall = (*KIT, ToolSpec(name="flask", diameter=80, height=95))
    with pytest.raises(DesignError) as raised:
        made(SeatTraySpec(void=VOIDS["plain"], tools=tall), setting_of(bays["wagon"]))
    (fault,) = raised.value.faults
    assert fault.path == ("modules", "tools", "tools", 5)
    # Glides 5, base 6.4, foam floor 20, the flask 95, clearance 3, in 120 mm.
    assert fault.hint == "It is 9.4 mm too high."


def test_a_void_too_small_or_too_low_is_told(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"])
    small = SeatTraySpec(void=VoidSpec(across=600, depth=120, height=40), tools=KIT)
    with pytest.raises(DesignError) as raised:
        made(small, setting)
    assert [f.path for f in raised.value.faults] == [("modules", "tools", "void")] * 2
    # 114 mm less two boards of 12 and the trough of 30 leave 60 of the 80 mm wanted.
    assert raised.value.faults[0].expected.startswith("20 mm more")
    foam = SeatTraySpec(void=VoidSpec(across=960, depth=420, height=60), tools=KIT)
    with pytest.raises(DesignError) as raised:
        made(foam, setting)
    assert "foam up to 71 mm" in raised.value.faults[0].found


def test_alike_names_stay_apart(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    twice = tuple(ToolSpec(name=n, size=(120, 30), height=12) for n in ("front", "bit", "bit"))
    module = made(SeatTraySpec(void=VOIDS["plain"], tools=twice), setting_of(bays["wagon"]))
    assert sorted(i.name for i in module.items) == ["bit", "bit (2)", "front (2)"]

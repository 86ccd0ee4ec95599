"""Parts drawn off their places: along sensible axes, drawers as one."""

import numpy as np
import pytest
from dossiers import dossier

from fitout.documents.drawings.apart import moved, shifts
from fitout.documents.views.forms import part_form
from fitout.model.panel import Panel


def module(name):
    return next(m for m in dossier("touring-wagon").fitout.modules if m.name == name)


def test_panels_of_a_carcass_go_along_their_thickness_outwards():
    drawers = module("drawers")
    forms = {part.id: part_form(part) for part in drawers.parts()}
    by = shifts(drawers, forms)
    for panel in drawers.panels:
        if panel.moves is None:
            across = np.array(panel.placement.w)
            shift = np.array(by[panel.id])
            assert np.linalg.norm(shift - (shift @ across) * across) < 1e-9
    assert by["drawers/top"][2] > 0.0 > by["drawers/base"][2]
    assert by["drawers/left side"][1] > 0.0 > by["drawers/right side"][1]


def test_a_drawer_comes_out_behind_everything_that_stands():
    drawers = module("drawers")
    forms = {part.id: part_form(part) for part in drawers.parts()}
    drawn = {form.id: form for form in moved(forms.values(), shifts(drawers, forms))}
    fixed = [p for p in drawers.parts() if p.moves is None and isinstance(p, Panel)]
    moving = [p for p in drawers.parts() if p.moves == "drawer 1"]
    rear = min(drawn[p.id].vertices[:, 0].min() for p in fixed if abs(p.placement.w[0]) < 0.5)
    inner = [p for p in moving if isinstance(p, Panel) and "side" in p.name]
    assert max(drawn[p.id].vertices[:, 0].max() for p in inner) < rear


def test_every_part_has_its_shift_and_keeps_its_shape():
    for one in dossier("touring-wagon").fitout.modules:
        forms = {part.id: part_form(part) for part in one.parts()}
        by = shifts(one, forms)
        assert set(by) == set(forms)
        for form in moved(forms.values(), by):
            size = np.ptp(form.vertices, axis=0)
            assert size == pytest.approx(np.ptp(forms[form.id].vertices, axis=0))

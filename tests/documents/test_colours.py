from dataclasses import replace

from fitout.documents.colours import COLOURS, OTHER, colour_of, material_of
from fitout.model.item import Item, block
from fitout.model.placement import flat


def test_colours_follow_the_material(panel, fitout):
    assert colour_of(panel) == COLOURS["plywood"]
    foam = replace(panel, board=replace(panel.board, kind="foam"))
    assert colour_of(foam) == COLOURS["foam"]
    assert colour_of(replace(panel, board=replace(panel.board, kind="cork"))) == OTHER
    bar = next(bar for module in fitout.modules for bar in module.bars)
    assert colour_of(bar) == COLOURS["metal"]
    assert material_of(panel) == "birch ply 12"
    assert material_of(bar) == bar.section.key


def test_a_bought_thing_is_of_its_article_or_itself():
    box = Item(
        name="box", module="m", pieces=(block(1, 1, 1),), mass_kg=1.0, placement=flat(0, 0, 0)
    )
    assert colour_of(box) == COLOURS["item"]
    assert material_of(box) == "box"
    assert material_of(replace(box, article="euro box 60")) == "euro box 60"

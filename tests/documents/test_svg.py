"""The few shapes our pictures are made of."""

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from fitout.documents import svg


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (-0.04, "0"), (12.0, "12"), (1.25, "1.2"), (-3.26, "-3.3")]
)
def test_numbers_are_short(value, text):
    assert svg.number(value) == text


def test_colours_are_dimmed():
    assert svg.dimmed("#ff8040", 1.0) == "#ff8040"
    assert svg.dimmed("#ff8040", 0.5) == "#804020"


def test_rings_become_one_closed_path():
    square = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 5.5]])
    shape = ET.fromstring(svg.path([square, square + 1.0], fill="#fff", stroke_width=2.0))
    assert shape.get("d") == "M0,0 10,0 10,5.5ZM1,1 11,1 11,6.5Z"
    assert shape.get("stroke-width") == "2"


def test_words_are_escaped():
    data = svg.picture(10.0, 20.0, "a < b", [svg.text(1.0, 2.0, 'R&D "<x>"', fill='"')])
    root = ET.fromstring(data)
    assert root.get("viewBox") == "0 0 10 20"
    name = "{http://www.w3.org/2000/svg}"
    assert root.find(f"{name}title").text == "a < b"
    assert root.find(f"{name}text").text == 'R&D "<x>"'
    assert root.find(f"{name}text").get("fill") == '"'

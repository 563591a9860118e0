"""The pictures of the templates and the page that lists them are those that ``make pictures`` makes."""

import importlib.util
import math
from pathlib import Path

import pytest
from shapely import Point as Place
from shapely import Polygon

from dielines.drawing import Caption
from dielines.formats.svg import FORMAT
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.paths import bounds_of, flattened

DOCS = Path(__file__).parents[2] / "docs"
SPEC = importlib.util.spec_from_file_location("pictures", DOCS / "pictures.py")
pictures = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(pictures)
TEMPLATES = list(built_in_library().templates())
EVERY = pytest.mark.parametrize("template", TEMPLATES, ids=lambda template: template.name)


@EVERY
def test_the_picture_of_a_template_is_that_of_the_template_as_it_is(template):
    found = (DOCS / "pictures" / f"{template.name}.svg").read_bytes()
    assert found == pictures.picture(template), "run: make pictures"


def test_the_page_of_templates_lists_them_as_they_are():
    found = (DOCS / "templates.md").read_text(encoding="utf-8")
    assert found == pictures.page_text(TEMPLATES), "run: make pictures"


def test_every_picture_is_shown_on_a_page():
    pages = [*DOCS.parent.glob("*.md"), *DOCS.glob("**/*.md")]
    text = "".join(page.read_text(encoding="utf-8") for page in pages)
    idle = [f.name for f in (DOCS / "pictures").iterdir() if f"pictures/{f.name}" not in text]
    assert idle == []


def middle_of(caption: Caption) -> Place:
    half = len(caption.text) * pictures.LETTER_WIDTH * caption.height / 2
    turn = math.radians(caption.angle_deg)
    along, up = (half, caption.height / 2)
    x = float(caption.at.x) + along * math.cos(turn) - up * math.sin(turn)
    y = float(caption.at.y) + along * math.sin(turn) + up * math.cos(turn)
    return Place(x, y)


@EVERY
def test_each_panel_bears_its_name(template):
    for part in pictures.parts_of(template):
        for panel in part.panels:
            caption = pictures.caption(panel, 1.0)
            shape = Polygon(flattened(panel.outline), [flattened(h) for h in panel.holes])
            assert shape.covers(middle_of(caption)), f"{part.name}: {panel.name}"
            assert panel.name.removeprefix("binding.").replace("_", " ") == caption.text


@EVERY
def test_nothing_of_a_picture_lies_outside_its_page(template):
    drawing = pictures.drawing_of(template)
    box = bounds_of([item.path for item in drawing.items()])
    assert min(box.left, box.bottom) > 0
    assert (box.right, box.top) < (drawing.width, drawing.height)
    for group in drawing.groups:
        for caption in group.captions:
            place = middle_of(caption)
            assert 0 < place.x < drawing.width
            assert 0 < place.y < drawing.height


def test_a_picture_reads_back_at_its_true_size():
    template = built_in_library().find("side-pocket")
    reading = FORMAT.read(pictures.picture(template), "side-pocket.svg")
    box = bounds_of([item.path for item in reading.drawing.items()])
    assert float(box.width) == pytest.approx(25.4 * (8 + 3 / 8), abs=1e-3)
    assert float(box.height) == pytest.approx(25.4 * (9 + 1 / 4), abs=1e-3)


def test_the_name_of_a_ring_stands_in_the_ring():
    text = """
template = "ring"
kind = "insert"
units = "mm"
[parts.ring]
columns = [100]
rows = ["60 : ring"]
edits = [{ window = "ring", margin = [5, 5, 20, 5] }]
"""
    ring = pictures.parts_of(template_from_text(text))[0].panels[0]
    place = middle_of(pictures.caption(ring, 1.0))
    assert 0 < place.y < 20


def test_the_album_is_shown_bound_and_folded():
    """Not to the byte: where floats round differs from one machine to another."""
    for name, text in pictures.bound_pictures().items():
        shown = (DOCS / name).read_text(encoding="utf-8")
        assert shown.startswith(text.decode()[:40])
        assert shown.count("<path") == text.decode().count("<path"), "run: make pictures"

"""Every part of the guide bears its letter and title, its panels their names, all inside."""

from itertools import combinations

import pytest

from dielines.book.captions import AIR, LEAST, LETTER, TITLE, with_names
from dielines.book.single import single_parts
from dielines.drawing import Caption, Layer
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.part_drawing import part_group
from dielines.paths import Bounds, encloses, rectangle
from dielines.turning import caption_length
from dielines.workshop.loading import typical_workshop

WORKSHOP = typical_workshop("in")
LIBRARY = built_in_library()
FRAME = """template = "frame"
kind = "insert"
units = "mm"
[parts.card]
columns = [90]
rows = ["60 : card"]
edits = [{ window = "card", margin = [8, 8, 22, 8] }]
"""


def named(template, part_number=0, title="a title of a part", letter="AB"):
    part = single_parts(template, {}, WORKSHOP)[part_number].part
    return part, with_names(part_group(part, "key", title), part, letter).captions


def area_of(caption: Caption) -> Bounds:
    """The room that the letters take, without air."""
    length, x, y = caption_length(caption), float(caption.at.x), float(caption.at.y)
    if caption.angle_deg:
        return Bounds(x - caption.height, y, x, y + length)
    return Bounds(x, y, x + length, y + caption.height)


def corners(box: Bounds) -> list[tuple[float, float]]:
    return [(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]


def test_letter_title_and_panels_are_named():
    _, captions = named(LIBRARY.find("side-pocket"))
    assert {c.layer for c in captions} == {Layer.LABEL}
    texts = [caption.text for caption in captions]
    assert sorted(texts) == sorted(
        ["AB", "a title of a part", "seam", "head", "front", "tail", "back"]
    )


@pytest.mark.parametrize("name", ["side-pocket", "joint-wrap", "hinge-strip", "flap"])
def test_names_stand_inside_and_apart(name):
    part, captions = named(LIBRARY.find(name))
    areas = [area_of(caption) for caption in captions]
    assert all(encloses(part.outline[0], corner) for area in areas for corner in corners(area))
    for a, b in combinations(areas, 2):
        apart = a.right < b.left or b.right < a.left or a.top < b.bottom or b.top < a.bottom
        assert apart
    assert min(caption.height for caption in captions) >= LEAST


def test_a_name_keeps_out_of_a_window():
    _, captions = named(template_from_text(FRAME), title="x")
    hole = Bounds(8, 22, 82, 52)
    assert [caption.text for caption in captions] == ["AB", "x"]
    for area in map(area_of, captions):
        assert not (area.left < hole.right and hole.left < area.right and area.top > hole.bottom)
        assert encloses(rectangle(0, 0, 90, 60), (area.left - AIR, area.bottom - AIR))


def test_in_a_narrow_panel_a_name_stands_upright():
    _, captions = named(LIBRARY.find("flap"))
    gusset = next(caption for caption in captions if caption.text == "gusset")
    assert gusset.angle_deg == 90
    page = next(caption for caption in captions if caption.text == "page")
    assert page.angle_deg == 0


def test_a_part_that_is_nowhere_folded_is_one_panel_for_its_names():
    title = "backing of the hinge strip between pages 3 and 4"
    part, captions = named(LIBRARY.find("hinge-strip"), 1, title)
    assert len(part.panels) == 3
    assert [caption.text for caption in captions] == ["AB", title]
    assert [caption.height for caption in captions] == [LETTER, TITLE]  # neither had to shrink


def test_a_name_that_finds_no_room_is_left_out():
    _, captions = named(LIBRARY.find("spine-board"), title="word " * 90)
    assert [caption.text for caption in captions] == ["AB"]


def test_where_the_letter_would_leave_no_room_for_the_title_it_gives_way():
    text = FRAME.replace("90", "13").split("edits")[0].replace("60 :", "95 :")
    _, captions = named(template_from_text(text), title="hinge strip between pages 3 and 4")
    assert len(captions) == 2

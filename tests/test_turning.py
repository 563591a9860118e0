"""The other side of the paper: left is right, valleys are mountains, words stay readable."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.paths import Path, Point, Vertex, bounds_of, circle, line, rectangle, signed_area
from dielines.turning import caption_length, moved, turned_over, with_one_scoring_tool

WIDTH = Fraction(200, 7)
ROUND = Path((Vertex(Fraction(1, 3), 2, Fraction(2, 5)), Vertex(9, 4)), closed=False)


def drawing(*items: Item, captions: tuple[Caption, ...] = ()) -> Drawing:
    return Drawing(WIDTH, 20, (Group("a", "A", items, captions),))


def test_left_becomes_right_exactly():
    (item,) = turned_over(drawing(Item(Layer.CUT, line((1, 2), (WIDTH, 7))))).items()
    assert item.path.points == (Point(WIDTH - 1, 2), Point(Fraction(0), 7))


@pytest.mark.parametrize(
    ("layer", "other"),
    [("SCORE_VALLEY", "SCORE_MOUNTAIN"), ("SCORE_MOUNTAIN", "SCORE_VALLEY"),
     ("TAPE_FACE", "TAPE_REVERSE"), ("TAPE_REVERSE", "TAPE_FACE"),
     ("CUT", "CUT"), ("PERFORATE", "PERFORATE"), ("MARK", "MARK"), ("LABEL", "LABEL")],
)  # fmt: skip
def test_each_layer_becomes_what_it_is_on_the_other_side(layer, other):
    (item,) = turned_over(drawing(Item(Layer[layer], ROUND, "name"))).items()
    assert (item.layer, item.name) == (Layer[other], "name")


def test_the_other_side_lies_up():
    assert turned_over(drawing()).face_up is False
    assert turned_over(turned_over(drawing())).face_up is True


def test_arcs_bend_the_other_way_and_outlines_still_run_counter_clockwise():
    ring = circle((5, 6), Fraction(7, 3))
    arc, outline, hole = turned_over(
        drawing(*(Item(Layer.CUT, path) for path in (ROUND, rectangle(1, 1, 9, 4), ring)))
    ).items()
    assert arc.path.vertices[0].bulge == Fraction(-2, 5)
    assert signed_area(outline.path) == 24
    assert signed_area(hole.path) == pytest.approx(math.pi * 49 / 9)
    box, before = bounds_of([arc.path]), bounds_of([ROUND])
    assert float(box.left) == pytest.approx(float(WIDTH - before.right))


@given(st.sampled_from(Layer), st.integers(-40, 40), st.integers(-40, 40), st.fractions(-3, 3))
@settings(max_examples=50)
def test_turning_twice_changes_nothing(layer, x, y, bulge):
    path = Path((Vertex(Fraction(x, 7), y, bulge), Vertex(3, Fraction(y, 3) + 1)), closed=True)
    before = drawing(Item(layer, path), captions=(Caption(layer, "words", Point(x, y), 3, 0),))
    assert turned_over(turned_over(before)).items() == before.items()


@pytest.mark.parametrize("angle", [0, 90, -30, 180])
def test_words_cover_about_the_mirror_image_of_where_they_were(angle):
    caption = Caption(Layer.LABEL, "Page A", Point(5, 6), 3, angle)
    (group,) = turned_over(drawing(captions=(caption,))).groups
    (turned,) = group.captions
    assert turned.text == caption.text
    corners = sorted((float(WIDTH) - x, y) for x, y in corners_of(caption))
    assert sorted(corners_of(turned)) == [pytest.approx(corner, abs=1e-9) for corner in corners]


def corners_of(caption: Caption) -> list[tuple[float, float]]:
    angle = math.radians(caption.angle_deg)
    length = caption_length(caption)
    return [
        (
            float(caption.at.x) + along * math.cos(angle) - up * math.sin(angle),
            float(caption.at.y) + along * math.sin(angle) + up * math.cos(angle),
        )
        for along in (0, length)
        for up in (0, caption.height)
    ]


def test_one_scoring_tool_scores_mountains_as_valleys_and_moves_nothing():
    before = drawing(*(Item(layer, ROUND, layer.value) for layer in Layer))
    after = with_one_scoring_tool(before).items()
    assert [item.name for item in after if item.layer is Layer.SCORE_VALLEY] == [
        "SCORE_VALLEY",
        "SCORE_MOUNTAIN",
    ]
    assert not [item for item in after if item.layer is Layer.SCORE_MOUNTAIN]
    assert [item.path for item in after] == [ROUND] * len(Layer)


def test_a_moved_drawing_keeps_its_page_and_its_words_stay_beside_their_paths():
    word = Caption(Layer.LABEL, "tab", Point(Fraction(1, 7), 2), 3.0)
    before = drawing(Item(Layer.CUT, ROUND, "name"), captions=(word,))
    after = moved(before, Fraction(1, 3), -1)
    assert (after.width, after.height) == (before.width, before.height)
    assert after.items()[0].path.vertices[0] == Vertex(Fraction(2, 3), 1, Fraction(2, 5))
    assert after.groups[0].captions[0].at == (Fraction(10, 21), 1)
    assert moved(before, 0, 0) is before

"""Legend and check square: every layer that is used, beside the drawing, nothing moved."""

import pytest

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.legend import ONE_INCH, TWENTY_FIVE_MM, with_check_square, with_legend
from dielines.paths import Point, bounds_of, line


def drawing(*layers: Layer, height: float = 1000 / 7, **about) -> Drawing:
    items = tuple(Item(layer, line((1, 1), (50, 100))) for layer in layers)
    return Drawing(200 / 3, height, (Group("a", "A", items),), **about)


def added(before: Drawing, after: Drawing) -> Group:
    assert after.groups[:-1] == before.groups
    return after.groups[-1]


def test_each_layer_that_is_used_has_a_line_and_words():
    before = drawing(Layer.CUT, Layer.SCORE_MOUNTAIN, Layer.MARK, Layer.CUT)
    legend = added(before, with_legend(before))
    assert [item.layer for item in legend.items] == [Layer.CUT, Layer.SCORE_MOUNTAIN, Layer.MARK]
    assert len(legend.captions) == 1 + 3
    assert {caption.layer for caption in legend.captions} == {Layer.LABEL}


def test_a_layer_of_words_alone_has_its_line_too():
    words = (Caption(Layer.LABEL, "A", Point(1, 1), 3.0),)
    before = Drawing(50, 50, (Group("a", "A", (), words),))
    assert [item.layer for item in added(before, with_legend(before)).items] == [Layer.LABEL]


@pytest.mark.parametrize("height", [5.0, 1000 / 7])
@pytest.mark.parametrize(
    "change",
    [with_legend, lambda d: with_check_square(d, ONE_INCH), lambda d: with_legend(with_legend(d))],
)
def test_what_is_added_stands_beside_the_page_within_the_larger_one(change, height):
    before = drawing(*Layer, height=height)
    after = change(before)
    for group in after.groups[1:]:
        box = bounds_of(item.path for item in group.items)
        assert box.left >= before.width
        assert box.right <= after.width
        assert box.bottom >= 0
        assert box.top <= after.height
        for caption in group.captions:
            assert before.width <= caption.at.x < after.width
            assert 0 <= caption.at.y < after.height


def test_words_stand_beside_their_line():
    legend = added(drawing(*Layer), with_legend(drawing(*Layer)))
    for item, caption in zip(legend.items, legend.captions[1:], strict=True):
        start, end = item.path.points
        assert caption.at.y < start.y == end.y < caption.at.y + caption.height
        assert end.x < caption.at.x


@pytest.mark.parametrize(("square", "side"), [(ONE_INCH, 25.4), (TWENTY_FIVE_MM, 25.0)])
def test_check_squares_are_squares_of_their_size_on_a_layer_that_nothing_acts_on(square, side):
    before = drawing(Layer.CUT)
    (item,) = added(before, with_check_square(before, square)).items
    box = bounds_of([item.path])
    assert (box.width, box.height) == pytest.approx((side, side), abs=1e-9)
    assert item.layer is Layer.LABEL


def test_the_side_that_lies_up_is_said():
    texts = [
        added(before, with_legend(before)).captions[0].text
        for before in (drawing(Layer.CUT), drawing(Layer.CUT, face_up=False))
    ]
    assert "face" in texts[0]
    assert "reverse" in texts[1]

"""The test piece has its true sizes, every kind of score, and a tab that can be stuck down."""

from fractions import Fraction
from itertools import combinations

import pytest
from shapely.geometry import LineString, Polygon

from dielines.drawing import Item, Layer
from dielines.paths import bounds_of, flattened, length_of, signed_area
from dielines.proof_piece import SETTINGS, TAB, WIDTH, proof_piece

ITEMS = proof_piece().items()


def named(name: str) -> list[Item]:
    return [item for item in ITEMS if item.name == name]


def shape(item: Item) -> Polygon | LineString:
    points = flattened(item.path)
    return Polygon(points) if item.path.closed else LineString(points)


def test_the_squares_are_1_inch_and_25_millimetres_exactly():
    assert signed_area(named("1 in square")[0].path) == Fraction(254 * 254, 100)
    assert signed_area(named("25 mm square")[0].path) == 625


def test_it_fits_a_sheet_of_a6():
    box = bounds_of(item.path for item in ITEMS)
    assert (box.left, box.bottom) == (0, 0)
    assert (proof_piece().width, proof_piece().height) == (box.width, box.height)
    assert box.width <= 148  # ISO 216
    assert box.height <= 105


def test_nothing_lies_outside_the_outline():
    outline = shape(named("outline")[0])
    assert [item.name for item in ITEMS if not outline.covers(shape(item))] == []


def test_no_two_lines_cross_or_overlap():
    meeting = [
        (one.name, other.name)
        for one, other in combinations(ITEMS, 2)
        if shape(one).crosses(shape(other)) or shape(one).overlaps(shape(other))
    ]
    assert meeting == []


def test_every_layer_that_machines_score_with_has_a_strip():
    assert {item.layer for item in ITEMS} == set(Layer) - {
        Layer.TAPE_REVERSE, Layer.MARK, Layer.LABEL,
    }  # fmt: skip
    assert [bool(named(setting.name)) for setting in SETTINGS] == [True] * 8


@pytest.mark.parametrize(
    ("name", "count"),
    # 15 mm less 1 mm at each end: 13 mm hold n dashes and n - 1 gaps
    [("perforate", 1), ("cut 1, leave 1", 7), ("cut 3, leave 2", 3), ("cut 5, leave 1", 2)],
)
def test_a_strip_is_perforated_as_its_name_says(name, count):
    lengths = [length_of(item.path) for item in named(name)]
    assert len(lengths) == count
    assert lengths == pytest.approx([15.0 if name == "perforate" else float(name[4])] * count)


def test_the_tab_ends_on_its_slit_when_it_is_folded_over():
    far = bounds_of([named("outline")[0].path]).right
    (fold,) = named("fold of the tab")
    axis = fold.path.points[0].x
    assert {point.x for point in named("end of the tab")[0].path.points} == {2 * axis - far}


def test_the_tape_lies_on_the_tab_3_mm_narrower_than_it():
    (tape,) = named("tape of the tab")
    box = bounds_of([tape.path])
    assert box.width == TAB - 3
    assert WIDTH < box.left < box.right < WIDTH + TAB


def test_every_strip_says_in_the_guide_what_it_is():
    texts = [caption.text for caption in proof_piece().groups[0].captions]
    assert [f"{i} {setting.name}" in texts for i, setting in enumerate(SETTINGS, 1)] == [True] * 8

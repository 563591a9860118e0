"""Lines that continue one another are one stroke; all others stay as they were."""

from fractions import Fraction

import pytest

from dielines.bindings.frame import values_of
from dielines.drawing import Item, Layer
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.lengths import inches, millimetres
from dielines.part_drawing import part_group, scores_of
from dielines.paths import Path, Point, Vertex, length_of, line
from dielines.strokes import in_one_stroke, joined_name

VALLEY, MOUNTAIN = Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN
SEVENTH = Fraction(1, 7)
CALIPERS = {"cardstock": Fraction(6, 25), "board": Fraction(2), "reinforcing": Fraction(3, 20),
            "covering": Fraction(7, 20), "tape": Fraction(13, 100)}  # fmt: skip


def score(start, end, layer=VALLEY, name="") -> Item:
    return Item(layer, line(start, end), name)


def joint_wrap(spine="4/3", turn_in="5/7"):
    arguments = values_of({"spine": inches(spine), "turn_in": inches(turn_in)})
    return build(built_in_library().find("joint-wrap"), arguments, CALIPERS).parts[0]


def test_a_score_past_five_panels_is_one_stroke():
    wrap = joint_wrap()
    assert len([piece for fold in wrap.folds for piece in fold.pieces]) == 10
    head, tail = scores_of(wrap)
    width = 2 + 2 * Fraction(5, 16) + Fraction(4, 3)  # the holds, the joints, the spine
    assert {point.x for point in head.path.points} == {0, inches(width).mm}
    assert {point.y for point in tail.path.points} == {inches("5/7").mm}
    assert head.name == "head / front_hold, front_joint, spine, back_joint, back_hold"
    assert tail.name.endswith(" / tail")


def test_what_is_scored_stays_as_long_as_it_was():
    wrap = joint_wrap()
    pieces = sum(length_of(piece) for fold in wrap.folds for piece in fold.pieces)
    assert sum(length_of(item.path) for item in scores_of(wrap)) == pytest.approx(pieces)
    drawn = [item for item in part_group(wrap, "wrap", "").items if item.layer is VALLEY]
    assert drawn == scores_of(wrap)


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (0, 2, 1), (1, 0, 2)])
def test_pieces_join_in_whatever_order_they_come(order):
    xs = [0, SEVENTH, 5 * SEVENTH, 9 * SEVENTH]
    pieces = [score((a, 3), (b, 3), name=n) for a, b, n in zip(xs, xs[1:], "abc", strict=False)]
    (joined,) = in_one_stroke(pieces[i] for i in order)
    assert joined.path.points == (Point(0, 3), Point(9 * SEVENTH, 3))
    assert set(joined.name.split(", ")) == {"a", "b", "c"}


def test_oblique_pieces_join_whichever_way_they_run():
    slope = 0.1 + 0.2  # a float that is no tenth
    pieces = [score((0, 0), (7, 7 * slope)), score((21, 21 * slope), (7, 7 * slope))]
    (joined,) = in_one_stroke(pieces)
    assert joined.path.points == (Point(0, 0), Point(21, 21 * slope))


@pytest.mark.parametrize(
    "other",
    [
        score((7, 0), (7, 5)),  # round a corner
        score((7, 0), (14, 1e-5)),  # not quite straight on
        score((7.001, 0), (14, 0)),  # a gap
        score((7, 0), (3, 0)),  # back over itself
        score((7, 0), (14, 0), MOUNTAIN),
        score((7, 0), (14, 0), Layer.PERFORATE),
        Item(VALLEY, Path((Vertex(7, 0, 0.2), Vertex(14, 0)), closed=False)),
    ],
)
def test_what_does_not_continue_a_line_stays_by_itself(other):
    first = score((0, 0), (7, 0))
    assert in_one_stroke([first, other]) == [first, other]
    assert in_one_stroke([other, first]) == [other, first]


def test_a_joined_line_stands_where_its_first_piece_stood():
    between = score((1, 1), (2, 2))
    items = [score((0, 0), (7, 0)), between, score((7, 0), (14, 0))]
    assert [item.path.points[1].x for item in in_one_stroke(items)] == [14, 2]


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (["head / a", "head / b"], "head / a, b"),
        (["a | tail", "b | tail"], "a, b | tail"),
        (["a / b", "c - d"], "a / b, c - d"),
        (["", "fold", "fold"], "fold"),
        (["a / b", "c / d", "a / d"], "a, c / b, d"),
    ],
)
def test_a_joined_line_says_once_what_its_pieces_have_in_common(names, expected):
    assert joined_name(names) == expected


def test_a_pocket_keeps_all_its_scores():
    pocket = build(
        built_in_library().find("side-pocket"), values_of({"depth": millimetres("10/3")}), CALIPERS
    ).parts[0]
    levels = [item.path.points[0].y for item in scores_of(pocket)]
    assert len(levels) == len(set(levels)) == 4

"""Dashes lie on their line, keep from its ends, and are the same from either end."""

import itertools
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.dashes import Dashes, dashed, stretch, with_dashes
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.errors import UsageError
from dielines.paths import (
    Path,
    Vertex,
    bounds_of,
    flattened,
    line,
    polyline,
    rectangle,
    reversed_path,
)
from dielines.paths import length_of as long

SEVENTH = Fraction(1, 7)
BENT = polyline([(0, 0), (10 * SEVENTH, 0), (10 * SEVENTH, 30)], closed=False)
HALF_ROUND = Path((Vertex(-5, 0, Fraction(-1)), Vertex(5, 0)), closed=False)  # over the top


def test_dashes_end_where_they_shall_and_gaps_are_stretched():
    pieces = dashed(line((0, 0), (20, 0)), Dashes(dash=3, gap=2, keep=1.5))
    # 17 mm hold 3 dashes of 3 with gaps of 4, as 4 dashes would need 18
    ends = [tuple(float(p.x) for p in piece.points) for piece in pieces]
    assert ends == [(1.5, 4.5), (8.5, 11.5), (15.5, 18.5)]


def test_dashes_that_fit_exactly_are_not_lost_to_rounding():
    pieces = dashed(line((0, 0), (0, 12.1)), Dashes(dash=0.7, gap=0.4, keep=0.2))
    assert len(pieces) == 11  # 11 x 0.7 + 10 x 0.4 = 11.7


def test_a_line_with_room_for_one_dash_has_it_in_the_middle():
    (piece,) = dashed(line((0, 0), (10, 0)), Dashes(dash=4, gap=3, keep=1))
    assert [p.x for p in piece.points] == [3, 7]


def test_a_line_too_short_for_a_dash_keeps_its_ends_clear():
    (piece,) = dashed(line((0, 0), (5, 0)), Dashes(dash=4, gap=3, keep=1))
    assert [p.x for p in piece.points] == [1, 4]
    assert dashed(line((0, 0), (2, 0)), Dashes(dash=4, gap=3, keep=1)) == ()


def test_a_dash_goes_around_a_corner():
    piece = stretch(BENT, 1, 3)
    sizes = [float(size) for point in piece.points for size in point]
    assert sizes == pytest.approx([1, 0, 10 / 7, 0, 10 / 7, 11 / 7], abs=1e-12)


def test_a_dash_on_an_arc_is_an_arc_of_the_same_circle():
    for piece in dashed(HALF_ROUND, Dashes(dash=2, gap=1, keep=0.5)):
        assert all(math.hypot(x, y) == pytest.approx(5) for x, y in flattened(piece))
        assert long(piece) == pytest.approx(2)
        assert bounds_of([piece]).bottom > 0  # over the top, as the arc itself


def test_a_closed_path_is_dashed_all_round():
    pieces = dashed(rectangle(0, 0, 10, 10), Dashes(dash=1, gap=1, keep=0.5))
    assert len(pieces) == 20
    assert sum(map(long, pieces)) == pytest.approx(20)


lengths = st.floats(0.05, 8)


@given(lengths, lengths, st.floats(0, 5))
def test_dashes_are_the_same_from_either_end(dash, gap, keep):
    setting = Dashes(dash, gap, keep)
    forth = dashed(BENT, setting)
    back = dashed(reversed_path(BENT), setting)[::-1]
    for piece, other in zip(forth, back, strict=True):
        assert long(piece) == pytest.approx(long(other))
        ends = piece.points[0], reversed_path(other).points[0]
        assert math.dist(*[tuple(map(float, end)) for end in ends]) < 1e-6


@given(lengths, lengths, st.floats(0, 5))
def test_gaps_are_never_shorter_than_asked(dash, gap, keep):
    pieces = dashed(line((0, 0), (0, 30)), Dashes(dash, gap, keep))
    for piece, following in itertools.pairwise(pieces):
        assert following.points[0].y - piece.points[-1].y > gap - 1e-6


def test_a_drawing_gets_its_scores_as_dashes_and_keeps_the_rest():
    score, cut = line((0, 0), (20, 0)), rectangle(0, 0, 20, 20)
    items = (Item(Layer.SCORE_VALLEY, score, "fold"), Item(Layer.CUT, cut))
    drawing = Drawing(20, 20, (Group("a", "A", items),))
    result = with_dashes(drawing, frozenset({Layer.SCORE_VALLEY}), Dashes(3, 2, 1.5)).items()
    assert [(item.layer, item.name) for item in result] == (
        [(Layer.PERFORATE, "fold")] * 3 + [(Layer.CUT, "")]
    )
    assert result[-1].path == cut


@pytest.mark.parametrize(
    "sizes", [(0, 1, 1), (1, 0, 1), (1, 1, -1), (math.nan, 1, 1), (1, math.inf, 1)]
)
def test_sizes_that_make_no_dashes_are_refused(sizes):
    with pytest.raises(UsageError):
        Dashes(*sizes)


def test_dashes_without_number_are_refused():
    with pytest.raises(UsageError):
        dashed(line((0, 0), (1000, 0)), Dashes(0.01, 0.01))

"""How coverings lie on the boards of a case: the motions behind the joins."""

from fractions import Fraction

import pytest
from case_books import COMB, INCHES, MILLIMETRES, with_wrap
from shapely import Point as Dot

from dielines.checks.board_edges import edges_of
from dielines.checks.case_cover import cover_boards, covered_boards, spine_board
from dielines.checks.wrap_corners import flaps_of
from dielines.paths import Point

F = Fraction


@pytest.mark.parametrize("text", [MILLIMETRES, COMB, INCHES])
def test_every_board_has_its_wrap_and_its_strips_at_the_edges_that_they_are_named_for(
    folded_of, text
):
    for board in cover_boards(folded_of(text)):
        at = {turned.covering.key: turned.edge.name for turned in board.turned_in}
        cover = board.key.removesuffix("-board")
        strips = {f"edge-{cover}-{edge}": edge for edge in ("head", "tail", "fore-edge")}
        assert {key: edge for key, edge in at.items() if key != "joint-wrap"} == strips
        wraps = [t.edge.name for t in board.turned_in if t.covering.key == "joint-wrap"]
        assert sorted(wraps) == ["head", "tail"]


def test_a_turn_in_is_shorter_inside_by_the_board_and_lies_from_the_edge_inwards(folded_of):
    board = cover_boards(folded_of(MILLIMETRES))[0]
    depths = {t.covering.key: (t.depth, t.inside) for t in board.turned_in}
    assert depths["joint-wrap"] == pytest.approx((20, 18))
    assert depths["edge-front-head"] == pytest.approx((12.5, 10.5))
    (strip,) = [t for t in board.turned_in if t.covering.key == "edge-front-head"]
    # boards of 101 x 141, the hold 25 wide
    assert strip.inner.bounds == pytest.approx((25, 130.5, 101, 141))
    assert strip.runs == pytest.approx((0, 76))
    # mitred towards the fore-edge: the corner is its, a point 3 in and 5 from the corner is not
    assert strip.inner.contains(Dot(100, 140.5))
    assert not strip.inner.contains(Dot(98.5, 135))


@pytest.mark.parametrize("text", [MILLIMETRES, COMB])
def test_places_on_a_board_are_found_again_on_the_flat_part(folded_of, text):
    for board in covered_boards(folded_of(text)):
        for covering in board.coverings:
            for point in covering.entry.part.panel(covering.panel).outline.points:
                laid = covering.motion.place(Point(point.x, point.y))
                back = covering.unlaid((float(laid.x), float(laid.y)))
                assert back == pytest.approx((float(point.x), float(point.y)))


def test_coverings_are_turned_and_mirrored_as_they_are_laid_face_down(folded_of):
    for board in covered_boards(folded_of(MILLIMETRES)):
        assert board.coverings
        assert all(covering.motion.mirrors for covering in board.coverings)
    turned = {
        covering.key: covering.motion.swaps_axes
        for board in covered_boards(folded_of(MILLIMETRES))
        for covering in board.coverings
    }
    assert {key for key, swaps in turned.items() if swaps} == {
        f"edge-{cover}-{edge}" for cover in ("front", "back") for edge in ("head", "tail")
    }


def test_edges_are_named_as_one_sees_the_outside_of_the_board():
    corners = [(0.0, 0.0), (7.0, 0.0), (7.0, 9.0), (0.0, 9.0)]
    names = [edge.name for edge in edges_of("front-board", corners)]
    assert names == ["tail", "fore-edge", "head", "spine edge"]
    assert edges_of("back-board", corners)[1].name == "spine edge"
    assert edges_of("spine-board", corners)[1].name == "edge at the front board"
    assert [edge.out for edge in edges_of("front-board", corners)] == [
        (0, -1), (1, 0), (0, 1), (-1, 0),
    ]  # fmt: skip


def test_an_edge_measures_beyond_it_and_along_it():
    tail = edges_of("front-board", [(0.0, 0.0), (7.0, 0.0), (7.0, 9.0), (0.0, 9.0)])[0]
    assert (tail.beyond((3, -2.5)), tail.beyond((3, 4))) == (2.5, -4)
    assert tail.run((3, -2.5)) == 3
    assert tail.moved_out((3, 0), 2) == (3, -2)


def test_the_spine_board_is_no_cover_board(folded_of):
    folded = folded_of(MILLIMETRES)
    assert spine_board(folded).key == "spine-board"
    assert {board.key for board in cover_boards(folded)} == {"front-board", "back-board"}


@pytest.mark.parametrize(
    ("template", "count"), [("wrapped-case", 4), ("three-sided-case", 6), ("five-sided-case", 6)]
)
def test_flaps_of_a_wrap_run_round_its_boards_with_the_boards_at_their_left(
    folded_of, template, count
):
    part = with_wrap(folded_of(MILLIMETRES).book, template).part("wrapped").part
    flaps = flaps_of(part)
    assert len(flaps) == count
    around = sum(
        flap.edge.start[0] * flap.edge.end[1] - flap.edge.end[0] * flap.edge.start[1]
        for flap in flaps
    )
    assert around > 0
    assert all(flap.depth > 6 for flap in flaps)


def test_a_part_without_turn_ins_has_no_flaps(folded_of):
    assert flaps_of(folded_of(MILLIMETRES).book.part("joint-wrap").part) == []

"""The clearances of books against numbers worked out beforehand, and against the assembly itself."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from spoiling import changed_join, changed_part, warped

from dielines.folding.folded_book import FoldedBook
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.paths import Point
from dielines.tolerance.clearance import Clearance, Fault
from dielines.tolerance.clearances import clearances_of
from dielines.tolerance.datum import Datum
from dielines.tolerance.hand_error import ErrorKind, HandError, total
from dielines.tolerance.standing import scores_of

STEP = 0.125  #: mm; by which one error is made, exact in binary


def one(rows: tuple[Clearance, ...], part: str, edge: str) -> Clearance:
    (found,) = (r for r in rows if (r.part, r.edge) == (part, edge) and r.fault.is_of_page)
    return found


def spine(rows: tuple[Clearance, ...]) -> Clearance:
    (found,) = (r for r in rows if r.fault is Fault.SPINE)
    return found


def test_each_page_has_three_clearances_and_the_book_one_more(twenty_four):
    rows = clearances_of(twenty_four)
    pages = [r for r in rows if r.fault.is_of_page]
    assert len(pages) == 72
    assert len([r for r in rows if r.fault is Fault.SPINE]) == 1


# Worked out beforehand for tabs glued on the outer neighbour, by the hand of 0.3, 0.25
# and 0.4 mm: 0.97 mm on page 2, 1.95 mm on page 12 from the cover.
@pytest.mark.parametrize(
    ("page", "steps", "wanted"), [(23, 2, 0.97), (13, 12, 1.95), (11, 11, None)]
)
def test_tabs_on_the_outer_neighbour_make_a_random_walk(twenty_four, page, steps, wanted):
    hand = twenty_four.workshop.hand
    found = one(clearances_of(twenty_four), f"page-{page}", "fore-edge").deviation(hand)
    # each step is a tape and two scores; two cuts of the board, one of the tab, one of the page
    assert found == pytest.approx(math.sqrt(steps * 0.285 + 4 * 0.09), rel=1e-9)
    assert wanted is None or found == pytest.approx(wanted, abs=0.01)


def test_a_twentieth_of_the_twelfth_pages_stick_out_over_an_eighth_of_an_inch(twenty_four):
    row = replace(one(clearances_of(twenty_four), "page-13", "fore-edge"), nominal=3.175)
    assert row.chance(twenty_four.workshop.hand) == pytest.approx(0.0514, abs=0.0005)


def test_no_error_has_more_than_a_fourteenth_of_what_the_twelfth_page_is_off(twenty_four):
    row = one(clearances_of(twenty_four), "page-13", "fore-edge")
    shares = row.shares(twenty_four.workshop.hand)
    assert sum(shares.values()) == pytest.approx(1)
    assert max(shares.values()) == pytest.approx(0.4**2 / (12 * 0.285 + 0.36), rel=1e-9)
    kinds = row.shares_by_kind(twenty_four.workshop.hand)
    assert kinds[ErrorKind.TAPE] == pytest.approx(12 * 0.16 / 3.78)
    assert kinds[ErrorKind.CUT] == pytest.approx(0.36 / 3.78)


def test_the_play_of_the_spine_varies_by_the_scores_of_all_channels(twenty_four):
    row = spine(clearances_of(twenty_four))
    # 25 channels of two scores each, and both cuts of the spine board
    wanted = math.sqrt(25 * 2 * 0.25**2 + 2 * 0.3**2)
    assert row.deviation(twenty_four.workshop.hand) == pytest.approx(wanted, rel=1e-9)
    assert row.nominal == pytest.approx(0.19, abs=0.01)
    assert row.chance(twenty_four.workshop.hand) == pytest.approx(0.46, abs=0.005)


def test_the_room_at_head_and_tail_is_the_square(four):
    rows = clearances_of(four)
    for page in (1, 2, 3, 4):
        for edge in ("head", "tail"):
            assert one(rows, f"page-{page}", edge).nominal == pytest.approx(3.175, abs=1e-9)


def test_all_four_scores_of_a_pocket_move_its_seam(four):
    rows = [r for r in clearances_of(four) if (r.part, r.panel) == ("page-1", "seam")]
    low = next(r for r in rows if r.edge == "bottom")
    scores = {e.place: c for e, c in low.row.items() if e.kind is ErrorKind.SCORE}
    assert {name: abs(c) for name, c in scores.items()} == {
        "seam / head": 1, "head / front": 1, "front / tail": 1, "tail / back": 1,
    }  # fmt: skip
    assert low.nominal == pytest.approx(25.4 / 16, abs=1e-6)
    assert low.deviation(four.workshop.hand) == pytest.approx(math.sqrt(0.25 + 0.16 + 0.09))


# ------------------------------------------------------------------ against the assembly itself
#
# One error at a time is made in the flat part or in a join, the book is put together
# again, and where page 3 then lies beside page 1 is held against the coefficient.


def with_moved_line(book: FoldedBook, key: str, axis: str, at: float) -> FoldedBook:
    """Return the book with all of a part that lies on an upright (x) or level line moved by a step."""

    def place(point: Point) -> Point:
        across, up = (STEP, 0) if axis == "x" else (0, STEP)
        is_on_it = abs(float(getattr(point, axis)) - at) < 1e-6
        return Point(point.x + across, point.y + up) if is_on_it else point

    return FoldedBook(changed_part(book.book, key, lambda p: warped(p, place)), book.workshop)


def with_error(book: FoldedBook, error: HandError) -> FoldedBook:
    """Return the book with one error of a step."""
    part = book.book.part(error.part).part
    if error.kind is ErrorKind.SCORE:
        (line,) = (line for line in part.lines if str(line.key) == error.place)
        start, end = line.pieces[0].points[0], line.pieces[0].points[-1]
        axis = "x" if start.x == end.x else "y"
        book = with_moved_line(book, error.part, axis, float(getattr(start, axis)))
    elif error.kind is ErrorKind.CUT:
        side, at = error.place.split()[0], float(error.place.split()[-1])
        axis, sign = ("x", at) if side in ("left", "right") else ("y", at)
        sign = -1 if side in ("left", "bottom") else 1
        book = with_moved_line(book, error.part, axis, sign * at)
    else:
        (join,) = (j for j in book.book.joins if (j.part, j.zone) == (error.part, error.place))
        x, y = join.offset
        off = Point(x + STEP, y) if error.axis == "x" else Point(x, y + STEP)
        changed = changed_join(book.book, error.part, join.zone, offset=off)
        book = FoldedBook(changed, book.workshop)
    return book


def sign_of(error: HandError) -> int:
    """Return the direction of a step in which an error of this name counts as positive."""
    return -1 if error.kind is ErrorKind.CUT and error.place.startswith(("left", "bottom")) else 1


def beside(book: FoldedBook, edge: str) -> tuple[float, dict[HandError, float]]:
    """Return how far the edge of page 3 lies inside that of page 1, and what that depends on."""
    rows = clearances_of(book)
    third, first = one(rows, "page-3", edge), one(rows, "page-1", edge)
    return third.nominal - first.nominal, total([(1, third.row), (-1, first.row)])


@pytest.mark.parametrize("edge", ["fore-edge", "head", "tail"])
def test_each_error_moves_a_page_as_the_assembly_has_it(mixed, edge):
    book = mixed(6, 50.0)
    before, row = beside(book, edge)
    own = [error for error in row if error.part in ("page-2", "page-3")]
    for error in own:
        after, _ = beside(with_error(book, error), edge)
        seen = (after - before) / STEP * sign_of(error)
        assert seen == pytest.approx(row[error], abs=1e-9), error
    kinds = {error.kind for error in own}
    assert {ErrorKind.SCORE, ErrorKind.TAPE} <= kinds
    assert len(own) == {"fore-edge": 7, "head": 3, "tail": 3}[edge]


def test_what_does_not_count_moves_nothing(mixed):
    """The scores of a pocket's gussets and the cut of a hinge tab leave its page where it is."""
    book = mixed(6, 50.0)
    before, row = beside(book, "fore-edge")
    for name in ("seam / head", "head / front", "front / tail", "tail / back"):
        error = HandError(ErrorKind.SCORE, "page-3", name)
        assert error not in row
        assert beside(with_error(book, error), "fore-edge")[0] == pytest.approx(before, abs=1e-9)


# ------------------------------------------------------------------ what a page is laid by


def test_pages_laid_by_the_first_or_a_jig_do_not_drift(twenty_four):
    hand = twenty_four.workshop.hand
    deviation = {
        datum: one(clearances_of(twenty_four, datum), "page-13", "fore-edge").deviation(hand)
        for datum in Datum
    }
    own = 0.4**2 + 2 * 0.3**2  # its tape, its own cut, the cut of the board
    first = own + 0.4**2 + 2 * 0.25**2 + 2 * 0.3**2  # and how the first lies on its board
    assert deviation[Datum.JIG] == pytest.approx(math.sqrt(own), rel=1e-9)
    assert deviation[Datum.FIRST] == pytest.approx(math.sqrt(first), rel=1e-9)
    assert deviation[Datum.NEIGHBOUR] == pytest.approx(math.sqrt(3.78), rel=1e-9)


def test_the_datum_does_not_change_what_the_spine_has_to_hold(twenty_four):
    hand = twenty_four.workshop.hand
    found = {spine(clearances_of(twenty_four, datum)).deviation(hand) for datum in Datum}
    assert max(found) - min(found) < 1e-9


def test_a_tab_on_its_neighbour_is_off_by_more_when_pages_are_laid_by_a_jig(four):
    def tab(datum: Datum) -> Clearance:
        rows = clearances_of(four, datum)
        return next(r for r in rows if (r.part, r.panel) == ("page-2", "binding.tab"))

    hand = four.workshop.hand
    assert tab(Datum.JIG).deviation(hand) > tab(Datum.NEIGHBOUR).deviation(hand) + 0.1


# ------------------------------------------------------------------ any binding


def test_a_concertina_spine_has_all_clearances_too(book_of):
    folded = book_of(
        'title = "C"\nunits = "mm"\nsize = "photo 90 x 130"\nbinding = "concertina spine"\n'
        'pages = ["flap", "plain leaf", "side pocket"]\n'
    )
    rows = clearances_of(folded)
    assert len([r for r in rows if r.fault.is_of_page]) == 9
    assert spine(rows).nominal == pytest.approx(folded.thickness.play)
    tapes = {r.part for r in rows if r.fault is Fault.TAPE}
    assert {"comb-spine", "page-3"} <= tapes


def test_a_book_of_one_page_has_them_too(book_of):
    folded = book_of(
        'title = "One"\nunits = "in"\nsize = "photo 5 x 3 1/2"\nbinding = "tab and channel"\n'
        'pages = ["side pocket"]\n'
    )
    rows = clearances_of(folded)
    assert len([r for r in rows if r.fault.is_of_page]) == 3
    # two channels of two scores, and both cuts of the spine board
    wanted = math.sqrt(4 * 0.25**2 + 2 * 0.3**2)
    assert spine(rows).deviation(folded.workshop.hand) == pytest.approx(wanted)


# ------------------------------------------------------------------ what has a clearance, and what is one error


def test_tape_beside_a_fold_has_no_clearance_there(four):
    sides = {r.edge for r in clearances_of(four) if (r.part, r.panel) == ("page-2", "binding.tab")}
    assert "right" not in sides  # the binding fold of page 1
    cut = {r.edge for r in clearances_of(four) if (r.part, r.panel) == ("page-3", "binding.tab")}
    assert {"top", "bottom"} <= cut  # head and tail of page 4, a leaf that is cut there


def test_folds_on_one_line_are_made_by_one_score():
    library = built_in_library()
    part = build(library.find("map-fold"), {}, {}).parts[0]
    scores = scores_of(part)
    assert len(scores) == 4
    assert len(set(scores.values())) == 2


def test_the_largest_share_is_told_first(twenty_four):
    row = one(clearances_of(twenty_four), "page-13", "fore-edge")
    shares = list(row.shares(twenty_four.workshop.hand).values())
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > 1.5 * shares[-1]


def test_fins_do_not_drift_for_their_strip_lies_against_the_spine_between_them(book_of):
    pages = ", ".join(['"plain leaf"'] * 8)
    folded = book_of(
        'title = "C"\nunits = "mm"\nsize = "photo 90 x 130"\nbinding = "concertina spine"\n'
        f"pages = [{pages}]\n"
    )
    rows, hand = clearances_of(folded), folded.workshop.hand
    pages_off = [one(rows, f"page-{n}", "fore-edge") for n in range(1, 9)]
    # at most its tape, three scores of one fin (its top counts twice), three cuts
    most = math.sqrt(0.4**2 + (1 + 4 + 1) * 0.25**2 + 3 * 0.3**2)
    assert max(row.deviation(hand) for row in pages_off) <= most + 1e-9
    assert max(len(row.row) for row in pages_off) <= 7

"""Pages that stick out of their covers. All amounts are arithmetic on the sizes of the book."""

from fractions import Fraction

import pytest
from composed import advised, album, bound, composed, correct_books, found_in
from spoiling import changed_join, changed_part, longer_panel, stretched

from dielines.checks.finding import Severity
from dielines.checks.rules import sticks_out_of_case as rule
from dielines.folding.squares import closed_squares, open_squares

FOUR = '"side pocket", "flap", "flap", "library-card pocket"'
SQUARE = 3.175
SEVENTHS = Fraction(40, 7)  # 5.714 mm
INDEX = ("[page.1]", 'kind = "index tab"', 'leaf = "5 1/4"', 'tab = "7/8"')
TIGHT = (
    "[usual]", 'channel = "3"', 'end_channel = "1/8"', "[spine]", 'width = "1/2"',
)  # fmt: skip


@pytest.fixture(scope="module")
def book():
    return composed(album(FOUR))


def told(book):
    return {
        (f.spot.part, f.spot.panel): round(float(f.amount.value), 4) for f in found_in(rule, book)
    }


def at_fore_edge(book):
    whole = bound(book)
    squares = closed_squares(book, whole.assembly)
    return {s.page: s.size for s in squares if s.side == "fore-edge" and s.board == "front-board"}


def test_correct_books_lie_inside_their_covers(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_page_that_was_made_higher(book):
    head = book.part("page-2").part.panel("page").bounds().top
    higher = changed_part(book, "page-2", lambda p: stretched(p, "y", head - 1, SEVENTHS))
    assert told(higher) == {("page-2", "page"): round(float(SEVENTHS) - SQUARE, 4)}
    assert {f.severity for f in found_in(rule, higher)} == {Severity.ERROR}


def test_a_page_that_was_made_wider(book):
    square = at_fore_edge(book)["page-3"]
    by = Fraction(100, 7)
    wider = changed_part(book, "page-3", lambda p: longer_panel(p, "page", "x", by))
    found = told(wider)
    assert set(found) == {("page-3", "gusset")} or set(found) == {("page-3", "page")}
    assert set(found.values()) == {round(float(by) - square, 4)}


def test_a_board_that_was_cut_too_short(book):
    lower = changed_part(book, "front-board", lambda p: stretched(p, "y", 50, -SEVENTHS))
    amounts = set(told(lower).values())
    assert amounts == {round(float(SEVENTHS) - SQUARE, 4)}
    assert {f.spot.part for f in found_in(rule, lower)} >= {"page-1", "page-2", "page-3"}


def test_a_page_that_was_taped_too_low(book):
    old = next(j for j in book.joins if j.part == "page-2" and j.zone == "binding.tab")
    offset = old.offset._replace(y=old.offset.y - SEVENTHS)
    lower = changed_join(book, "page-2", "binding.tab", offset=offset)
    found = found_in(rule, lower)
    assert {round(float(f.amount.value), 4) for f in found} == {round(float(SEVENTHS) - SQUARE, 4)}
    # All that hangs on it, the back board too, goes with it; so page 1 is too high for that board.
    assert {f.spot.part for f in found} >= {"page-1", "page-2", "page-3"}


def test_a_pocket_that_was_taped_beyond_the_foot_of_its_page(book):
    by = Fraction(130, 7)
    old = next(j for j in book.joins if j.part == "page-4-pocket" and j.onto_part == "page-4")
    offset = old.offset._replace(y=old.offset.y - by)
    lower = changed_join(book, "page-4-pocket", old.zone, offset=offset)
    pocket = bound(book).assembly
    bottoms = [
        float(pose.at(point)[1])
        for name, pose in pocket.places["page-4-pocket"].items()
        for point in pocket.bench.parts["page-4-pocket"].outlines[name].points
    ]
    (amount,) = set(told(lower).values())
    assert amount == pytest.approx(float(by) - min(bottoms) - SQUARE, abs=1e-3)


def test_an_index_tab_that_was_asked_for_and_the_advice_followed():
    book = composed(album(FOUR, *INDEX))
    (finding,) = found_in(rule, book)
    assert (finding.spot.part, finding.spot.panel) == ("page-1", "tab")
    wide = at_fore_edge(book)["page-1"]
    assert float(finding.amount.value) == pytest.approx(-wide)
    assert found_in(rule, composed(album(FOUR, *INDEX), *advised(book, finding))) == []


def test_a_spine_too_narrow_to_open_the_book_pulls_the_covers_in_and_the_advice_mends_it():
    book = composed(album(FOUR, *TIGHT))
    whole = bound(book)
    assert all(square.size > 0 for square in closed_squares(book, whole.assembly))
    found = list(rule.check(whole))
    assert {f.spot.part for f in found} == {"page-1", "page-2", "page-3", "page-4"}
    squares = list(open_squares(book, whole.parts, whole.assembly))
    worst = min(square.size for square in squares)
    assert max(float(f.amount.value) for f in found) == pytest.approx(-worst)
    settings = advised(book, *found[:1])
    assert found_in(rule, composed(album(FOUR, *TIGHT), *settings)) == []


def test_covers_that_open_freely_only_slide_outwards(book):
    whole = bound(book)
    closed = at_fore_edge(book)
    squares = list(open_squares(book, whole.parts, whole.assembly))
    assert {square.opening for square in squares} == {1, 2, 3}
    assert all(square.size >= closed[square.page] - 1e-9 for square in squares)


def test_boards_are_not_to_grow_for_a_flap_that_is_folded_the_wrong_way(book):
    """What sticks out by more than 25 mm (from memory) is not mended by larger boards."""
    square = at_fore_edge(book)["page-3"]
    for out, sizes in ((Fraction(170, 7), {"usual.fore_edge"}), (Fraction(180, 7), set())):
        by = Fraction(square).limit_denominator(1000) + out
        wider = changed_part(book, "page-3", lambda p, by=by: longer_panel(p, "page", "x", by))
        assert {a.setting for f in found_in(rule, wider) for a in f.advice} == sizes

"""Squares that differ from those that were asked for.

Squares of 1/8 to 1/4 in: Bailey (1916), Vaughn, Bean and Brodhead (VALUES.md, section 5).
What the joint adds at the fore-edge is geometry.
"""

from fractions import Fraction

import pytest
from composed import advised, album, bound, composed, correct_books, found_in
from spoiling import changed_join, changed_part, longer_panel, stretched

from dielines.checks.finding import Severity
from dielines.checks.rules import square_not_as_wanted as rule
from dielines.folding.squares import board_extents

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
THIRD = Fraction(4, 3)


@pytest.fixture(scope="module")
def book():
    return composed(album(FOUR))


def told(book):
    return [
        (f.spot.part, round(float(f.amount.value), 4))
        for f in found_in(rule, book)
        if f.severity is Severity.WARNING
    ]


def both(by):
    return [("front-board", round(float(by), 4)), ("back-board", round(float(by), 4))]


def test_correct_books_have_the_squares_that_they_ask_for(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_boards_of_one_height_and_another(book):
    higher = changed_part(book, "front-board", lambda p: stretched(p, "y", 50, THIRD))
    assert told(higher) == [("front-board", 1.3333)]


def test_a_board_that_was_cut_too_wide(book):
    wider = changed_part(book, "front-board", lambda p: stretched(p, "x", 50, THIRD))
    assert told(wider) == [("front-board", 1.3333)]


def test_the_highest_page_counts(book):
    head = book.part("page-4").part.panel("page").bounds().top
    higher = changed_part(book, "page-4", lambda p: stretched(p, "y", head - 1, THIRD))
    assert told(higher) == both(THIRD)


def test_a_page_that_is_smaller_than_its_fellows_is_left_alone(book):
    smaller = changed_part(book, "page-4", lambda p: longer_panel(p, "page", "x", -THIRD))
    assert told(smaller) == []


def test_all_pages_taped_too_high(book):
    old = next(j for j in book.joins if j.part == "page-1" and j.onto_part == "front-board")
    offset = old.offset._replace(y=old.offset.y + THIRD)
    found = told(changed_join(book, "page-1", old.zone, offset=offset))
    assert [part for part, amount in found if amount == 1.3333] == ["front-board", "front-board"]


def test_a_joint_that_the_wrap_leaves_wider(book):
    old = next(j for j in book.joins if j.part == "joint-wrap" and j.onto_part == "front-board")
    offset = old.offset._replace(x=old.offset.x - THIRD)
    wide = changed_join(book, "joint-wrap", "front_hold", "front-board", offset=offset)
    ((part, amount),) = told(wide)
    # The joint leans a little, so the board stands off by a little more than its joint is wider.
    assert part == "front-board"
    assert amount == pytest.approx(float(THIRD), rel=0.02)
    before, after = (board_extents(bound(b).assembly)["front-board"] for b in (book, wide))
    assert after.right - before.right == pytest.approx(amount, abs=1e-4)


def test_a_cover_tab_too_short_for_the_joint_holds_the_board_back(book):
    """The tab is taped so far onto the board that the board comes nearer to the spine."""
    old = next(j for j in book.joins if j.part == "page-1" and j.onto_part == "front-board")
    offset = old.offset._replace(x=old.offset.x + 20)
    held = changed_join(book, "page-1", old.zone, offset=offset)
    ((part, amount),) = told(held)
    slack = bound(book).assembly.mismatch("page-1", old.zone).in_plane
    assert (part, amount) == ("front-board", round(20 - slack, 4))


@pytest.mark.parametrize(("square", "off"), [("1/32", 2.38125), ("1", 19.05)])
def test_squares_that_no_handbook_gives_are_a_remark_and_the_advice_followed(square, off):
    lines = ("[usual]", f'square = "{square}"')
    book = composed(album(FOUR, *lines))
    (finding,) = found_in(rule, book)
    assert finding.severity is Severity.REMARK
    assert float(finding.amount.value) == pytest.approx(off)
    assert found_in(rule, composed(album(FOUR, *lines), *advised(book, finding))) == []


def test_a_page_of_another_kind_at_the_fore_edge(book):
    by = Fraction(9, 7)
    wider = changed_part(book, "page-4", lambda p: longer_panel(p, "page", "x", by))
    assert told(wider) == both(by)

"""Cover tabs that reach too little. The way of a tab: common practice, no source; else arithmetic."""

from fractions import Fraction

import pytest
from composed import advised, album, bound, composed, correct_books, found_in
from spoiling import changed_join, changed_part, longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import cover_tab_reach as rule
from dielines.folding.cover_tabs import cover_tabs

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
FINS = album(FOUR, binding="concertina spine")
HINGE_TAB = 12.7
#: half of the 3/8 in that the spine has more than its channels, the joint, two boards of .08 in
WAY = (3 / 16 + 5 / 16 + 2 * 0.08) * 25.4
SEVENTHS = Fraction(30, 7)


@pytest.fixture(scope="module")
def book():
    return composed(album(FOUR))


def told(book):
    return {
        f.spot.part: (f.severity, round(float(f.amount.value), 4)) for f in found_in(rule, book)
    }


def moved(book, key, dx=0, dy=0):
    joins = [
        j for j in book.joins if j.part == key and j.onto_part in ("front-board", "back-board")
    ]
    old = joins[0]
    offset = old.offset._replace(x=old.offset.x + dx, y=old.offset.y + dy)
    return changed_join(book, key, old.zone, old.onto_part, offset=offset)


def test_correct_books_are_held_by_their_cover_tabs(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


@pytest.mark.parametrize("text", [album(FOUR), FINS], ids=["tabs", "fins"])
def test_the_way_of_a_cover_tab_is_the_rest_of_the_spine_the_joint_and_two_boards(text):
    whole = bound(composed(text))
    for tab in cover_tabs(whole.book, whole.assembly):
        assert tab.way == pytest.approx(WAY)
        assert tab.free == pytest.approx(WAY)
        assert tab.length == pytest.approx(50.8)


def test_a_tab_that_was_cut_too_short(book):
    by = Fraction(200, 7)
    short = changed_part(book, "page-1", lambda p: longer_panel(p, "binding.tab", "x", -by))
    lacking = HINGE_TAB - (50.8 - float(by) - WAY)
    assert told(short) == {"page-1": (Severity.WARNING, round(lacking, 4))}


def test_a_tab_that_does_not_reach_the_board_at_all(book):
    by = Fraction(250, 7)
    short = changed_part(book, "page-4", lambda p: longer_panel(p, "binding.tab", "x", -by))
    assert told(short) == {"page-4": (Severity.ERROR, round(WAY - 50.8 + float(by), 4))}


def test_tape_that_hangs_over_the_spine_edge_of_the_board(book):
    found = told(moved(book, "page-1", dx=-SEVENTHS))
    assert found == {"page-1": (Severity.ERROR, round(float(SEVENTHS) - 25.4 / 16, 4))}


def test_tape_that_hangs_over_the_head_of_the_board(book):
    join = next(j for j in book.joins if j.part == "page-4" and j.onto_part == "back-board")
    high = book.part("back-board").part.height
    by = high - join.offset.y - join.height + SEVENTHS
    found = told(moved(book, "page-4", dy=by))
    assert found["page-4"] == (Severity.ERROR, round(float(SEVENTHS), 4))


def test_boards_that_were_set_too_far_apart(book):
    """The wrap is stuck on so that its joint is wider than the tab allows for."""
    by = Fraction(180, 7)
    old = next(j for j in book.joins if j.zone == "front_hold" and j.onto_part == "front-board")
    offset = old.offset._replace(x=old.offset.x - by)
    wide = changed_join(book, "joint-wrap", "front_hold", "front-board", offset=offset)
    assert told(wide) == {
        "page-1": (Severity.WARNING, round(HINGE_TAB - (50.8 - WAY - float(by)), 4))
    }


def test_a_channel_that_was_stuck_too_far_from_the_end_of_the_spine(book):
    by = Fraction(180, 7)
    old = next(j for j in book.joins if j.part == "page-4" and j.onto_part == "spine-board")
    offset = old.offset._replace(x=old.offset.x + by)
    far = changed_join(book, "page-4", old.zone, "spine-board", offset=offset)
    lacking = HINGE_TAB - (50.8 - WAY - float(by))
    assert told(far) == {"page-4": (Severity.WARNING, round(lacking, 4))}


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_cover_tabs_that_were_asked_for_and_the_advice_followed(binding):
    lines = ("[usual]", 'cover_tab = "1"')
    book = composed(album(FOUR, *lines, binding=binding))
    found = found_in(rule, book)
    lacking = HINGE_TAB - (25.4 - WAY)
    assert [(f.severity, round(float(f.amount.value), 4)) for f in found] == [
        (Severity.WARNING, round(lacking, 4))
    ] * 2
    settings = advised(book, found[0])
    assert found_in(rule, composed(album(FOUR, *lines, binding=binding), *settings)) == []

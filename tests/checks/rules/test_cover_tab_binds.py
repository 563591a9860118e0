"""Cover tabs that hold their cover back. The taper: common practice, no source; else arithmetic."""

from fractions import Fraction

import pytest
from composed import advised, album, composed, correct_books, found_in
from spoiling import changed_join, changed_part, longer_panel, warped

from dielines.checks.finding import Severity
from dielines.checks.rules import cover_tab_binds as rule
from dielines.paths import Point

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
WAY = (3 / 16 + 5 / 16 + 2 * 0.08) * 25.4
SEVENTHS = Fraction(30, 7)


@pytest.fixture(scope="module")
def book():
    return composed(album(FOUR))


def told(book):
    return {
        f.spot.part: (f.severity, round(float(f.amount.value), 4)) for f in found_in(rule, book)
    }


def taped_at(book, key, board, dx):
    old = next(j for j in book.joins if j.part == key and j.onto_part == board)
    offset = old.offset._replace(x=old.offset.x + dx)
    return changed_join(book, key, old.zone, board, offset=offset)


def test_correct_books_open_flat(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_tab_that_was_taped_too_far_onto_the_board(book):
    found = told(taped_at(book, "page-1", "front-board", SEVENTHS))
    assert found == {"page-1": (Severity.ERROR, round(float(SEVENTHS), 4))}


def test_a_tab_that_was_taped_a_little_too_far_onto_the_back_board(book):
    found = told(taped_at(book, "page-4", "back-board", -Fraction(9, 7)))
    assert found == {"page-4": (Severity.WARNING, round(9 / 7, 4))}


def test_a_joint_that_the_wrap_leaves_too_wide_for_the_tab(book):
    old = next(j for j in book.joins if j.zone == "back_hold" and j.onto_part == "back-board")
    offset = old.offset._replace(x=old.offset.x + SEVENTHS)
    wide = changed_join(book, "joint-wrap", "back_hold", "back-board", offset=offset)
    assert told(wide) == {"page-4": (Severity.ERROR, round(float(SEVENTHS), 4))}


def test_a_channel_that_was_stuck_too_far_from_the_end_of_the_spine(book):
    old = next(j for j in book.joins if j.part == "page-1" and j.onto_part == "spine-board")
    offset = old.offset._replace(x=old.offset.x - SEVENTHS)
    far = changed_join(book, "page-1", old.zone, "spine-board", offset=offset)
    assert told(far) == {"page-1": (Severity.ERROR, round(float(SEVENTHS), 4))}


def test_a_tab_that_is_shorter_between_its_fold_and_its_tape(book):
    """Cut shorter beside its fold, with tape and join as they were."""
    by = Fraction(17, 7)
    box = book.part("page-1").part.panel("binding.tab").bounds()

    def nearer(point):
        return Point(point.x - by if point.x > box.left + 3 else point.x, point.y)

    short = changed_part(book, "page-1", lambda p: warped(p, nearer))
    assert told(short) == {"page-1": (Severity.ERROR, round(float(by), 4))}


def test_a_tab_that_widens_from_its_fold_on(book):
    box = book.part("page-4").part.panel("binding.tab").bounds()
    assert box.left == 0

    def wider(point):
        share = max(Fraction(0), 1 - Fraction(point.x) / box.right)
        up = 1 if point.y > 40 else -1
        return Point(point.x, point.y + up * share * 14) if point.x < box.right else point

    found = told(changed_part(book, "page-4", lambda p: warped(p, wider)))
    # 14 mm wider on each side at the far edge, less the taper of 6.35: at the board, WAY from the fold
    assert found == {"page-4": (Severity.WARNING, round(2 * (14 - 6.35) * WAY / 50.8, 4))}


def test_tabs_without_a_taper_that_were_asked_for_and_the_advice_followed():
    lines = ("[usual]", "taper = 0")
    book = composed(album(FOUR, *lines))
    found = found_in(rule, book)
    assert {f.spot.part: (f.severity, f.amount.value) for f in found} == {
        "page-1": (Severity.WARNING, 0),
        "page-4": (Severity.WARNING, 0),
    }
    assert found_in(rule, composed(album(FOUR, *lines), *advised(book, found[0]))) == []


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_tabs_too_short_for_their_way_and_the_advice_followed(binding):
    lines = ("[usual]", 'cover_tab = "1"', 'joint = "3/4"', 'tape_margin = "1/16"')
    book = composed(album(FOUR, *lines, binding=binding))
    found = found_in(rule, book)
    lacking = WAY + 7 / 16 * 25.4 - 7 / 8 * 25.4  # an eighth of it is taped, whatever is left
    assert [round(float(f.amount.value), 4) for f in found] == [round(lacking, 4)] * 2
    settings = advised(book, found[0])
    assert found_in(rule, composed(album(FOUR, *lines, binding=binding), *settings)) == []


def test_a_tab_that_was_made_longer_opens_more_freely(book):
    longer = changed_part(book, "page-1", lambda p: longer_panel(p, "binding.tab", "x", 5))
    assert told(longer) == {}

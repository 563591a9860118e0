"""Pages that are in each other's way when turned. All amounts are arithmetic on gussets and channels."""

from fractions import Fraction

import pytest
from composed import album, bound, composed, correct_books, found_in, plain
from spoiling import changed_join, changed_part, longer_panel, with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import pages_collide as rule
from dielines.folding.turning_pages import collisions

#: two flaps in the middle opening, gussets of 1/8 in each, in a channel of 1/4 in
FLAPS = '"plain leaf", "flap", "flap", "plain leaf"'
#: what lies between the pages beside the channel: tape and paper of the hinge strip, on both
BETWEEN = 2 * (0.0095 + 0.005) * 25.4
SEVENTHS = Fraction(20, 7)


@pytest.fixture(scope="module")
def book():
    return plain(composed(album(FLAPS)))


def told(book):
    return [
        (f.spot.part, f.spot.panel, round(float(f.amount.value), 4)) for f in found_in(rule, book)
    ]


def test_correct_books_turn_freely(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_hinge_strip_with_too_narrow_a_channel(book):
    narrow = changed_part(book, "hinge-strip", lambda p: longer_panel(p, "channel", "x", -SEVENTHS))
    assert told(narrow) == [("page-2", "flap", round(float(SEVENTHS) - BETWEEN, 4))]
    assert found_in(rule, narrow)[0].severity is Severity.ERROR


def test_a_gusset_that_was_made_too_wide(book):
    wide = changed_part(book, "page-2", lambda p: longer_panel(p, "gusset", "x", SEVENTHS))
    assert told(wide) == [("page-2", "flap", round(float(SEVENTHS) - BETWEEN, 4))]


def test_a_gusset_in_the_back_half_that_was_made_too_wide(book):
    by = Fraction(26, 7)
    wide = changed_part(book, "page-3", lambda p: longer_panel(p, "gusset", "x", by))
    assert told(wide) == [("page-2", "flap", round(float(by) - BETWEEN, 4))]


def test_a_gusset_that_reaches_through_the_page_behind_it():
    """In an opening with one flap only, its gusset is wider than channel and junction together."""
    book = plain(composed(album('"flap", "plain leaf", "plain leaf", "flap"')))
    by = Fraction(45, 7)
    wide = changed_part(book, "page-1", lambda p: longer_panel(p, "gusset", "x", by))
    junction = (0.0095 + 0.005) * 25.4
    wanted = 3.175 + float(by) - 6.35 - junction
    assert told(wide) == [("page-1", "flap", round(wanted, 4))]


def test_a_flap_that_stands_up_is_caught_as_the_page_is_turned(book):
    fold = next(
        str(line.key) for line in book.part("page-2").part.folds if "page" in line.key.panels()
    )
    standing = changed_part(book, "page-2", lambda p: with_angle(p, fold, 60))
    found = list(collisions(standing, *(lambda w: (w.parts, w.assembly))(bound(standing))))
    assert [collision.opening for collision in found] == [2]
    assert found[0].angle_deg > 0
    assert found_in(rule, standing)[0].amount.value > 10


def test_a_page_that_was_taped_on_the_wrong_side_of_its_neighbour(book):
    strip = next(j for j in book.joins if j.part == "hinge-strip" and j.zone == "back_tab")
    other = type(strip.onto_side).REVERSE if strip.onto_side.value == "face" else strip.onto_side
    wrong = changed_join(book, "hinge-strip", "back_tab", onto_side=other)
    found = found_in(rule, wrong)
    assert [f.spot.part for f in found] in (["page-2"], ["page-3"])
    assert float(found[0].amount.value) > BETWEEN


def test_flaps_that_just_fit_do_not_touch(book):
    by = Fraction(7, 10)  # mm; BETWEEN is 0.7366
    wide = changed_part(book, "page-2", lambda p: longer_panel(p, "gusset", "x", by))
    assert told(wide) == []


def test_flaps_beside_each_other_may_fold_into_one_place():
    """One comes from the head, one from the tail: they share no height."""
    book = plain(composed(album('"plain leaf", "gate doors", "flap", "plain leaf"')))
    assert told(book) == []

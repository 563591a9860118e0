"""Folds across zones of tape. All of it is geometry."""

from fractions import Fraction

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, spoiled, with_score, with_steeper_line
from spoiling import changed_zone, moved_zone, with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import fold_in_tape as rule
from dielines.paths import rectangle


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    assert finding.severity is Severity.WARNING
    return finding


def test_tape_of_a_tab_moved_over_its_fold(book):
    found = the_finding(book, "page-3", lambda p: moved_zone(p, "binding.tab", dx=3))
    assert float(found.amount.value) == pytest.approx(100, abs=0.01)
    assert found.spot.panel == "binding.tab"
    assert found.spot.point.x == pytest.approx(12)


def test_tape_of_a_seam_moved_over_its_fold(book):
    found = the_finding(book, "page-1", lambda p: moved_zone(p, "seam", dy=-Fraction(22, 7)))
    assert 100 < float(found.amount.value) < 137


def test_tape_made_higher_than_its_panel(book):
    wide = rectangle(20, 200, 61, 220)
    found = the_finding(book, "page-1", lambda p: changed_zone(p, "seam", lambda z: wide))
    # both folds of the gusset cross it: that which runs longest is told
    assert float(found.amount.value) == pytest.approx(41, abs=0.01)


def test_a_score_drawn_through_the_tape(book):
    found = the_finding(
        book, "page-3", lambda p: with_score(p, "binding.tab", (6, 20), (6, 20 + Fraction(40, 7)))
    )
    assert float(found.amount.value) == pytest.approx(40 / 7, abs=0.01)


def test_tape_of_a_channel_made_wider_than_it(book):
    wide = rectangle(10, 5, 20, 98)
    found = the_finding(
        book, "page-3", lambda p: changed_zone(p, "binding.channel", lambda z: wide)
    )
    assert float(found.amount.value) == pytest.approx(93, abs=0.01)


def test_an_oblique_score_through_the_tape(book):
    found = the_finding(
        book, "page-3", lambda p: with_score(p, "binding.tab", (2, 20), (8, 28), angle_deg=-45)
    )
    assert float(found.amount.value) == pytest.approx(10)


def test_tape_may_cross_a_score_that_rests_flat(book):
    folded = spoiled(
        book, "page-3", lambda p: with_score(p, "binding.tab", (6, 20), (6, 60), angle_deg=0)
    )
    assert found_in(rule, folded) == []


def test_a_fold_that_ends_flat_but_is_folded_on_the_way_counts(book):
    def flat_in_the_end(part):
        moved = moved_zone(part, "binding.tab", dx=3)
        return with_steeper_line(moved, "binding.tab | binding.channel", 0)

    the_finding(book, "page-3", flat_in_the_end)

    def never_folded(part):
        moved = moved_zone(part, "binding.tab", dx=3)
        return with_angle(moved, "binding.tab | binding.channel", 0)

    assert found_in(rule, spoiled(book, "page-3", never_folded)) == []


def test_tape_up_to_the_fold_does_not_cross_it(book):
    folded = spoiled(book, "page-3", lambda p: moved_zone(p, "binding.tab", dx=Fraction(3, 2)))
    assert found_in(rule, folded) == []

"""Edges inside a fold that end on it. 1/32 in is from memory; what the fold takes up is assumed."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import (
    PAPER,
    book_of,
    composed,
    found_in,
    mixed_book,
    shut_roll,
    spoiled,
    with_stock,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import zero_clearance as rule

LESS = 1.5875  #: mm by which each leaf of a roll is narrower than the one before
CLEAR = 25.4 / 32


@pytest.fixture
def roll(tmp_path):
    """A roll of three leaves between plain leaves."""
    text = book_of(["plain leaf", "roll fold", "plain leaf"], "[page.2]\nrolls = 3\n")
    return composed(tmp_path, text)


def longer(folded, panel, by):
    return spoiled(folded, "page-2", lambda p: longer_panel(p, panel, "x", by))


def the_finding(folded):
    (finding,) = found_in(rule, folded)
    return finding


def test_correct_books_have_remarks_at_most(samples, tmp_path):
    for folded in samples.values():
        assert {f.severity for f in found_in(rule, folded)} <= {Severity.REMARK}
    for seed in range(0, 20, 4):
        found = found_in(rule, composed(tmp_path, random_book(seed), workshop=""))
        assert {f.severity for f in found} <= {Severity.REMARK}


def test_a_roll_whose_leaves_grow_narrower_has_nothing_on_a_fold(roll):
    assert found_in(rule, roll) == []


def test_a_leaf_as_wide_as_the_one_before_puts_two_gussets_into_one_place(roll):
    found = the_finding(longer(roll, "leaf2", LESS))
    assert found.severity is Severity.WARNING
    assert (found.spot.part, found.spot.panel) == ("page-2", "leaf2")
    assert float(found.amount.value) == pytest.approx(CLEAR, abs=1e-4)


def test_the_last_leaf_may_end_at_a_gusset_but_is_remarked_upon(roll):
    found = the_finding(longer(roll, "leaf3", LESS))
    assert found.severity is Severity.REMARK
    assert float(found.amount.value) == pytest.approx(CLEAR, abs=1e-4)


def test_a_leaf_that_ends_less_than_a_paper_from_the_fold_is_too_near(roll):
    """A seventh of a millimetre is left of what it should be shortened by."""
    found = the_finding(longer(roll, "leaf3", LESS - 1 / 7))
    assert float(found.amount.value) == pytest.approx(CLEAR - 1 / 7, abs=1e-4)
    assert found_in(rule, longer(roll, "leaf3", LESS - PAPER)) == []


def test_shortened_by_what_is_told_it_is_silent(roll):
    tight = longer(roll, "leaf2", LESS)
    lacking = the_finding(tight).amount.value
    assert found_in(rule, longer(tight, "leaf2", -lacking)) == []


def test_what_ends_in_a_crease_without_a_gusset_has_no_room_at_all(roll):
    """Every gusset folded shut with its leaf: leaf two then ends in the crease at the fore-edge."""
    shut = spoiled(roll, "page-2", shut_roll)
    page, first, second = 133.35, 3.175 + 131.7625, 3.175 * 2 / 3 + 130.175
    clearance = page - (page - first + second)
    found = the_finding(longer(shut, "leaf2", clearance))
    assert found.severity is Severity.WARNING
    assert found.spot.panel == "leaf2"


def test_backs_of_pockets_that_end_at_their_channels_are_told_once(tmp_path):
    """A back lies between tab and front and is cut as wide as the page: a remark, with 1/32 in."""
    folded = composed(tmp_path, mixed_book(4))
    found = the_finding(folded)
    assert (found.spot.part, found.spot.panel) == ("page-1", "back")
    assert found.severity is Severity.REMARK
    assert float(found.amount.value) == pytest.approx(CLEAR, abs=1e-4)
    assert "1 more part" in found.message  # page 3, a mirror image


def test_a_back_cut_shorter_at_its_channel_is_silent(tmp_path):
    """Thinner paper needs less; a thicker one takes in what was clear before."""
    text = book_of(["plain leaf", "roll fold", "plain leaf"], "[page.2]\nrolls = 3\n")
    folded = composed(tmp_path, text)
    near = longer(folded, "leaf3", LESS - 1 / 3)
    assert found_in(rule, near) == []
    assert len(found_in(rule, with_stock(near, "pages", "2/5"))) == 1

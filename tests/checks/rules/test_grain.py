"""The grain and the folds of the binding.

Grain parallel to the spine: Etherington and Roberts (VALUES.md, dt0053). The thickness
from which gussets crack is from memory.
"""

from dataclasses import replace

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, spoiled
from spoiling import changed_part

from dielines.checks.finding import Severity
from dielines.checks.rules import grain as rule

THICK = """\
units = "mm"
[papers."thick"]
roles = ["pages"]
caliper = "0.37 mm"
grain = "long"
sheets = ["A3"]
"""


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    assert finding.severity is Severity.REMARK
    return finding


def grained(grain):
    return lambda part: replace(part, grain=grain)


def test_a_page_with_its_grain_across_folds_against_it(book):
    assert the_finding(book, "page-3", grained("across")).amount.value == 2


def test_a_page_whose_grain_is_left_free_may_fold_against_it(book):
    found = the_finding(book, "page-4", grained("free"))
    assert found.amount.value == 2
    assert "either" in found.message


def test_a_hinge_strip_with_its_grain_across_folds_against_it(book):
    assert the_finding(book, "hinge-strip", grained("across")).amount.value == 2


@pytest.mark.parametrize("key", ["spine-board", "joint-wrap", "spine-lining"])
def test_what_bends_with_the_cover_has_its_grain_along_the_spine(book, key):
    assert the_finding(book, key, grained("across")).amount.value == 0


def test_gussets_of_a_pocket_may_run_across(book):
    assert found_in(rule, book) == []


def test_stiff_pockets_are_told_once_a_book(folded_of):
    three = SIXTHS.replace('"flap", "photo slits"', '"top pocket", "side pocket"')
    folded = folded_of(three, workshop=THICK)
    (found,) = found_in(rule, flat_book(folded.book, folded.workshop))
    assert found.severity is Severity.REMARK
    assert float(found.amount.value) == pytest.approx(0.07)


def test_a_stiff_book_without_pockets_is_silent(folded_of):
    folded = folded_of(SIXTHS.replace('"side pocket"', '"flap"'), workshop=THICK)
    assert found_in(rule, flat_book(folded.book, folded.workshop)) == []


def test_handmade_paper_has_no_grain(folded_of):
    handmade = THICK.replace('grain = "long"', 'grain = "none"')
    folded = folded_of(SIXTHS, workshop=handmade)
    across = changed_part(folded.book, "page-3", grained("across"))
    assert found_in(rule, flat_book(across, folded.workshop)) == []


def test_a_pocket_of_a_page_is_not_judged(folded_of):
    cards = folded_of(SIXTHS.replace('"flap"', '"library-card pocket"'))
    across = changed_part(cards.book, "page-2-pocket", grained("across"))
    assert found_in(rule, flat_book(across, cards.workshop)) == []

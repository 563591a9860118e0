"""Layers of which nothing says which lies on top. All of it is geometry."""

from dataclasses import replace

import pytest
from folded_parts_of import POCKETS, built_in, drawn, found_by, spoilt, with_other
from random_books import random_book

from dielines.checks.finding import Severity
from dielines.checks.rules import order_unclear as rule
from dielines.checks.rules import through_each_other


def test_samples_and_correct_books_are_clear(samples, folded_of):
    books = [*samples.values(), *(folded_of(random_book(seed)) for seed in range(9))]
    assert [found_by(rule, book) for book in books if found_by(rule, book)] == []


@pytest.mark.parametrize("name", ["envelope", "map-fold", "roll-fold", "one-slit-booklet"])
def test_parts_with_steps_are_clear(folded_of, name):
    assert found_by(rule, with_other(folded_of(POCKETS), built_in(name)), "page-2") == []


def without_steps(part):
    return replace(part, steps=())


@pytest.mark.parametrize("name", ["envelope", "three-flaps", "round-card", "half-pocket"])
def test_flaps_that_overlap_in_any_order_are_told_without_steps(folded_of, name):
    book = with_other(folded_of(POCKETS), without_steps(built_in(name)))
    (found,) = found_by(rule, book, "page-2")
    assert found.severity is Severity.ERROR
    assert found.amount.value >= 1
    assert found_by(through_each_other, book, "page-2") == []


def test_a_bound_pocket_without_steps_is_told_of_its_seam(folded_of):
    (found,) = found_by(rule, spoilt(folded_of(POCKETS), "page-1", without_steps), "page-1")
    assert "seam" in found.message


def test_four_deep_flaps_without_steps_are_told(folded_of):
    """Four flaps 3 deep on 4 x 4: FOLDING counts 24 orders."""
    rows = ["30 : . up .", "40 : left base right", "30 : . down ."]
    part = drawn("30, 40, 30", rows, ['"* | *" = 180', '"* / *" = 180'], "up / base")
    book = with_other(folded_of(POCKETS), without_steps(part))
    (found,) = found_by(rule, book, "page-2")
    assert found.amount.value == 4 + 2  # each of the four pairs at a corner, both facing pairs
    assert "3 more pairs" in found.message  # three are named


@pytest.mark.parametrize("name", ["map-fold", "flap", "gate-doors"])
def test_what_can_be_folded_in_one_way_only_is_clear_without_steps(folded_of, name):
    book = with_other(folded_of(POCKETS), without_steps(built_in(name)))
    assert found_by(rule, book, "page-2") == []


def test_steps_as_advised_mend_it(folded_of):
    part = built_in("envelope")
    assert found_by(rule, with_other(folded_of(POCKETS), without_steps(part)), "page-2")
    assert found_by(rule, with_other(folded_of(POCKETS), part), "page-2") == []


def test_a_bound_page_whose_own_folds_are_in_no_step_is_told_of_them(folded_of):
    """The binding declares a step for its tab; that says nothing of the page's folds."""

    def without_own_steps(part):
        return replace(part, steps=part.steps[-1:])

    part = folded_of(POCKETS).book.part("page-2").part  # three flaps, with a hinge tab
    assert "binding" in str(part.steps[-1])
    (found,) = found_by(rule, spoilt(folded_of(POCKETS), "page-2", without_own_steps), "page-2")
    assert "flap" in found.message

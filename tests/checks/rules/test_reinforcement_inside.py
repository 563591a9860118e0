"""Reinforcement on the inside of the folds it strengthens. Common practice, no source."""

from dataclasses import replace

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, spoiled, turned_over
from spoiling import with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import reinforcement_inside as rule
from dielines.part import Side


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def on_other_side(part):
    other = Side.REVERSE if part.covers_side is Side.FACE else Side.FACE
    return replace(part, covers_side=other)


def the_finding(folded, key):
    found = {finding.spot.part: finding for finding in found_in(rule, folded)}
    assert set(found) == {key}
    assert found[key].severity is Severity.WARNING
    return found[key]


@pytest.mark.parametrize("key", ["page-1-reinforcement", "hinge-strip-backing"])
def test_a_reinforcement_on_the_wrong_side(book, key):
    assert the_finding(spoiled(book, key, on_other_side), key).amount.value == 2


@pytest.mark.parametrize("key", ["page-4", "hinge-strip"])
def test_folds_that_go_the_other_way_than_the_reinforcement(book, key):
    strips = {"page-4": "page-4-reinforcement", "hinge-strip": "hinge-strip-backing"}
    assert the_finding(spoiled(book, key, turned_over), strips[key]).amount.value == 2


def test_a_reinforcement_that_covers_one_fold_only(book):
    def change(part):
        return replace(on_other_side(part), covers=("binding.tab",))

    key = "page-1-reinforcement"
    assert the_finding(spoiled(book, key, change), key).amount.value == 1


def test_a_reinforcement_inside_a_tab_whose_other_fold_rests_flat(book):
    turned = spoiled(book, "page-4", turned_over)
    flat = spoiled(turned, "page-4", lambda p: with_angle(p, "binding.channel | page", 0))
    assert the_finding(flat, "page-4-reinforcement").amount.value == 1


def test_folds_of_both_signs_have_the_strip_outside_of_as_many_as_inside(book):
    zigzag = spoiled(book, "page-4", lambda p: with_angle(p, "binding.channel | page", 90))
    assert found_in(rule, zigzag) == []


def test_the_backing_of_cloth_lies_where_it_does_not_show(book):
    assert found_in(rule, spoiled(book, "joint-wrap-backing", on_other_side)) == []
    assert found_in(rule, book) == []

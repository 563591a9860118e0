"""Tape on the side that does not look at its target. The order of layers is geometry."""

from dataclasses import replace

import pytest
from seam_spoils import (
    MORE,
    POCKETS,
    correct_books,
    faults_in,
    found_in,
    other_side,
    speaking,
    spoiled,
    with_zone,
)
from spoiling import changed_part, with_steps

from dielines.checks.finding import Severity
from dielines.checks.rules import tape_faces_away as rule
from dielines.folding.folded_book import FoldedBook
from dielines.part import Side


def test_samples_and_correct_books_have_no_tape_on_the_wrong_side(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


@pytest.mark.parametrize(
    ("text", "key", "zone"),
    [
        (POCKETS, "page-1", "seam"),
        (POCKETS, "page-3", "seam2"),
        (POCKETS, "page-6", "seam"),
        (MORE, "page-1", "seam"),
        (MORE, "page-2", "inner_seam"),
        (MORE, "page-4-pocket", "seam1"),
    ],
)
def test_tape_on_the_other_side_of_a_seam_is_caught_by_this_rule_alone(folded_of, text, key, zone):
    folded = spoiled(folded_of(text), key, lambda part: other_side(part, zone))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert (found.spot.part, found.spot.panel) == (key, zone)
    assert found.amount.value == 180
    assert speaking(folded) == {"tape_faces_away"}


def test_a_seam_folded_last_needs_its_tape_on_the_other_side(folded_of):
    def last(part):
        return with_steps(part, "front / tail, tail / back", "seam / head, head / front")

    folded = spoiled(folded_of(POCKETS), "page-1", last)
    (found,) = found_in(rule, folded)
    assert found.spot.panel == "seam"
    mended = spoiled(folded, "page-1", lambda part: other_side(part, "seam"))
    assert found_in(rule, mended) == []


def test_a_raised_flap_taped_on_the_side_that_looks_away_is_caught(folded_of):
    def change(part):
        return with_zone(part, "flap", Side.REVERSE, "page", (2, 10, 30, 40))

    found = found_in(rule, spoiled(folded_of(POCKETS), "page-2", change))
    assert [f.spot.panel for f in found] == ["flap"]


def test_a_tab_with_its_tape_on_the_inside_is_caught(folded_of):
    folded = spoiled(folded_of(POCKETS), "page-2", lambda part: other_side(part, "binding.tab"))
    (found,) = found_in(rule, folded)
    assert (found.spot.part, found.spot.panel) == ("page-2", "binding.tab")


def test_a_target_that_looks_the_same_way_is_caught(folded_of):
    book = folded_of(POCKETS)
    joins = [
        replace(j, onto_side=other(j.onto_side)) if j.zone == "binding.channel" else j
        for j in book.book.joins
    ]
    folded = FoldedBook(replace(book.book, joins=tuple(joins)), book.workshop)
    assert {f.spot.panel for f in found_in(rule, folded)} >= {"binding.channel"}


def other(side):
    return next(s for s in type(side) if s is not side)


def test_both_errors_at_once_are_both_told(folded_of):
    book = folded_of(POCKETS)
    spoilt = changed_part(
        book.book, "page-3", lambda p: other_side(other_side(p, "seam1"), "seam2")
    )
    folded = FoldedBook(spoilt, book.workshop)
    assert [f.spot.panel for f in found_in(rule, folded)] == ["seam1", "seam2"]

"""Panels that come through each other. All of it is geometry."""

from dataclasses import replace

import pytest
from folded_parts_of import POCKETS, built_in, found_by, spoilt, with_other
from random_books import random_book
from spoiling import with_angle, with_steps

from dielines.checks.finding import Severity
from dielines.checks.rules import order_unclear
from dielines.checks.rules import through_each_other as rule

TOGETHER = ("envelope", "three-flaps", "round-card", "half-pocket", "bellows-pocket", "map-fold")


def all_at_once(part):
    return with_steps(part, ", ".join(str(line.key) for line in part.folds))


def test_samples_and_correct_books_fold(samples, folded_of):
    books = [*samples.values(), *(folded_of(random_book(seed)) for seed in range(9))]
    assert [found_by(rule, book) for book in books if found_by(rule, book)] == []


@pytest.mark.parametrize("name", TOGETHER)
def test_folding_all_at_once_is_told_with_the_step(folded_of, name):
    part = built_in(name)
    assert found_by(rule, with_other(folded_of(POCKETS), part), "page-2") == []
    found = found_by(rule, with_other(folded_of(POCKETS), all_at_once(part)), "page-2")
    assert found
    assert {(f.severity, f.amount.value, f.amount.unit) for f in found} == {
        (Severity.ERROR, 1, "step")
    }


def test_a_bound_pocket_without_steps_is_told_of_its_back_and_its_cover_tab(folded_of):
    found = found_by(rule, spoilt(folded_of(POCKETS), "page-1", all_at_once), "page-1")
    assert any("back" in f.message and "cover tab" in f.message for f in found)


def test_it_alone_speaks_of_an_envelope_folded_at_once(folded_of):
    book = with_other(folded_of(POCKETS), all_at_once(built_in("envelope")))
    assert found_by(order_unclear, book, "page-2") == []


def test_all_pairs_of_a_step_are_told_at_once_and_counted(folded_of):
    (found,) = found_by(
        rule, with_other(folded_of(POCKETS), all_at_once(built_in("envelope"))), "page-2"
    )
    assert "1 more pair of panels" in found.message  # three of the four are named
    assert {"lid", "left", "right"} <= set(found.message.replace(",", "").split())


def test_the_step_that_is_told_is_the_one_in_which_they_meet(folded_of):
    part = built_in("envelope")
    names = [str(line.key) for line in part.folds]
    two = with_steps(part, names[0], ", ".join(names[1:]))
    (found,) = found_by(rule, with_other(folded_of(POCKETS), two), "page-2")
    assert (found.amount.value, found.amount.unit) == (2, "step")


def test_without_steps_no_step_is_blamed(folded_of):
    wrong = replace(with_angle(built_in("map-fold"), "c | d", 180), steps=())
    (found,) = found_by(rule, with_other(folded_of(POCKETS), wrong), "page-2")
    assert "in step" not in found.message
    assert "way" in found.remedy  # another step would not mend it


def test_a_step_after_the_other_mends_it(folded_of):
    part = built_in("envelope")
    names = [str(line.key) for line in part.folds]
    book = with_other(folded_of(POCKETS), with_steps(part, *names))
    assert found_by(rule, book, "page-2") == []

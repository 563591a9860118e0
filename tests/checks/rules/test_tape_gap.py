"""Zones of which the widths of tape leave much bare."""

from dataclasses import replace
from fractions import Fraction

import pytest
from case_books import COMB, MILLIMETRES, SEEDS, amounts, found, in_book
from random_books import random_book
from spoiling import changed_part, changed_zone

from dielines.checks.finding import Severity
from dielines.checks.rules import tape_gap as rule
from dielines.lengths import Length
from dielines.paths import bounds_of, rectangle
from dielines.workshop.tape import Roll

F = Fraction


def with_widths(book, *widths):
    rolls = tuple(Roll(Length(F(width))) for width in sorted(widths))
    return replace(book, tape=replace(book.tape, rolls=rolls))


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books_where_there_is_tape_of_every_width(folded_of, seed):
    folded = folded_of(random_book(seed))
    assert in_book(rule, folded, with_widths(folded.book, *range(1, 31))) == []


def test_it_is_a_remark_with_the_share_where_the_samples_leave_a_gap(samples):
    assert found(rule, samples["lakeside"]) == []
    # a channel of 5 mm with tape of 3
    (remark,) = found(rule, samples["seed-swap"])
    assert remark.severity is Severity.REMARK
    assert (remark.amount.unit, float(remark.amount.value)) == ("1", pytest.approx(0.4))


def wide(key, zone, width):
    """A zone made so wide about its middle, across its longer side."""

    def path(old):
        box = bounds_of([old])
        if box.width < box.height:
            middle = (box.left + box.right) / 2
            return rectangle(middle - width / 2, box.bottom, middle + width / 2, box.top)
        middle = (box.bottom + box.top) / 2
        return rectangle(box.left, middle - width / 2, box.right, middle + width / 2)

    return lambda book: changed_part(book, key, lambda part: changed_zone(part, zone, path))


# widths 3, 6, 9, 12, 19, 25
SPOILS = {
    "a seam of 17/3": (wide("page-2", "seam", F(17, 3)), [8 / 17]),
    "a turn-in of 5": (wide("joint-wrap", "head", F(5)), [0.4]),
    "a strip of 4 1/10": (wide("edge-front-head", "outside", F(41, 10)), [11 / 41]),
    "a hold of 35/6": (wide("joint-wrap", "back_hold", F(35, 6)), [17 / 35]),
    "a lining of 9/2": (wide("spine-lining", "lining", F(9, 2)), [1 / 3]),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_the_share_that_stays_bare_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    before = amounts(found(rule, folded))
    findings = in_book(rule, folded, change(folded.book))
    assert before == []
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.REMARK}


def test_a_quarter_is_not_much(folded_of):
    folded = folded_of(MILLIMETRES)
    assert in_book(rule, folded, wide("page-2", "seam", F(4))(folded.book)) == []
    assert len(in_book(rule, folded, wide("page-2", "seam", F(401, 100))(folded.book))) == 1

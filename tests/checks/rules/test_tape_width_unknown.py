"""Zones of tape that are narrower than any tape that the person owns."""

from dataclasses import replace
from fractions import Fraction

import pytest
from case_books import COMB, MILLIMETRES, SEEDS, amounts, found, in_book
from random_books import random_book
from spoiling import changed_part, changed_zone

from dielines.checks.finding import Severity
from dielines.checks.rules import tape_width_unknown as rule
from dielines.paths import Point, bounds_of, mapped, rectangle

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


def narrowed(key, zone, width):
    """A zone made so narrow about its middle, across its longer side."""

    def path(old):
        box = bounds_of([old])
        if box.width < box.height:
            middle = (box.left + box.right) / 2
            return rectangle(middle - width / 2, box.bottom, middle + width / 2, box.top)
        middle = (box.bottom + box.top) / 2
        return rectangle(box.left, middle - width / 2, box.right, middle + width / 2)

    return lambda book: changed_part(book, key, lambda part: changed_zone(part, zone, path))


def only(*widths):
    """The person owns these widths and no other."""

    def change(book):
        rolls = [roll for roll in book.tape.rolls if roll.width.mm in widths]
        assert len(rolls) == len(widths)
        return replace(book, tape=replace(book.tape, rolls=tuple(rolls)))

    return change


# widths 3, 6, 9, 12, 19, 25
SPOILS = {
    "a seam of 7/3": (narrowed("page-2", "seam", F(7, 3)), [0.667]),
    "a turn-in of 1": (narrowed("joint-wrap", "head", F(1)), [2]),
    "a strip of 5/2": (narrowed("edge-front-head", "outside", F(5, 2)), [0.5]),
    "a lining of 2/7": (narrowed("spine-lining", "lining", F(2, 7)), [2.714]),
    "a hold of 29/10": (narrowed("joint-wrap", "back_hold", F(29, 10)), [0.1]),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_how_much_narrower_the_tape_would_have_to_be_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.WARNING}


def test_with_wide_tape_alone_every_width_that_is_missing_is_told_once(folded_of):
    folded = folded_of(MILLIMETRES)
    findings = in_book(rule, folded, only(12, 19)(folded.book))
    # channels of 6, insides of strips 7.5, tabs 9, outsides of strips 9.5
    assert amounts(findings) == [6, 4.5, 3, 2.5]
    assert findings[3].spot.part.startswith("edge-")
    assert findings[3].spot.panel == "outside"


def test_a_zone_is_as_wide_as_it_is_wherever_it_lies(folded_of):
    folded = folded_of(MILLIMETRES)
    moved = changed_part(
        folded.book,
        "page-2",
        lambda part: changed_zone(
            part, "seam", lambda path: mapped(path, lambda p: Point(p.x + 1, p.y - F(1, 3)), False)
        ),
    )
    assert in_book(rule, folded, moved) == []

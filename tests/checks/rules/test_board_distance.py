"""Boards set spine and two joints apart."""

from dataclasses import replace
from fractions import Fraction

import pytest
from case_books import COMB, MILLIMETRES, SEEDS, amounts, found, in_book, shorter
from random_books import random_book
from spoiling import changed_join, without_part

from dielines.checks.finding import Severity
from dielines.checks.rules import board_distance as rule
from dielines.paths import Point

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


def moved(zone, board, dx):
    def change(book):
        join = next(j for j in book.joins if (j.zone, j.onto_part) == (zone, board))
        offset = Point(join.offset.x + dx, join.offset.y)
        return changed_join(book, "joint-wrap", zone, board, offset=offset)

    return change


def middle_of(book, panel):
    box = book.part("joint-wrap").part.panel(panel).bounds()
    return float(box.left + box.right) / 2


def panel(name, by):
    return lambda b: shorter(b, "joint-wrap", "x", middle_of(b, name), by)


WARNING, ERROR = Severity.WARNING, Severity.ERROR
# a joint is 8; what is stretched in the middle of the spine panel moves half to each side
SPOILS = {
    "a joint 7/3 wider": (panel("front_joint", F(7, 3)), [2.333], WARNING),
    "a joint 3 narrower": (panel("back_joint", -3), [3], WARNING),
    "the spine of the wrap 5 wider": (panel("spine", 5), [2.5, 2.5], WARNING),
    "the spine board 4 wider": (
        lambda b: shorter(b, "spine-board", "x", 10, 4),
        [4],
        WARNING,
    ),
    "a board laid 5/3 nearer": (moved("front_hold", "front-board", F(5, 3)), [1.667], WARNING),
    "a board laid 2 farther": (moved("back_hold", "back-board", 2), [2], WARNING),
    "a joint 11 narrower: the board lies over the spine": (
        lambda b: panel("front_joint", 0)(moved("front_hold", "front-board", 11)(b)),
        [11],
        ERROR,
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_by_how_much_the_joint_is_off_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted, severity = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {severity}


def test_a_book_without_a_wrap_or_a_spine_board_has_no_such_joint(folded_of):
    folded = folded_of(MILLIMETRES)
    for key in ("joint-wrap", "spine-board"):
        assert in_book(rule, folded, without_part(folded.book, key)) == []


def test_joins_of_the_lining_and_of_strips_are_no_wrap(folded_of):
    folded = folded_of(MILLIMETRES)
    parts = [replace(e, role="edges") if e.role == "wrap" else e for e in folded.book.parts]
    assert in_book(rule, folded, replace(folded.book, parts=tuple(parts))) == []

"""Edge strips that show more on one side of their board than on the other."""

from fractions import Fraction

import pytest
from case_books import (
    COMB,
    INCHES,
    MILLIMETRES,
    SEEDS,
    amounts,
    found,
    in_book,
    settings_of,
    shorter,
    thicker,
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join

from dielines.checks.finding import Severity
from dielines.checks.rules import edge_strip_uneven as rule
from dielines.paths import Point

F = Fraction
TWICE = "usual.edge_scores=twice"


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books_whose_strips_are_scored_twice(folded_of, seed):
    assert found(rule, folded_of(random_book(seed), TWICE)) == []


def test_the_samples_have_the_remark_that_scoring_once_is_uneven_by_a_board(samples):
    # TRADE.md: "a strip scored once in the middle shows half outside and half less a board
    # thickness inside"
    for folded in samples.values():
        (remark,) = found(rule, folded)
        assert remark.severity is Severity.REMARK
        assert float(remark.amount.value) == pytest.approx(2)


@pytest.mark.parametrize("text", [MILLIMETRES, COMB, INCHES])
@pytest.mark.parametrize("corners", ["mitred", "overlapped"])
def test_scored_twice_as_it_advises_it_is_silent(folded_of, text, corners):
    style = f"usual.edge_corners={corners}"
    findings = found(rule, folded_of(text, style))
    assert settings_of(findings) == [TWICE]
    assert found(rule, folded_of(text, style, TWICE)) == []


def moved(key, dx, dy):
    def change(book):
        join = next(j for j in book.joins if (j.part, j.zone) == (key, "outside"))
        return changed_join(
            book, key, "outside", offset=Point(join.offset.x + dx, join.offset.y + dy)
        )

    return change


SPOILS = {
    "laid 3/2 too far out": (moved("edge-front-head", 0, -F(3, 2)), [3]),
    "laid 2/3 too far in": (moved("edge-front-tail", 0, -F(2, 3)), [1.333]),
    "the inside 4 longer": (lambda b: shorter(b, "edge-back-fore-edge", "x", 20, 4), [4]),
    "the outside 10/7 shorter": (
        lambda b: shorter(b, "edge-front-fore-edge", "x", F(1, 2), -F(10, 7)),
        [1.429],
    ),
    # three strips of this board, all by as much
    "a board 3 thick": (lambda b: thicker(b, "back-board", 3), [1]),
    "the inside of a strip 7 narrower": (
        lambda b: shorter(b, "edge-back-head", "x", 3, -7),
        [7],
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_by_how_much_is_told(folded_of, text, spoil):
    folded = folded_of(text, TWICE)
    change, wanted = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.01)
    assert {finding.severity for finding in findings} == {Severity.REMARK}
    assert all(finding.advice == () for finding in findings)

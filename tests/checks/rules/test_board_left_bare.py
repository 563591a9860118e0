"""Edges of boards, and the outside of the spine, that nothing covers."""

from fractions import Fraction

import pytest
from case_books import COMB, MILLIMETRES, SEEDS, amounts, found, in_book, shorter
from random_books import random_book
from spoiling import changed_join, without_join, without_part

from dielines.checks.rules import board_left_bare as rule
from dielines.paths import Point

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


@pytest.mark.parametrize("corners", ["mitred", "overlapped"])
@pytest.mark.parametrize("scores", ["once", "twice"])
def test_it_is_silent_however_strips_meet_and_are_scored(folded_of, corners, scores):
    settings = f"usual.edge_corners={corners}", f"usual.edge_scores={scores}"
    assert found(rule, folded_of(MILLIMETRES, *settings)) == []


def moved(key, dx, dy):
    def change(book):
        join = next(j for j in book.joins if (j.part, j.zone) == (key, "outside"))
        return changed_join(
            book, key, "outside", offset=Point(join.offset.x + dx, join.offset.y + dy)
        )

    return change


#: by which a turn-in of the wrap, tapering by 1/16 in over 20 mm, is narrower at a board's thickness
TAPER = 1.5875 * 1.98 / 20

# Boards of 101 x 141, a spine board of 34, holds of 25.
SPOILS = {
    "no strip at a fore-edge": (lambda b: without_part(b, "edge-front-fore-edge"), [141]),
    "no strip at a head": (lambda b: without_part(b, "edge-back-head"), [76 + TAPER]),
    "a strip that nothing puts on the outside": (
        lambda b: without_join(b, "edge-front-tail", "outside"),
        [76 + TAPER],
    ),
    "a strip 10/3 shorter": (
        lambda b: shorter(b, "edge-front-head", "y", 40, -F(10, 3)),
        [10 / 3 + TAPER],
    ),
    "a strip laid 4 from its corner": (moved("edge-front-head", -4, 0), [4]),
    "a fore-edge strip laid 11 too far in": (moved("edge-back-fore-edge", 11, 0), [141]),
    # what is laid 7 short of an edge goes round it with its mitre, and wrap and taper as far out
    "a board 7 longer": (
        lambda b: shorter(b, "front-board", "y", 70, 7),
        [7, 6.98 + 1.5875 * 8.98 / 20],
    ),
    "a board 6 wider": (
        lambda b: shorter(b, "front-board", "x", 50, 6),
        [2 * 5.98, 6 + TAPER, 6 + TAPER],
    ),
    "a hold 6 narrower": (
        lambda b: shorter(b, "joint-wrap", "x", 12, -6),
        [3 + TAPER, 3 + TAPER],
    ),
    "a turn-in of the wrap 19 shorter": (
        lambda b: shorter(b, "joint-wrap", "y", 175, -19),
        [34, 25, 25],
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_the_length_that_is_bare_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    spine = float(folded.book.part("spine-board").part.width)
    wanted = sorted((spine if length == 34 else length for length in wanted), reverse=True)
    assert amounts(in_book(rule, folded, change(folded.book))) == pytest.approx(wanted, abs=0.01)


def test_without_a_wrap_the_spine_and_all_its_edges_are_bare(folded_of):
    folded = folded_of(MILLIMETRES)
    findings = in_book(rule, folded, without_part(folded.book, "joint-wrap"))
    # each edge of the spine board, its outside, and of each board the spine edge and two holds
    wanted = [141] * 4 + [34] * 3 + [25] * 4
    assert amounts(findings) == pytest.approx(wanted)


def test_half_a_millimetre_does_not_show(folded_of):
    folded = folded_of(MILLIMETRES)
    assert in_book(rule, folded, moved("edge-front-head", -0.45, 0)(folded.book)) == []
    assert len(in_book(rule, folded, moved("edge-front-head", -0.55, 0)(folded.book))) == 1

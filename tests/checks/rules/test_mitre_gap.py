"""Corners that stay bare between mitres."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from case_books import (
    COMB,
    MILLIMETRES,
    SEEDS,
    all_boards,
    amounts,
    bent,
    found,
    in_book,
    pushed,
    shorter,
    with_wrap,
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join, with_part

from dielines.checks.finding import Severity
from dielines.checks.rules import mitre_gap as rule
from dielines.part import FoldKey, Line, LineKind, Panel
from dielines.paths import Point, polyline

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


@pytest.mark.parametrize("template", ["wrapped-case", "three-sided-case", "five-sided-case"])
def test_wraps_of_templates_meet_at_every_corner(folded_of, template):
    folded = folded_of(MILLIMETRES)
    assert in_book(rule, folded, with_wrap(folded.book, template)) == []


def moved(key, dx, dy):
    def change(book):
        join = next(j for j in book.joins if (j.part, j.zone) == (key, "outside"))
        return changed_join(
            book, key, "outside", offset=Point(join.offset.x + dx, join.offset.y + dy)
        )

    return change


# Outside the strips meet over 12.5, inside over 10.5 mm.
SPOILS = {
    "a head strip laid 3 from its corner": (moved("edge-front-head", -3, 0), [3, 3]),
    "a tail strip laid 7/3 from its corner": (moved("edge-back-tail", F(7, 3), 0), [2.333, 2.333]),
    "a fore-edge strip 6 shorter": (
        lambda b: shorter(b, "edge-front-fore-edge", "y", 70, -6),
        [3, 3, 3, 3],
    ),
    "a head strip 5 shorter": (lambda b: shorter(b, "edge-back-head", "y", 40, -5), [2.5, 2.5]),
    # a triangle 4 by 12.5 is bare, but for what of it lies farther in than both strips reach
    "the outside of a mitre cut back 4": (
        lambda b: bent(b, "edge-front-head", pushed((0, 63.5), dy=-4)),
        [12.5 - math.sqrt(12.5**2 - 4 * 12.5 + 4 * (12.5 - 12.5**2 / 16.5))],
    ),
    "a wrap for 2 mm around boards of 5": (
        lambda b: with_wrap(all_boards(b, 5), "wrapped-case"),
        [5 - 3 * math.sqrt(2)] * 4,
    ),
    "a wrap cut too near its corner": (
        lambda b: with_wrap(all_boards(b, F(5, 2)), "wrapped-case", mitre="3/2 mm"),
        [2.5 - 1.5 * math.sqrt(2)] * 4,
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_the_gap_is_told_along_the_edge(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    # thicker boards also shift the insides of strips; wraps are looked at here
    of_wrap = [f for f in findings if f.spot.part == "wrapped"]
    assert amounts(of_wrap or findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.WARNING}


@pytest.mark.parametrize(
    ("angle_deg", "bare"),
    [(108, True), (135, True), (90, False), (60, False)],
)
def test_a_straight_45_degree_cut_leaves_a_blunt_corner_bare(folded_of, angle_deg, bare):
    # TRADE.md: "a straight 45-degree cut leaves a 108-degree corner bare and doubles the paper at 60"
    folded = folded_of(MILLIMETRES)
    book = with_wrap(folded.book, "wrapped-case")
    entry = book.part("wrapped")
    spoiled = with_part(book, "wrapped", corner_cut_straight(entry.part, angle_deg))
    findings = [f for f in in_book(rule, folded, spoiled) if f.spot.part == "wrapped"]
    assert bool(findings) == bare
    if bare:
        half = math.radians(angle_deg / 2)
        # at the far edge: 20 deep, the cut 3 mm from the corner; boards of 2 mm
        cot = 1 / math.tan(half)
        assert amounts(findings)[0] == pytest.approx(20 - 3 * math.sqrt(2) - 18 * cot, abs=0.001)


def corner_cut_straight(part, angle_deg):
    """Two turn-ins, 20 deep, at one corner of this angle, each cut at 45 degrees 3 mm from it."""
    turn = math.radians(180 - angle_deg)
    run, start = 20 - 3 * math.sqrt(2), 3 / math.sqrt(2)

    def beside(along, out):
        """A place beside the second edge, which goes off at the corner (100, 0)."""
        x = 100 + along * math.cos(turn) + out * math.sin(turn)
        return (x, along * math.sin(turn) - out * math.cos(turn))

    first = [(0, 0), (0, -20), (100 - run, -20), (100 + start, -start), (100, 0)]
    second = [beside(*p) for p in ((0, 0), (-start, start), (run, 20), (100, 20), (100, 0))]
    board = [(0, 0), (100, 0), beside(100, 0), (0, 120)]
    panels = tuple(
        Panel(name, polyline(points, closed=True))
        for name, points in (("board", board), ("turn_in1", first), ("turn_in2", second))
    )
    folds = tuple(
        Line(FoldKey("board", "-", name), LineKind.FOLD, F(180), (polyline(ends, closed=False),))
        for name, ends in (
            ("turn_in1", [(0, 0), (100, 0)]),
            ("turn_in2", [(100, 0), beside(100, 0)]),
        )
    )
    return replace(part, panels=panels, lines=folds, strokes=(), steps=())

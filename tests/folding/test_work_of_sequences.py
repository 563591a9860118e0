"""How much is looked at where no steps are declared: bounded by counts, never by a clock."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from folded_parts_of import built_in, drawn
from strips import strip

from dielines.folding import sequences
from dielines.folding.arrival import arrivals, steps_in_motion
from dielines.folding.folded_part import outlines_of
from dielines.folding.folded_parts import fold_part
from dielines.folding.layering import Outcome
from dielines.folding.meeting import Sheet
from dielines.folding.sequences import Sequences, needs_sequences, pairs_looked_at, units_of
from dielines.hinges import skeleton
from dielines.poses import angles_after


def sheet_of(part):
    root = part.panels[0].name
    return Sheet(outlines_of(part), skeleton(outlines_of(part), part.lines, root, part.rigid))


def comb(teeth):
    """Return a base with teeth above and below, each in three pieces: six units."""
    rows = ["20 : " + " ".join(f"t{k}x{i}" for i in range(teeth)) for k in range(3)]
    rows.append("40 : " + " ".join("base" for _ in range(teeth)))
    rows += ["20 : " + " ".join(f"u{k}x{i}" for i in range(teeth)) for k in range(3)]
    folds = ['"* / *" = 180', '"* | *" = "slit"']
    part = drawn(", ".join(["10"] * teeth), rows, folds, "* / *")
    return replace(part, steps=())


@pytest.fixture
def steps_tried(monkeypatch):
    """The steps that are looked at from here on."""
    tried = []

    def counted(*arguments):
        tried.append(arguments)
        return original(*arguments)

    original = sequences.start_and_end
    monkeypatch.setattr(sequences, "start_and_end", counted)
    return tried


@pytest.mark.parametrize("units", [3, 4, 5, 6])
def test_each_unit_is_looked_at_once_after_each_set_of_others(steps_tried, units):
    part = strip([20] * (units + 1), [180] * units)
    assert len(units_of(part)) == units
    assert fold_part(part).layering.outcome is Outcome.AMBIGUOUS
    assert 0 < len(steps_tried) <= units * 2 ** (units - 1)
    assert pairs_looked_at(units, 2) == units * 2 ** (units - 1)


def test_a_part_of_six_units_and_few_panels_is_tried_and_one_of_many_is_not(steps_tried):
    few, many = comb(1), comb(4)
    assert [len(units_of(part)) for part in (few, many)] == [6, 6]
    assert (needs_sequences(few), needs_sequences(many)) == (True, False)
    fold_part(many)
    assert steps_tried == []
    fold_part(few)
    assert steps_tried


def test_declared_steps_are_played_and_nothing_is_tried(steps_tried):
    fold_part(built_in("envelope"))
    assert steps_tried == []
    fold_part(replace(built_in("envelope"), steps=()))
    assert steps_tried


@pytest.mark.parametrize(
    "part",
    [
        strip([20] * 5, [180] * 4),
        strip([40, 33, 27, 20], [180, -180, 180]),
        replace(built_in("envelope"), steps=()),
        replace(built_in("three-flaps"), steps=()),
    ],
)
def test_sequences_that_go_on_as_one_miss_no_outcome(part):
    """The second opinion plays every permutation from the start, each by itself."""
    sheet, units = sheet_of(part), units_of(part)
    each = set()
    for order in permutations(units):
        motions = steps_in_motion(sheet, angles_after(part.lines, order))
        landing = arrivals(sheet, motions, order)
        if not landing.clashes:
            each.add((frozenset(landing.sides.items()), frozenset(landing.unclear)))
    merged = [
        (frozenset(landing.sides.items()), frozenset(landing.unclear))
        for landing in Sequences.of(part, sheet).landings()
    ]
    assert len(merged) == len(set(merged))
    assert set(merged) == each

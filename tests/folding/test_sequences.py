"""Parts without declared steps: every sequence of folding is tried.

The counts were tried beforehand on the shapes of this trade, no published source;
that both ways of finding orders agree is computed.
"""

from dataclasses import replace
from itertools import permutations

import pytest
from folded_parts_of import POCKETS, built_in, drawn
from spoiling import with_angle

from dielines.folding.arrival import Arrival, Landing, Move, StepInMotion, moves_of
from dielines.folding.flat_order import circle, orders
from dielines.folding.folded_part import outlines_of, posed_part
from dielines.folding.folded_parts import fold_part, layering_of
from dielines.folding.layering import ClashKind, Outcome
from dielines.folding.meeting import Motion, Sheet
from dielines.folding.planes import flat_states
from dielines.folding.sequences import MOST_UNITS, Sequences, needs_sequences, units_of
from dielines.hinges import skeleton
from dielines.part import Step


def without_steps(part):
    return replace(part, steps=())


def sheet_of(part):
    outlines = outlines_of(part)
    return Sheet(outlines, skeleton(outlines, part.lines, part.panels[0].name, part.rigid))


def found(part):
    """Return the different orders that sequences of folding *part* bring about."""
    landings = Sequences.of(part, sheet_of(part)).landings()
    return {tuple(sorted(landing.sides.items())) for landing in landings}


def searched(part):
    """Return the orders that constraints leave, without those that go round in a circle."""
    poses = posed_part(part, part.panels[0].name)
    (flat,) = flat_states(part, sheet_of(part), poses)
    return {tuple(sorted(s.items())) for s in orders(flat) if not circle(flat, s)}


def flaps(deep):
    rows = [f"{deep} : . up .", "40 : left base right", f"{deep} : . down ."]
    folds = ['"* | *" = 180', '"* / *" = 180']
    return without_steps(drawn(f"{deep}, 40, {deep}", rows, folds, "* | *"))


@pytest.mark.parametrize(
    ("name", "count"), [("flap", 1), ("roll-fold", 1), ("map-fold", 1), ("envelope", 18)]
)
def test_a_part_has_as_many_orders_as_were_counted(name, count):
    assert len(found(without_steps(built_in(name)))) == count


def test_a_bound_pocket_has_six(book_of):
    part = without_steps(book_of(POCKETS).part("page-1").part)
    assert len(units_of(part)) == 3
    assert len(found(part)) == 6
    assert fold_part(part).layering.outcome is Outcome.AMBIGUOUS


@pytest.mark.parametrize("part", [without_steps(built_in("envelope")), flaps(19), flaps(30)])
def test_sequences_bring_about_just_the_orders_that_constraints_leave(part):
    """14, not 16, of the short flaps: a circle comes from tucking, not from a sequence."""
    assert found(part) == searched(part)


def test_the_panels_that_differ_are_named_and_have_no_side():
    layering = layering_of(without_steps(built_in("envelope")))
    assert layering.outcome is Outcome.AMBIGUOUS
    differing = set(layering.ambiguous)
    assert differing == {
        ("foot", "left"), ("foot", "right"), ("foot", "lid"), ("left", "lid"), ("lid", "right"),
    }  # fmt: skip
    assert not differing & set(layering.sides)
    assert layering.sides["face", "lid"] == 1  # whichever goes first


def test_a_map_can_be_folded_in_one_of_its_two_sequences_only():
    part = without_steps(built_in("map-fold"))
    assert len(units_of(part)) == 2
    assert layering_of(part).outcome is Outcome.ONE
    assert layering_of(part).sides == layering_of(built_in("map-fold")).sides
    both = [fold_part(replace(part, steps=order)) for order in permutations(units_of(part))]
    assert [bool(folded.open_loops) for folded in both].count(True) == 1


@pytest.mark.parametrize("fold", ["a / c", "c | d"])
def test_a_map_of_two_mountains_and_two_valleys_is_impossible(fold):
    part = without_steps(built_in("map-fold"))
    angle = next(line.angle_deg for line in part.folds if str(line.key) == fold)
    assert layering_of(with_angle(part, fold, -angle)).outcome is Outcome.IMPOSSIBLE


def test_what_can_only_be_folded_all_at_once_is_folded_so():
    """A box step is a linkage: none of its folds moves alone."""
    part = without_steps(built_in("box-step"))
    assert found(part) == set()
    assert layering_of(part) == layering_of(built_in("box-step"))


def strip(widths, angles):
    row = "50 : " + " ".join(f"p{k}" for k in range(len(widths)))
    folds = [f'"p{k} | p{k + 1}" = {angle}' for k, angle in enumerate(angles)]
    return without_steps(drawn(", ".join(map(str, widths)), [row], folds, "* | *"))


def test_sequences_that_would_leave_a_crease_inside_a_layer_do_not_count():
    """Shrinking panels roll up from the narrow end only."""
    part = strip([100, 93, 86, 79], [180, 180, 180])
    assert len(found(part)) > 1
    layering = layering_of(part)
    assert layering.outcome is Outcome.ONE
    assert tuple(sorted(layering.sides.items())) in searched(part)


def test_a_roll_whose_inner_gusset_is_the_larger_one_is_impossible_in_any_sequence():
    assert layering_of(strip([100, 8, 90, 4, 80], [90] * 4)).outcome is Outcome.ONE
    layering = layering_of(strip([100, 4, 90, 8, 80], [90] * 4))
    assert layering.outcome is Outcome.IMPOSSIBLE
    assert ClashKind.PIERCED in {clash.kind for clash in layering.clashes}


def test_both_folds_of_a_wall_are_folded_at_once():
    (one,) = units_of(without_steps(built_in("flap")))
    assert len(one.angles_deg) == 2


def test_folds_on_one_line_are_folded_at_once():
    part = without_steps(built_in("map-fold"))
    on_line = {frozenset(str(key) for key, _ in unit.angles_deg) for unit in units_of(part)}
    assert frozenset({"a / c", "b / d"}) in on_line
    assert frozenset({"a | b", "c | d"}) in on_line  # through two layers, the upper gives otherwise


def test_more_units_than_six_are_not_tried_and_coming_through_is_told():
    n = MOST_UNITS + 2
    row = "50 : " + " ".join(f"p{k}" for k in range(n))
    folds = [f'"p{k} | p{k + 1}" = 180' for k in range(n - 1)]
    part = without_steps(drawn(", ".join(["30"] * n), [row], folds, "* | *"))
    assert len(units_of(part)) == MOST_UNITS + 1
    assert not needs_sequences(part)
    assert layering_of(part).outcome is Outcome.IMPOSSIBLE


def test_folds_that_decide_the_order_alone_need_no_trying(monkeypatch):
    row = "50 : " + " ".join(f"p{k}" for k in range(5))
    folds = [f'"p{k} | p{k + 1}" = {180 if k % 2 else -180}' for k in range(4)]
    part = without_steps(drawn("30, 30, 30, 30, 30", [row], folds, "* | *"))
    assert needs_sequences(part)
    monkeypatch.setattr(Sequences, "landings", lambda self: pytest.fail("tried"))
    assert layering_of(part).outcome is Outcome.ONE


# ------------------------------------------------------------------ what a step does to a pair


def test_a_panel_that_is_lifted_again_lies_over_nothing():
    part = built_in("folio")
    (line,) = part.folds
    first = Step(((line.key, line.angle_deg),))
    back = replace(first, angles_deg=((line.key, 90),))
    lifted = replace(part, lines=(replace(line, angle_deg=90),), steps=(first, back))
    assert layering_of(replace(part, steps=(first,))).sides
    assert layering_of(lifted).sides == {}


def test_a_panel_that_goes_back_through_flat_comes_to_the_other_side():
    part = built_in("folio")
    (line,) = part.folds
    first = Step(((line.key, line.angle_deg),))
    other = replace(first, angles_deg=((line.key, -line.angle_deg),))
    turned = with_angle(part, str(line.key), -line.angle_deg)
    there = layering_of(replace(part, steps=(first,))).sides
    back = layering_of(replace(turned, steps=(first, other))).sides
    assert back == {pair: -side for pair, side in there.items()}


IN_PLACE = Motion(1, 0, 0, 0, 1, 0, 0, 0, 1, -400, 0, 0)


def test_panels_that_slide_in_their_plane_are_unclear():
    part = built_in("folio")
    pair = tuple(panel.name for panel in part.panels)
    width = float(part.width) / 2
    over = IN_PLACE._replace(x=-width)
    near = {pair[0]: IN_PLACE._replace(x=0), pair[1]: over}
    (move,) = moves_of(sheet_of(part), StepInMotion({pair: over}, near))
    assert (move.how, move.side) == (Arrival.UNCLEAR, 0)


def test_what_was_unclear_is_clear_once_they_part_or_one_lands():
    pair = ("a", "b")
    unclear = Landing().after([Move(pair, Arrival.UNCLEAR)], 1)
    assert unclear.unclear == {pair}
    assert unclear.after([Move(pair, Arrival.PARTED)], 2).unclear == set()
    landed = unclear.after([Move(pair, Arrival.LANDED, 1, True)], 2)
    assert (landed.unclear, landed.sides) == (set(), {("a", "b"): 1, ("b", "a"): 1})
    assert unclear.unclear == {pair}  # what was known before stays as it was

"""Orders of layers found from constraints alone, held against counts that others have made.

Counts of stamp foldings: the sequences A000136 (strips) and A001415 (2 by n) of the
Encyclopedia of Integer Sequences, from memory. The other counts: tried beforehand,
no published source. The brute force is computed here, on other grounds.
"""

import random
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, permutations, product

import pytest
from folded_parts_of import built_in, drawn
from spoiling import with_angle

from dielines.folding.flat_order import circle, is_decided, orders, violations
from dielines.folding.folded_part import outlines_of, posed_part
from dielines.folding.folded_parts import fold_part
from dielines.folding.layering import ClashKind
from dielines.folding.meeting import Sheet
from dielines.folding.planes import MOST_IN_CIRCLES, flat_states
from dielines.hinges import skeleton

V, M = 180, -180


def strip(widths, angles):
    columns = ", ".join(str(width) for width in widths)
    row = "50 : " + " ".join(f"p{n}" for n in range(len(widths)))
    folds = [f'"p{n} | p{n + 1}" = {angle}' for n, angle in enumerate(angles)]
    return replace(drawn(columns, [row], folds, "* | *"), steps=())


def states(part):
    root = part.panels[0].name
    sheet = Sheet(outlines_of(part), skeleton(outlines_of(part), part.lines, root, part.rigid))
    return flat_states(part, sheet, posed_part(part, root))


def state(part):
    (only,) = states(part)
    return only


def count(part):
    return sum(1 for _ in orders(state(part)))


def stack(flat, sides):
    """Return the panels from the lowest to the highest where all overlap."""
    values = flat.from_sides(sides)
    under = {
        name: sum((b if v > 0 else a) == name for (a, b), v in values.items())
        for name in flat.names
    }
    return " ".join(sorted(flat.names, key=under.get))


# ------------------------------------------------------------------ strips


@pytest.mark.parametrize(("n", "foldings"), [(2, 2), (3, 6), (4, 16), (5, 50), (6, 144)])
def test_a_strip_of_stamps_folds_in_as_many_ways_as_published(n, foldings):
    patterns = product((V, M), repeat=n - 1)
    assert sum(count(strip([30] * n, angles)) for angles in patterns) == foldings


@pytest.mark.parametrize("layers", [2, 4, 12, 20])
def test_a_concertina_has_one_order_and_its_folds_alone_decide_it(layers):
    flat = state(strip([20] * layers, [V, M] * (layers // 2 - 1) + [V]))
    (only,) = orders(flat)
    assert is_decided(flat)
    names = [f"p{n}" for n in range(layers)]
    assert stack(flat, only).split() == names


@pytest.mark.parametrize("n", [4, 5, 6, 8])
def test_equal_panels_all_valley_can_be_rolled_in_one_way_less_than_there_are(n):
    flat = state(strip([20] * n, [V] * (n - 1)))
    assert len(list(orders(flat))) == n - 1
    assert not is_decided(flat)


def test_shrinking_panels_all_valley_roll_up_in_one_way():
    flat = state(strip([Fraction(100 - 7 * n) for n in range(6)], [V] * 5))
    (only,) = orders(flat)
    assert stack(flat, only) == "p0 p2 p4 p5 p3 p1"


def brute_force(widths, angles):
    """Return all orders of a strip by trying every permutation, as which of two lies on top."""
    ends, spans, ups = [Fraction(0)], [], []
    for n, width in enumerate(widths):
        ends.append(ends[-1] + (width if n % 2 == 0 else -width))
        spans.append((min(ends[-2:]), max(ends[-2:])))
        ups.append(1 if n % 2 == 0 else -1)
    found = set()
    for order in permutations(range(len(widths))):
        level = {panel: height for height, panel in enumerate(order)}
        if fits(level, ends, spans, ups, angles):
            over = [
                (a, b, level[b] > level[a])
                for a, b in pairs(len(widths))
                if max(spans[a][0], spans[b][0]) < min(spans[a][1], spans[b][1])
            ]
            found.add(tuple(over))
    return found


def pairs(n):
    return [(a, b) for a in range(n) for b in range(a + 1, n)]


def fits(level, ends, spans, ups, angles):
    """Return whether no crease of a strip has a panel, or half of another crease, between its two."""
    folds = range(len(angles))
    for k in folds:
        if ((level[k + 1] - level[k]) * ups[k] > 0) != (angles[k] > 0):
            return False
        low, high = sorted((level[k], level[k + 1]))
        for panel, (left, right) in enumerate(spans):
            if left < ends[k + 1] < right and low < level[panel] < high:
                return False
        for m in folds:
            if (
                m != k
                and ends[m + 1] == ends[k + 1]
                and lies_right(spans, ends, m) == lies_right(spans, ends, k)
            ):
                inside = [low < level[p] < high for p in (m, m + 1)]
                if inside[0] != inside[1] and not {m, m + 1} & {k, k + 1}:
                    return False
    return True


def lies_right(spans, ends, fold):
    """Return whether the panels of a fold lie to the right of it."""
    return spans[fold][0] == ends[fold + 1]


@pytest.mark.parametrize("seed", range(40))
def test_orders_of_random_strips_are_those_of_brute_force(seed):
    dice = random.Random(seed)
    n = dice.choice((3, 4, 5, 6))
    widths = [Fraction(dice.choice((14, 20, 20, 27, 33))) for _ in range(n)]
    angles = [dice.choice((V, M)) for _ in range(n - 1)]
    flat = state(strip(widths, angles))
    found = set()
    for sides in orders(flat):
        values = {(int(a[1:]), int(b[1:])): v > 0 for (a, b), v in flat.from_sides(sides).items()}
        # p0 looks up in both; panels are named in the order of the strip
        found.add(tuple((a, b, values[a, b]) for a, b in sorted(values)))
    assert found == brute_force(widths, angles)


@pytest.mark.parametrize("seed", range(60))
def test_a_panel_scored_across_and_left_flat_is_still_one_layer(seed):
    """A strip with folds at rest has the orders of the strip without them."""
    dice = random.Random(f"flat {seed}")
    n = dice.choice((3, 4, 5))
    cuts = [dice.choice(((30,), (15, 15), (15,), (10, 20), (20, 10))) for _ in range(n)]
    angles = [dice.choice((V, M)) for _ in range(n - 1)]
    whole = [k for k, cut in enumerate(cuts) for _ in cut]  # of each piece the panel it is part of
    bends = [0 if a == b else angles[a] for a, b in pairwise(whole)]
    pieces = [width for cut in cuts for width in cut]
    flat = state(strip(pieces, bends))
    of = {f"p{k}": panel for k, panel in enumerate(whole)}
    expected = {
        tuple(
            v[of[a], of[b]] == 1 if of[a] < of[b] else v[of[b], of[a]] != 1 for a, b in flat.pairs
        )
        for v in (
            {(a, b): 1 if over else -1 for a, b, over in order}
            for order in brute_force([Fraction(sum(cut)) for cut in cuts], angles)
        )
    }
    found = [flat.from_sides(sides) for sides in orders(flat)]
    assert {tuple(values[pair] == 1 for pair in flat.pairs) for values in found} == expected


# ------------------------------------------------------------------ sheets


def grid(rows, columns, signs):
    """Return a sheet of equal cells whose lines fold by *signs*: between columns, then rows."""
    names = [[f"c{r}{c}" for c in range(columns)] for r in range(rows)]
    beside = [f'"c{r}{c} | c{r}{c + 1}"' for r in range(rows) for c in range(columns - 1)]
    above = [f'"c{r}{c} / c{r + 1}{c}"' for r in range(rows - 1) for c in range(columns)]
    folds = [f"{key} = {angle}" for key, angle in zip(beside + above, signs, strict=True)]
    part = drawn(
        ", ".join(["30"] * columns), [f"40 : {' '.join(row)}" for row in names], folds, "* | *"
    )
    return replace(part, steps=())


def test_a_map_of_two_by_two_folds_in_as_many_ways_as_published():
    assert sum(count(grid(2, 2, signs)) for signs in product((V, M), repeat=4)) == 8


def test_a_map_of_two_by_three_folds_in_as_many_ways_as_published():
    assert sum(count(grid(2, 3, signs)) for signs in product((V, M), repeat=7)) == 60


def test_a_map_in_four_has_the_one_order_that_hands_give_it():
    part = built_in("map-fold")
    flat = state(part)
    (only,) = orders(flat)
    assert stack(flat, only) in ("a c d b", "b d c a")
    assert only == fold_part(part, part.panels[0].name).layering.sides


@pytest.mark.parametrize("fold", ["a / c", "b / d", "a | b", "c | d"])
def test_a_map_of_two_mountains_and_two_valleys_has_none(fold):
    part = built_in("map-fold")
    angle = next(line.angle_deg for line in part.folds if str(line.key) == fold)
    assert count(with_angle(part, fold, -angle)) == 0


def test_an_envelope_whose_flaps_all_meet_has_eighteen_orders_of_which_steps_leave_one():
    part = built_in("envelope")
    flat = state(part)
    found = list(orders(flat))
    assert len(found) == 18
    assert dict(fold_part(part, part.panels[0].name).layering.sides) in found


def flaps(deep):
    rows = [f"{deep} : . up .", "40 : left base right", f"{deep} : . down ."]
    folds = ['"* | *" = 180', '"* / *" = 180']
    return replace(drawn(f"{deep}, 40, {deep}", rows, folds, "* | *"), steps=())


def test_four_short_flaps_lie_in_sixteen_orders_two_of_them_round_in_a_circle():
    flat = state(flaps(19))
    circles = [circle(flat, sides) for sides in orders(flat)]
    assert len(circles) == 16
    round_ones = [found for found in circles if found]
    assert [set(found) for found in round_ones] == [{"up", "left", "right", "down"}] * 2


def test_four_deep_flaps_lie_in_twenty_four_orders_none_in_a_circle():
    flat = state(flaps(30))
    circles = [circle(flat, sides) for sides in orders(flat)]
    assert (len(circles), any(circles)) == (24, False)


def ring(signs):
    """Return the booklet's ring of eight equal panels with these signs, in the order of its folds."""
    part = built_in("one-slit-booklet")
    for line, sign in zip(part.folds, signs, strict=True):
        part = with_angle(part, str(line.key), sign)
    return part


def test_the_booklet_has_one_order_the_same_as_its_steps_bring_about():
    part = built_in("one-slit-booklet")
    flat = state(part)
    (only,) = orders(flat)
    assert stack(flat, only) in ("b1 a1 a2 a3 a4 b4 b3 b2", "b2 b3 b4 a4 a3 a2 a1 b1")
    assert only == dict(fold_part(part, part.panels[0].name).layering.sides)


def test_of_all_signs_of_a_ring_of_eight_two_have_no_order_and_sixteen_just_one():
    counts = [count(ring(signs)) for signs in product((V, M), repeat=8)]
    assert (counts.count(0), counts.count(1)) == (2, 16)


# ------------------------------------------------------------------ verification


def test_a_crease_inside_another_layer_is_told_with_the_layer_it_would_cut():
    flat = state(strip([100, 93, 86], [V, V]))
    (only,) = orders(flat)
    assert list(violations(flat, only)) == []
    # p2 between the other two is right; over both of them it would have to pass p1's crease
    wrong = {**only, ("p0", "p2"): -only["p0", "p2"]}
    found = list(violations(flat, wrong))
    assert {clash.kind for clash in found} & {ClashKind.CREASE_INSIDE, ClashKind.INTERLEAVED}


def test_every_order_found_passes_and_every_other_fails():
    flat = state(built_in("envelope"))
    good = [flat.from_sides(sides) for sides in orders(flat)]
    for signs in product((1, -1), repeat=len(flat.pairs)):
        values = dict(zip(flat.pairs, signs, strict=True))
        if all(values[pair] == value for pair, value in flat.fixed.items()):
            passes = not any(violations(flat, flat.to_sides(values)))
            assert passes == (values in good)


@pytest.mark.parametrize(("panels", "threes"), [(7, 35), (MOST_IN_CIRCLES + 1, 0)])
def test_panels_are_held_against_each_other_three_by_three_as_long_as_they_are_few(panels, threes):
    folds = [V if n % 2 else M for n in range(panels - 1)]
    part = strip([17] * panels, folds)
    found = [constraint for constraint in state(part).constraints if len(constraint.pairs) == 3]
    assert len(found) == threes  # 35 = 7 over 3

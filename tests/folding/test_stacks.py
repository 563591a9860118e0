"""How every built-in part lies once it is folded, and the stacks that hands know.

The stacks were tried beforehand on the shapes of this trade, no published source;
all else is geometry. The library of solids is a second opinion.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise

import pytest
from folded_parts_of import CALIPERS, POCKETS, built_in, drawn
from manifold3d import CrossSection, FillRule
from spoiling import with_steps

from dielines.folding import arrival
from dielines.folding.folded_part import posed_part
from dielines.folding.folded_parts import fold_part, layering_of
from dielines.folding.layering import ClashKind, Outcome
from dielines.folding.meeting import between, in_floats
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.part import Step
from dielines.paths import flattened
from dielines.rigid import AT_REST, distance_between

PARTS = {
    f"{template.name} {part.name}": part
    for template in built_in_library().templates()
    if template.kind not in ("edge", "fold")
    for part in build(template, {}, CALIPERS).parts
}
EVERY_PART = pytest.mark.parametrize("name", PARTS)


def stack(folded, *panels):
    """Return the panels from the lowest to the highest, the root face up."""
    up = {name: folded.poses[name].rotation[2][2] for name in panels}
    height = {name: folded.poses[name].translation[2] for name in panels}

    def is_over(name, other):
        if height[name] != height[other]:
            return height[name] > height[other]
        return folded.side_of(other, name) * up[other] > 0

    return sorted(panels, key=lambda n: sum(is_over(n, other) for other in panels if other != n))


def bound_pocket(book_of):
    return book_of(POCKETS).part("page-1").part


def test_the_seam_of_a_pocket_folded_first_lies_inside_it(book_of):
    """The pocket lies behind its front: seen from the back, front, seam, back and cover tab."""
    folded = fold_part(bound_pocket(book_of), "front")
    panels = ("front", "seam", "back", "binding.tab")
    assert stack(folded, *panels)[::-1] == ["front", "seam", "back", "binding.tab"]


def test_the_seam_folded_last_lies_outside(book_of):
    part = bound_pocket(book_of)
    names = {str(line.key) for line in part.folds}
    seam = [name for name in names if "seam" in name or "head" in name]
    pocket = [name for name in names if "tail" in name]
    tab = [name for name in names if "binding" in name]
    late = with_steps(part, *(", ".join(sorted(group)) for group in (pocket, seam, tab)))
    folded = fold_part(late, "front")
    assert stack(folded, "front", "seam", "back", "binding.tab")[::-1] == [
        "front", "back", "seam", "binding.tab",
    ]  # fmt: skip


def test_the_flaps_of_an_envelope_lie_as_they_are_folded():
    folded = fold_part(built_in("envelope"))
    assert stack(folded, "lid", "foot", "left", "face") == ["face", "left", "foot", "lid"]
    assert stack(folded, "lid", "foot", "right", "face") == ["face", "right", "foot", "lid"]


def test_a_map_in_four_lies_a_c_d_b():
    folded = fold_part(built_in("map-fold"), "a")
    assert stack(folded, "a", "b", "c", "d") == ["a", "c", "d", "b"]


def test_a_booklet_lies_with_its_cover_outside():
    folded = fold_part(built_in("one-slit-booklet"), "a1")
    panels = [f"{row}{n}" for row in "ab" for n in (1, 2, 3, 4)]
    expected = ["b1", "a1", "a2", "a3", "a4", "b4", "b3", "b2"]
    assert stack(folded, *panels) in (expected, expected[::-1])


def test_a_roll_fold_lies_by_its_gussets_alone():
    folded = fold_part(built_in("roll-fold"), "page")
    heights = [float(folded.poses[name].translation[2]) for name in ("page", "leaf2", "leaf1")]
    assert heights == pytest.approx([0, 25.4 / 16, 25.4 / 8])
    assert [folded.side_of("page", name) for name in ("leaf1", "leaf2")] == [1, 1]


def test_each_corner_tab_of_a_tray_lies_inside_its_wall():
    folded = fold_part(built_in("tray"))
    walls = {(wall, f"tab{n}") for wall in ("left", "right") for n in (1, 2, 3, 4)}
    assert {folded.side_of(wall, tab) for wall, tab in walls} == {1}


# ------------------------------------------------------------------ all built-in parts


@EVERY_PART
def test_every_part_folds_in_one_order_without_a_clash_or_an_open_loop(name):
    folded = fold_part(PARTS[name])
    assert folded.layering.outcome is Outcome.ONE
    assert (folded.layering.clashes, folded.layering.ambiguous) == ((), ())
    assert folded.open_loops == ()


@EVERY_PART
def test_the_order_does_not_depend_on_the_panel_that_rests(name):
    part = PARTS[name]
    first = fold_part(part).layering.sides
    for root in (part.panels[0].name, part.panels[-1].name):
        assert fold_part(part, root).layering.sides == first


@pytest.mark.parametrize("scale", [1e-5, 1e-4, 1e-2, 0.1, 0.2])
def test_the_side_of_arrival_is_the_same_however_shortly_before_one_looks(monkeypatch, scale):
    before = {name: layering_of(part) for name, part in PARTS.items()}
    monkeypatch.setattr(arrival, "BEFORE_LANDING", scale)
    for name, part in PARTS.items():
        assert layering_of(part).sides == before[name].sides, name


@EVERY_PART
def test_folding_keeps_every_panel_as_it_is_and_can_be_undone(name):
    part = PARTS[name]
    folded = fold_part(part)
    for stage in (Fraction(2, 7), Fraction(5, 7), Fraction(1)):
        for panel, pose in posed_part(part, folded.root, stage).items():
            corners = [(float(x), float(y)) for x, y in flattened(folded.outlines[panel])]
            placed = [pose.at(corner) for corner in corners]
            for (a, b), (c, d) in zip(
                combinations(corners, 2), combinations(placed, 2), strict=True
            ):
                assert distance_between(c, d) == pytest.approx(distance_between((*a, 0), (*b, 0)))
            back = pose.inverse()
            for corner, place in zip(corners, placed, strict=True):
                assert back.at(place[:2], place[2]) == pytest.approx((*corner, 0), abs=1e-9)
    unfolded = replace(
        part, lines=tuple(replace(line, angle_deg=Fraction(0)) for line in part.lines), steps=()
    )
    assert set(posed_part(unfolded, folded.root).values()) == {AT_REST}


# ------------------------------------------------------------------ solids


THICK = 0.2  #: mm


def slab(corners, motion, height):
    """Return a panel as a solid *THICK* mm thick, raised by *height* along its plane's normal."""
    section = CrossSection([[motion.at(*corner)[:2] for corner in corners]], FillRule.NonZero)
    return section.offset(-1e-3).extrude(THICK * 0.9).translate((0, 0, height + motion[11]))


def level(folded):
    """Return how the panels that are parallel to the root lie to it."""
    motions = in_floats(folded.poses)
    seen = {name: between(motions[folded.root], motion) for name, motion in motions.items()}
    return {name: m for name, m in seen.items() if abs(m[6]) < 1e-9 and abs(m[7]) < 1e-9}


def clashing(folded, ranks):
    """Return the pairs of level panels that share room when panels are raised by their ranks."""
    corners = {
        n: [(float(x), float(y)) for x, y in flattened(p)] for n, p in folded.outlines.items()
    }
    solids = {
        name: slab(corners[name], motion, THICK * ranks.get(name, 0))
        for name, motion in level(folded).items()
    }
    assert all(solid.volume() > 0 for solid in solids.values())
    return [(a, b) for a, b in combinations(solids, 2) if (solids[a] ^ solids[b]).volume() > 1e-6]


def ranks(folded):
    """Return how many layers lie below each level panel, at most, among those of one height."""
    motions = level(folded)
    above = {
        (a, b) if side * motions[a][8] > 0 else (b, a)
        for (a, b), side in folded.layering.sides.items()
        if a in motions and b in motions and abs(motions[a][11] - motions[b][11]) < 1e-6
    }
    found = dict.fromkeys(motions, 0)
    for _ in motions:
        for low, high in above:
            found[high] = max(found[high], found[low] + 1)
    return found


@pytest.mark.parametrize(
    ("name", "pairs"), [("envelope", 9), ("map-fold", 6), ("one-slit-booklet", 28)]
)
def test_paper_without_an_order_shares_room_and_in_its_order_does_not(name, pairs):
    """9 and 6 were counted beforehand with the same library; 28 is every pair of eight."""
    folded = fold_part(built_in(name))
    assert len(clashing(folded, {})) == pairs
    assert clashing(folded, ranks(folded)) == []


def test_a_bound_pocket_shares_room_in_three_pairs_without_an_order(book_of):
    folded = fold_part(bound_pocket(book_of), "front")
    assert len(clashing(folded, {})) == 3
    assert clashing(folded, ranks(folded)) == []


@EVERY_PART
def test_no_two_panels_share_room_once_they_lie_in_their_order(name):
    folded = fold_part(PARTS[name])
    assert clashing(folded, ranks(folded)) == []


# ------------------------------------------------------------------ steps that name more


def flaps(*steps):
    rows = ["19 : . up .", "40 : left base right", "19 : . down ."]
    part = drawn("19, 40, 19", rows, ['"* | *" = 180', '"* / *" = 180'], "* | *")
    return with_steps(part, *steps) if steps else part


def test_flaps_tucked_round_are_a_circle_which_is_legitimate():
    part = flaps("up / base", "base | right", "base / down", "left | base")
    last = part.steps[-1]
    tucked = replace(part, steps=(*part.steps[:-1], Step(last.angles_deg, (("left", "up"),))))
    plain, layering = layering_of(part), layering_of(tucked)
    assert plain.outcome is Outcome.ONE
    assert (layering.outcome, layering.clashes) == (Outcome.CYCLIC, ())
    assert set(layering.circles[0]) == {"up", "right", "down", "left"}
    differing = {pair for pair, side in layering.sides.items() if plain.sides[pair] != side}
    assert differing == {("left", "up"), ("up", "left")}


def test_a_flap_cannot_be_tucked_under_what_its_own_fold_holds_down():
    part = flaps("up / base", "base | right", "base / down", "left | base")
    last = part.steps[-1]
    tucked = replace(part, steps=(*part.steps[:-1], Step(last.angles_deg, (("left", "base"),))))
    assert layering_of(tucked).outcome is Outcome.IMPOSSIBLE


def strip(widths, angles, *steps):
    row = "50 : " + " ".join(f"p{n}" for n in range(len(widths)))
    folds = [f'"p{n} | p{n + 1}" = {angle}' for n, angle in enumerate(angles)]
    part = drawn(", ".join(map(str, widths)), [row], folds, "* | *")
    return with_steps(part, *steps) if steps else part


def test_a_concertina_of_twenty_in_nineteen_steps_lies_in_turn():
    angles = [180, -180] * 9 + [180]
    folded = fold_part(strip([20] * 20, angles, *(f"p{n} | p{n + 1}" for n in range(19))), "p0")
    names = [f"p{n}" for n in range(20)]
    assert folded.layering.outcome is Outcome.ONE
    assert stack(folded, *names) == names


def test_a_strip_rolled_from_its_narrow_end_lies_as_constraints_alone_would_have_it():
    steps = [f"p{n} | p{n + 1}" for n in range(5)][::-1]
    folded = fold_part(strip([100, 93, 86, 79, 72, 65], [180] * 5, *steps), "p0")
    assert folded.layering.outcome is Outcome.ONE
    assert stack(folded, *(f"p{n}" for n in range(6))) == ["p0", "p2", "p4", "p5", "p3", "p1"]


def test_a_strip_rolled_from_the_wrong_end_has_a_crease_inside_a_layer():
    steps = [f"p{n} | p{n + 1}" for n in range(3)]
    layering = layering_of(strip([100, 93, 86, 79], [180] * 3, *steps))
    assert layering.outcome is Outcome.IMPOSSIBLE
    assert {clash.kind for clash in layering.clashes} <= {
        ClashKind.CREASE_INSIDE, ClashKind.INTERLEAVED,
    }  # fmt: skip
    creases = {str(c.crease) for c in layering.clashes if c.kind is ClashKind.CREASE_INSIDE}
    assert creases & {"p0 | p1", "p1 | p2"}


def test_a_panel_that_moves_with_its_neighbour_keeps_its_side():
    """The last step moves the stack as a whole; what lies in it stays in its order."""
    steps = ["p2 | p3", "p1 | p2", "p0 | p1"]
    reached = [layering_of(strip([80, 70, 60, 50], [180] * 3, *steps[:n])) for n in (1, 2, 3)]
    for earlier, later in pairwise(reached):
        assert earlier.outcome in Outcome
        assert later.sides["p2", "p3"] == 1

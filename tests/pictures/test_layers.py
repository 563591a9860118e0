"""How far the layers of one part are drawn apart at any stage."""

from fractions import Fraction
from itertools import pairwise

import pytest

from dielines.book.single import single_parts
from dielines.folding.folded_parts import fold_part
from dielines.language.library import BUILT_IN, built_in_library
from dielines.pictures.layers import after_step, placed_at
from dielines.workshop.loading import load_workshop

LIBRARY = built_in_library()
GAP = 7 / 3


def folded(name: str, of: str = ""):
    template = LIBRARY.find(name)
    entries = single_parts(template, {}, load_workshop(None, BUILT_IN, template.units or "mm"))
    return fold_part(next(entry.part for entry in entries if not of or entry.part.name == of))


def heights(part, stage) -> dict[str, float]:
    places = placed_at(part, stage, GAP)
    root = places[part.root]
    return {
        name: float((place.translation + place.shift * place.normal) @ root.normal)
        for name, place in places.items()
        if abs(abs(float(place.normal @ root.normal)) - 1) < 1e-9
    }


def stack(part, stage) -> list[str]:
    found = heights(part, stage)
    return sorted(found, key=found.get)


def test_a_map_folded_in_four_lies_in_the_order_that_hands_make():
    """FOLDING.md, section 3 and the template's steps: the root's neighbours fold onto it."""
    part = folded("map-fold")
    found = sorted(heights(part, 1).values())
    assert len(found) == 4
    assert all(b - a == pytest.approx(GAP) for a, b in pairwise(found))
    order = stack(part, 1)
    for lower, upper in pairwise(order):
        side = part.side_of(lower, upper)
        assert side == (1 if part.poses[lower].normal[2] > 0 else -1)


def test_the_seam_of_a_pocket_lies_between_its_front_and_its_back():
    part = folded("side-pocket")
    found = heights(part, 1)
    low, high = sorted((found["front"], found["back"]))
    assert low < found["seam"] < high
    assert abs(found["seam"] - found["back"]) >= GAP - 1e-9


def test_the_root_stays_where_it_is_and_a_flat_part_has_no_gaps():
    part = folded("side-pocket")
    assert heights(part, 1)[part.root] == pytest.approx(0)
    assert set(heights(part, 0).values()) == {0}


def test_gaps_open_bit_by_bit_within_a_step():
    """Ranks of the end at an early stage would tear a map apart."""
    part = folded("map-fold")
    shift = [
        max(abs(p.shift) for p in placed_at(part, Fraction(k, 10), GAP).values()) for k in range(11)
    ]
    assert shift[0] == 0
    assert all(a <= b + GAP / 3 for a, b in pairwise(shift))
    assert max(b - a for a, b in pairwise(shift)) < GAP


def test_after_some_of_its_steps_a_part_is_folded_so_far():
    part = folded("three-flaps")
    first = after_step(part, 1)
    turned = {name for name, pose in first.poses.items() if pose != part.at(0)[name]}
    assert turned == {"tail", "tail_flap"}
    assert first.poses == part.at(Fraction(1, 3))
    assert after_step(part, 3) is part


@pytest.mark.parametrize(
    "name", ["side-pocket", "three-flaps", "envelope", "tiered-pockets", "sleeve"]
)
def test_no_two_layers_over_each_other_are_drawn_in_one_place(name):
    part = folded(name)
    found = heights(part, 1)
    for (a, b), side in part.layering.sides.items():
        if a in found and b in found and side:
            up = 1 if part.poses[a].normal[2] > 0 else -1
            assert (found[b] - found[a]) * side * up >= GAP - 1e-6

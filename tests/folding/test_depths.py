"""Longest paths and the linear program, against small cases worked out by trying all."""

from __future__ import annotations

import itertools
import random

import pytest

from dielines.folding.depths import (
    COST_OF_A_WALL,
    Over,
    needed_width,
    pressed_heights,
    sorted_layers,
    upright_heights,
)
from dielines.folding.stack import Link


def panel(name: str) -> tuple[str, str]:
    return "page", name


def over(lower: str, upper: str, gap: float) -> Over:
    return Over(panel(lower), panel(upper), gap)


def link(lower: str, upper: str, width: float) -> Link:
    return Link(panel(f"{lower}{upper}"), panel(lower), panel(upper), width, is_channel=False)


def test_each_layer_comes_after_all_that_lie_under_it():
    found = [over("a", "c", 1 / 3), over("b", "c", 2 / 7), over("c", "d", 0.1), over("a", "d", 1)]
    layers = sorted_layers(map(panel, "dcba"), found)
    order = {key: index for index, key in enumerate(layers.order)}
    assert len(order) == 4
    assert all(order[o.lower] < order[o.upper] for o in found)
    assert layers.circles == ()


def test_pressed_is_the_longest_way_up():
    found = [over("a", "c", 1 / 3), over("b", "c", 2 / 7), over("c", "d", 0.1), over("a", "d", 1)]
    heights = pressed_heights(
        sorted_layers(map(panel, "abcd"), found), dict.fromkeys(map(panel, "abcd"), 0.2)
    )
    assert heights[panel("c")] == pytest.approx(0.2 + 1 / 3)
    assert heights[panel("d")] == pytest.approx(1.2)


def test_a_circle_is_named_and_the_rest_is_sorted():
    ring = [over("a", "b", 0.3), over("b", "c", 0.3), over("c", "a", 0.3), over("c", "d", 0.3)]
    layers = sorted_layers(map(panel, "abcd"), ring)
    assert len(layers.circles) == 1
    assert set(layers.circles[0]) == {panel("a"), panel("b"), panel("c")}
    circle = layers.circles[0]
    pairs = {(o.lower, o.upper) for o in ring}
    assert all(pair in pairs for pair in itertools.pairwise((*circle, circle[0])))
    assert len(layers.overs) == len(ring) - 1
    assert len(layers.order) == 4


def test_two_circles_are_both_named():
    rings = [over("a", "b", 1), over("b", "a", 1), over("c", "d", 1), over("d", "c", 1)]
    assert len(sorted_layers(map(panel, "abcd"), rings).circles) == 2


def test_a_wall_needs_the_longest_way_between_its_panels_only():
    found = [over("x", "b", 9), over("a", "b", 1 / 7), over("b", "c", 2 / 7), over("a", "c", 0.1)]
    layers = sorted_layers(map(panel, "xabc"), found)
    assert needed_width(layers, at("a"), at("c")) == pytest.approx(3 / 7)
    assert needed_width(layers, at("a"), at("x")) == 0.0


def test_what_is_taped_to_a_side_of_a_wall_carries_that_side_with_it():
    """The page x is taped a third below the tab a, and lifts what lies over it."""
    layers = sorted_layers(map(panel, "xabcd"), [over("x", "b", 5 / 7), over("b", "c", 2 / 7)])
    assert needed_width(layers, at("a"), at("c")) == 0.0
    pack = {panel("a"): 0.0, panel("x"): -1 / 3}
    assert needed_width(layers, pack, at("c")) == pytest.approx(1 - 1 / 3)
    taped = {panel("d"): 0.0, panel("c"): 0.1}
    assert needed_width(layers, pack, taped) == pytest.approx(1 - 1 / 3 - 0.1)


def at(name: str) -> dict[tuple[str, str], float]:
    return {panel(name): 0.0}


def brute_force(names, found, links, standing, ground):
    """The best of all ways to set heights on a fine grid, walls' shortages included."""
    steps = [k / 4 for k in range(-4, 13)]
    best = None
    free = [n for n in names if panel(n) != ground]
    for choice in itertools.product(steps, repeat=len(free)):
        heights = {ground: standing[ground], **dict(zip(map(panel, free), choice, strict=True))}
        if any(heights[o.upper] - heights[o.lower] < o.gap - 1e-9 for o in found):
            continue
        short = [max(0.0, abs(heights[k.upper] - heights[k.lower]) - k.width) for k in links]
        cost = sum(abs(heights[p] - standing[p]) for p in heights) + COST_OF_A_WALL * sum(short)
        best = cost if best is None else min(best, cost)
    return best


@pytest.mark.parametrize("seed", range(12))
def test_the_linear_program_finds_the_best_of_all(seed):
    """Quarters everywhere, so that an optimum lies on the grid that is searched."""
    dice = random.Random(f"depths {seed}")
    names = "abcd"
    ground = panel("a")
    standing = {panel(n): dice.randrange(0, 7) / 4 for n in names}
    standing[ground] = 0.0
    pairs = [p for p in itertools.combinations(names, 2) if dice.random() < 0.7]
    found = [over(*pair, dice.randrange(1, 5) / 4) for pair in pairs]
    links = [link(*pair, dice.randrange(1, 5) / 4) for pair in pairs if dice.random() < 0.5]
    result = upright_heights(found, links, standing, ground)
    assert all(result.heights[o.upper] - result.heights[o.lower] >= o.gap - 1e-7 for o in found)
    for k in links:
        apart = abs(result.heights[k.upper] - result.heights[k.lower])
        assert apart <= k.width + result.short[k] + 1e-7
    moved = sum(abs(result.heights[p] - standing[p]) for p in standing)
    cost = moved + COST_OF_A_WALL * sum(result.short.values())
    assert cost == pytest.approx(brute_force(names, found, links, standing, ground), abs=1e-6)


def test_what_stands_as_it_should_is_left_where_it_is():
    standing = {panel("a"): 0.0, panel("b"): 5 / 7}
    result = upright_heights([over("a", "b", 1 / 3)], [link("a", "b", 5 / 7)], standing, panel("a"))
    assert result.heights == standing
    assert list(result.short.values()) == [0.0]


def test_a_wall_gives_way_only_by_what_nothing_else_can_give():
    standing = {panel("a"): 0.0, panel("b"): 1.0, panel("c"): 1.0}
    found = [over("a", "b", 1.0), over("b", "c", 1 / 3)]
    links = [link("a", "c", 1.0)]
    result = upright_heights(found, links, standing, panel("a"))
    assert result.short[links[0]] == pytest.approx(1 / 3)
    assert result.heights[panel("c")] == pytest.approx(4 / 3)

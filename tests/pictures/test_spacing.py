"""How far layers are drawn apart."""

import random

import pytest

from dielines.pictures.spacing import spread


def test_layers_in_one_plane_are_spread_to_both_sides():
    found = spread({"a": 2.0, "b": 2.0, "c": 2.0}, [("a", "b", 1 / 3), ("b", "c", 1 / 3)])
    assert found == pytest.approx({"a": 2 - 1 / 3, "b": 2, "c": 2 + 1 / 3})


def test_what_is_fixed_stays_and_the_others_go_with_it():
    found = spread({"a": 2.0, "b": 2.0, "c": 2.0}, [("a", "b", 1 / 3), ("b", "c", 1 / 3)], "a")
    assert found == pytest.approx({"a": 2, "b": 2 + 1 / 3, "c": 2 + 2 / 3})


def test_what_is_far_enough_apart_already_stays_where_it_is():
    heights = {"a": 0.0, "b": 3.1, "c": 9.4}
    assert spread(heights, [("a", "b", 1.2), ("b", "c", 1.2), ("a", "c", 1.2)]) == heights


@pytest.mark.parametrize("seed", range(20))
def test_every_pair_gets_its_gap_whatever_lies_over_what(seed):
    draw = random.Random(seed)
    heights = {str(i): draw.choice([0.0, 1 / 7, 3.0]) for i in range(12)}
    ranks = draw.sample(list(heights), 12)
    ranks.sort(key=lambda name: heights[name])
    pairs = [
        (ranks[i], ranks[j], 0.7)
        for i in range(12)
        for j in range(i + 1, 12)
        if draw.random() < 0.4
    ]
    found = spread(heights, pairs)
    assert min(found[b] - found[a] for a, b, _ in pairs) >= 0.7 - 1e-9


def test_flaps_tucked_round_in_a_circle_keep_together():
    heights = {"n": 1.0, "e": 1.0, "s": 1.0, "w": 1.0, "card": 1.0}
    circle = [("n", "e", 0.5), ("e", "s", 0.5), ("s", "w", 0.5), ("w", "n", 0.5)]
    found = spread(heights, [*circle, ("card", "n", 0.5)])
    assert {found[name] for name in "nesw"} == {found["n"]}
    assert found["n"] - found["card"] == pytest.approx(0.5)

"""Which panel lies over which in a bound book, and how many pairs are looked at."""

from __future__ import annotations

import itertools

import pytest
from random_books import random_book
from spoiling import changed_part, longer_panel
from thick_books import composed, mixed_book

from dielines.folding.depths import overs, pressed_heights, sorted_layers, upright_heights
from dielines.folding.folded_book import FoldedBook
from dielines.folding.layer_order import LayerOrder
from dielines.folding.standing import standing_heights


@pytest.fixture(scope="module")
def stack_of(tmp_path_factory):
    kept = {}

    def made(text):
        if text not in kept:
            folder = tmp_path_factory.mktemp("order")
            kept[text] = composed(folder, text).thickness.stack
        return kept[text]

    return made


def order_of(stack) -> LayerOrder:
    return LayerOrder(stack, standing_heights(stack, stack.boards[0]))


def test_layers_of_four_pages_lie_from_cover_to_cover(stack_of):
    """From the back: tab, page, flap over the board; a pocket's back lies towards its cover."""
    order = order_of(stack_of(mixed_book(4)))
    upwards = [
        ("back-board", "board"), ("page-4", "binding.tab"), ("page-4", "page"), ("page-4", "flap"),
        ("page-3", "back"), ("page-3", "seam"), ("page-3", "front"),
        ("page-2", "flap"), ("page-2", "page"), ("page-1", "front"), ("page-1", "seam"),
        ("page-1", "back"), ("page-1", "binding.tab"), ("front-board", "board"),
    ]  # fmt: skip
    for low, high in itertools.combinations(upwards, 2):
        assert order.over(low, high) == 1, (low, high)
        assert order.over(high, low) == -1, (low, high)


def test_a_tab_lies_between_the_page_it_is_taped_to_and_that_pages_flap(stack_of):
    order = order_of(stack_of(mixed_book(4)))
    strip = ("hinge-strip", "front_tab")
    assert order.over(strip, ("page-2", "page")) == 1
    assert order.over(strip, ("page-2", "flap")) == -1


def test_a_flap_deeper_than_its_channel_still_lies_before_the_next_page(tmp_path):
    folded = composed(tmp_path, mixed_book(4))
    book = changed_part(folded.book, "page-2", lambda p: longer_panel(p, "gusset", "x", 20 / 3))
    order = order_of(FoldedBook(book, folded.workshop).thickness.stack)
    assert order.standing["page-2", "flap"] < order.standing["page-3", "front"]
    assert order.over(("page-2", "flap"), ("page-3", "front")) == -1


def test_fins_of_a_comb_lie_one_after_the_other_with_their_pages(stack_of):
    text = mixed_book(4).replace("tab and channel", "concertina spine")
    order = order_of(stack_of(text))
    fins = [f"{leg}{n}" for n in (1, 2, 3, "_last") for leg in ("up", "down")]
    for first, second in itertools.combinations(fins, 2):
        assert order.over(("comb-spine", first), ("comb-spine", second)) == -1
    assert order.over(("comb-spine", "up1"), ("page-1", "front")) == 1
    assert order.over(("comb-spine", "down1"), ("page-1", "front")) == 1
    assert order.over(("comb-spine", "up_last"), ("page-4", "page")) == -1


def test_order_is_the_same_seen_from_both_sides(stack_of):
    for seed in (1, 4, 9, 16):
        stack = stack_of(random_book(seed))
        order = order_of(stack)
        for a, b in itertools.combinations(stack.levels, 2):
            assert order.over(a, b) == -order.over(b, a), (seed, a, b)


@pytest.mark.parametrize("text", [mixed_book(6), random_book(3), random_book(8), random_book(12)])
def test_pairs_of_neighbours_give_the_heights_that_all_pairs_give(stack_of, text):
    stack = stack_of(text)
    order = order_of(stack)
    near = overs(stack, order.pairs())
    every = overs(
        stack,
        (
            (a, b) if side > 0 else (b, a)
            for a, b in itertools.combinations(stack.levels, 2)
            if stack.levels[a].box.shared(stack.levels[b].box) and (side := order.over(a, b))
        ),
    )
    assert len(near) < len(every)
    lowest = dict.fromkeys(stack.levels, 0.12)
    near_sorted, every_sorted = (sorted_layers(stack.levels, found) for found in (near, every))
    assert near_sorted.circles == every_sorted.circles == ()
    one, other = (pressed_heights(found, lowest) for found in (near_sorted, every_sorted))
    assert one == pytest.approx(other)
    standing = order.standing
    one, other = (
        upright_heights(found, stack.links, standing, stack.boards[0]) for found in (near, every)
    )
    moved = [sum(abs(u.heights[k] - standing[k]) for k in standing) for u in (one, other)]
    assert moved[0] == pytest.approx(moved[1], abs=1e-6)


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_pairs_grow_as_the_panels_do(tmp_path, binding):
    for pages in (6, 12, 24):
        text = mixed_book(pages).replace("tab and channel", binding)
        stack = composed(tmp_path, text).thickness.stack
        pairs = list(order_of(stack).pairs())
        assert len(pairs) == len(set(pairs))
        assert len(pairs) < 6 * len(stack.levels)

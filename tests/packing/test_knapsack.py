"""Sets that could share a sheet: what is said of them, against all sets that fit tiny sheets."""

import random

from kit_albums import album
from tiny_layouts import fits, fitting_sets, ways

from dielines.packing.exact_free import exact_pricer
from dielines.packing.first_answer import sheets_alone
from dielines.packing.knapsack import Knapsack, most_valuable
from dielines.packing.lying import ways_to_lie
from dielines.packing.master import columns_of
from dielines.packing.order import Bed, Box, Order, Work
from dielines.packing.relaxed import relaxed

ENOUGH = 10**8


def sack(order):
    return Knapsack((order.beds[0].width, order.beds[0].height), ways_to_lie(order)[0])


def test_no_set_that_fits_is_worth_more_than_is_said():
    draw = random.Random(13)
    exact = 0
    for _ in range(60):
        boxes = tuple(
            Box(draw.randint(1, 5), draw.randint(1, 5), draw.random() < 0.5) for _ in range(3)
        )
        bed = Bed(draw.randint(4, 7), draw.randint(4, 7))
        order = Order(boxes, tuple(draw.randint(0, 3) for _ in boxes), (bed,))
        known = sack(order)
        sets = fitting_sets(order, 0)
        for _ in range(3):
            prices = [draw.randint(0, 720720) for _ in boxes]
            best = max(sum(p * n for p, n in zip(prices, some, strict=True)) for some in sets)
            found = most_valuable(known, prices, order.counts, (), Work(ENOUGH))
            assert found.at_most >= best
            assert all(n <= most for n, most in zip(found.counts, order.counts, strict=True))
            exact += found.at_most - best < 10
    assert exact > 120


def test_a_set_that_is_ruled_out_is_not_proposed_again_nor_one_that_holds_it():
    order = Order((Box(68, 100, True),), (6,), (Bed(186, 186),))
    known = sack(order)
    assert most_valuable(known, [1000], (6,), (), Work(ENOUGH)).counts == (4,)
    known.misfits.append((3,))
    assert most_valuable(known, [1000], (6,), (), Work(ENOUGH)).counts == (2,)
    assert most_valuable(known, [1000], (6,), ((2,),), Work(ENOUGH)).counts == (1,)


def test_a_set_of_two_kinds_that_is_ruled_out_leaves_each_kind_alone():
    order = Order((Box(4, 4), Box(3, 5)), (4, 4), (Bed(8, 8),))
    known = sack(order)
    known.misfits.append((2, 1))
    for prices in ((700, 400), (400, 700), (9, 500)):
        found = most_valuable(known, prices, order.counts, (), Work(ENOUGH))
        assert not (found.counts[0] >= 2 and found.counts[1] >= 1)
        boxes = [ways(order, kind, 0) for kind, n in enumerate(found.counts) for _ in range(n)]
        assert fits((8, 8), boxes) or found.at_most > 0


def test_very_long_sides_are_weighed_without_loss_of_proof():
    third = 333_334
    order = Order((Box(third, 1_000_000),), (5,), (Bed(1_000_000, 1_000_000),))
    assert most_valuable(sack(order), [720720], (5,), (), Work(ENOUGH)).counts == (2,)
    fitting = Order((Box(third - 1, 1_000_000),), (5,), (Bed(1_000_000, 1_000_000),))
    assert most_valuable(sack(fitting), [720720], (5,), (), Work(ENOUGH)).counts == (3,)


def test_sets_of_which_nobody_knows_how_they_lie_prove_more_than_counting():
    order = album(8, 24, [Bed(186, 378)])
    start = columns_of(order, sheets_alone(order))
    found = relaxed(order, exact_pricer(order), start, 0, Work(ENOUGH))
    assert found.bound == 165


def test_a_bound_that_is_known_is_never_lowered():
    order = album(4)
    start = columns_of(order, sheets_alone(order))
    assert relaxed(order, exact_pricer(order), start, 9, Work(1)).bound == 9


def test_looking_at_all_sets_and_the_programme_agree(monkeypatch):
    draw = random.Random(99)
    for _ in range(25):
        boxes = tuple(
            Box(draw.randint(20, 90), draw.randint(20, 90), draw.random() < 0.5) for _ in range(6)
        )
        order = Order(boxes, (3,) * 6, (Bed(186, 186),))
        prices = [draw.randint(1, 200_000) for _ in boxes]
        answers = []
        for few in (0, 99):
            monkeypatch.setattr("dielines.packing.knapsack.FEW", few)
            answers.append(most_valuable(sack(order), prices, order.counts, (), Work(ENOUGH)))
        by_programme, one_by_one = answers
        assert by_programme.value == one_by_one.value > 0
        assert abs(by_programme.at_most - one_by_one.at_most) < 10


def test_only_sets_worth_more_than_a_fair_price_are_told():
    order = album(8, 24)
    prices = [720720 // 9] * 9
    best = most_valuable(sack(order), prices, order.counts, (), Work(ENOUGH))
    for fair in (best.value - 1, best.value, best.value + 720720):
        found = most_valuable(sack(order), prices, order.counts, (), Work(ENOUGH), fair)
        assert found.value == (best.value if fair < best.value else 0) or found.value == best.value
        assert found.at_most <= max(fair, best.value) + 10
        assert found.at_most >= best.value

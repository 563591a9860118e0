"""The search for an order of boxes that fills one sheet."""

from layout_judge import wrong_on_sheet

from dielines.packing.lots import Lots
from dielines.packing.order import Bed, Box, Order, Pattern, Work
from dielines.packing.order_search import fullest, searching_filler
from dielines.packing.skyline import skyline_filler


def cut_up(seed, count=14):
    """Return an order of boxes into which one sheet was cut by lot, each once."""
    lots = Lots(seed)
    pieces = [(0, 0, 70, 70)]
    while len(pieces) < count:
        x, y, wide, high = pieces.pop(lots.below(len(pieces)))
        if wide > high:
            at = 1 + lots.below(wide - 1) if wide > 1 else 0
            halves = [(x, y, at, high), (x + at, y, wide - at, high)]
        else:
            at = 1 + lots.below(high - 1) if high > 1 else 0
            halves = [(x, y, wide, at), (x, y + at, wide, high - at)]
        pieces += halves if at else [(x, y, wide, high)]
    boxes = tuple(Box(wide, high, True) for _, _, wide, high in pieces)
    return Order(boxes, (1,) * len(boxes), (Bed(70, 70),))


def covered(order, filled):
    return sum(order.boxes[box.kind].area for box in filled.placed)


def test_the_search_fills_more_than_the_filler_alone_and_breaks_no_law():
    more = 0
    for seed in range(40):
        order = cut_up(seed)
        kinds = list(range(len(order.boxes)))
        alone = skyline_filler(order)(kinds, 0, Work(10**9))
        found = fullest(order, skyline_filler(order), kinds, 0, Work(20_000))
        assert wrong_on_sheet(order, Pattern(0, found.placed)) == []
        assert sorted([box.kind for box in found.placed] + list(found.left)) == kinds
        more += covered(order, found) - covered(order, alone)
    assert more > 40 * 70 * 70 // 20  # a twentieth of a sheet on average


def test_what_is_kept_leads_to_fuller_sheets_than_keeping_all_or_nothing():
    """Deterministic; 99.8 % here, 99.5 % when every list is kept, 99.4 % when none is."""
    shares = []
    for seed in range(12):
        order = cut_up(seed, 32)
        found = fullest(order, skyline_filler(order), range(32), 0, Work(60_000))
        shares.append(covered(order, found) / (70 * 70))
    assert sum(shares) / len(shares) > 0.9965


def test_it_ends_where_nothing_is_left_to_place():
    order, work = Order((Box(7, 5),), (4,), (Bed(15, 11),)), Work(10**9)
    assert fullest(order, skyline_filler(order), [0] * 4, 0, work).left == ()
    assert work.spent < 1000


def test_of_equal_boxes_the_last_in_the_list_are_left():
    order = Order((Box(7, 5), Box(7, 6)), (3, 1), (Bed(7, 11),))
    filled = fullest(order, skyline_filler(order), [0, 1, 0, 0], 0, Work(5_000))
    assert filled.left == (2, 3)


def test_more_work_never_fills_less():
    order = cut_up(7)
    shares = [
        covered(order, fullest(order, skyline_filler(order), range(14), 0, Work(work)))
        for work in (0, 1_000, 10_000, 50_000)
    ]
    assert shares == sorted(shares)


def test_a_searching_filler_spends_no_more_than_its_share_nor_than_is_left():
    order = cut_up(3, 32)
    filler = searching_filler(order, skyline_filler(order), 5_000)
    full, little = Work(10**9), Work(300)
    filler(list(range(32)), 0, full)
    filler(list(range(32)), 0, little)
    assert 5_000 <= full.spent < 6_000
    assert little.spent < 1_500


def test_the_same_list_gives_the_same_sheet():
    order = cut_up(11)
    once, twice = (
        fullest(order, skyline_filler(order), range(14), 0, Work(9_000)) for _ in range(2)
    )
    assert once == twice

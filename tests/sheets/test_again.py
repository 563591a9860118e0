"""A stock needed again after a change: never more than before where all parts have shrunk."""

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from dielines.lengths import Length, inches, millimetres
from dielines.packing.first_answer import sheets_alone
from dielines.packing.order import Plan, Work
from dielines.sheets.again import AsCut, need_of, needed_again
from dielines.sheets.laying_out import lay_out
from dielines.sheets.way_of_cutting import By


def scaled(path, across, up):
    """Return a path made smaller towards the lower left, its arcs left as they bulge."""
    vertices = tuple(replace(v, x=v.x * across, y=v.y * up) for v in path.vertices)
    return replace(path, vertices=vertices)


def shrunk(book, draw):
    """Return the book with some of its parts a little smaller, those of one letter alike."""
    shares = {}
    for entry in book.parts:
        new = tuple(1 - millimetres(draw.randint(0, 9)).mm / 300 for _ in range(2))
        shares.setdefault(entry.letter, new if draw.random() < 0.5 else (1, 1))
    parts = [
        replace(e, part=replace(e.part, outline=tuple(scaled(p, *shares[e.letter]) for p in e.part.outline)))
        for e in book.parts
    ]  # fmt: skip
    return replace(book, parts=tuple(parts))


def one_by_one(order, *_):
    """Return the worst plan there is: each part on a sheet of its own."""
    runs = [(p, order.counts[p.placed[0].kind]) for p in sheets_alone(order) if p.bed == 0]
    return Plan(tuple(runs), 0)


@pytest.mark.parametrize("wish", [By.MACHINE, By.TRIMMER])
@pytest.mark.parametrize("name", ["lakeside", "first-year"])
def test_shrinking_never_needs_more_sheets(sample, monkeypatch, name, wish):
    book, workshop = sample(name)
    layout = lay_out(book, workshop, wish)
    draw = random.Random(3)
    monkeypatch.setattr("dielines.sheets.again.order_plan", one_by_one)
    monkeypatch.setattr("dielines.sheets.again.with_real_outlines", lambda _, plan, work: plan)
    for _ in range(12):
        changed = AsCut(shrunk(book, draw), workshop, wish, None)
        for old in layout.stocks:
            new = needed_again(changed, old)
            assert new.count <= old.count


def test_a_book_that_has_not_changed_needs_what_it_needed(sample, monkeypatch):
    monkeypatch.setattr("dielines.sheets.again.order_plan", None)  # nothing is laid out
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(5_000))
    same = AsCut(book, workshop, By.MACHINE, None)
    for old in layout.stocks:
        assert needed_again(same, old) == need_of(old.rooms, old.plan)


def test_where_a_bound_forbids_a_saving_nothing_is_laid_out(sample, monkeypatch):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.TRIMMER)
    boards = next(stock for stock in layout.stocks if stock.stock.name == "grey board")
    assert boards.plan.bound == boards.plan.price(boards.order.beds)
    monkeypatch.setattr("dielines.sheets.again.order_plan", None)
    less, _ = sample("lakeside", "usual.fore_edge=1/7")
    changed = AsCut(less, workshop, By.TRIMMER, None)
    assert needed_again(changed, boards).count == boards.count


def test_a_part_that_fits_no_sheet_any_more_is_no_advice(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    large, _ = sample("lakeside", "size=photo 11 x 11 1/7")
    found = [needed_again(AsCut(large, workshop, By.MACHINE, None), old) for old in layout.stocks]
    assert None in found


def test_larger_parts_are_laid_out_and_may_need_more(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.TRIMMER)
    large, _ = sample("lakeside", "size=photo 6 x 4 2/7")
    changed = AsCut(large, workshop, By.TRIMMER, None)
    found = [needed_again(changed, old) for old in layout.stocks]
    assert sum(need.count for need in found) > sum(old.count for old in layout.stocks)


def test_a_wider_gap_does_not_keep_the_old_layout(sample, monkeypatch):
    monkeypatch.setattr("dielines.sheets.again.WORK", 0)
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE)
    wide = AsCut(book, workshop, By.MACHINE, inches("4/7"))
    found = sum(needed_again(wide, old).count for old in layout.stocks)
    assert found > sum(old.count for old in layout.stocks)


def test_costs_are_counted_by_hand_and_what_is_at_hand_costs_nothing(sample):
    book, workshop = sample("lakeside")
    stock = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0)).stocks[0]

    def rooms(**said):
        return [replace(r, sheet=replace(r.sheet, **said)) for r in stock.rooms]

    assert need_of(stock.rooms, stock.plan).cost is None
    priced = need_of(rooms(price=Decimal("0.35")), stock.plan)
    assert priced.cost == stock.count * Decimal("0.35")
    assert need_of(rooms(have=9), stock.plan).cost == 0


def test_an_outline_that_sticks_out_of_the_old_one_is_not_kept(sample):
    from dielines.paths import polyline
    from dielines.sheets.again import _is_within
    from dielines.sheets.wanted import stocks_of, wanted_from

    book, _ = sample("lakeside")
    one = wanted_from(book, stocks_of(book)[0])[0]

    def cut(*corners):
        return replace(one, part=replace(one.part, outline=(polyline(corners, closed=True),)))

    notched = cut((0, 0), (90, 0), (90, 30), (60, 30), (60, 90), (0, 90))
    other = cut((0, 0), (90, 0), (90, 90), (60, 90), (60, 30), (0, 30))
    assert _is_within(other, notched, has_outlines=False)
    assert not _is_within(other, notched, has_outlines=True)
    assert _is_within(cut((0, 0), (50, 0), (50, 80), (0, 80)), notched, has_outlines=True)
    wider = replace(one, size=one.size._replace(across=one.size.across + Length(inches(1).mm / 7)))
    assert not _is_within(wider, one, has_outlines=False)

"""How many books fail: drawn by lot against the closed form, and what would help."""

from __future__ import annotations

from dataclasses import replace

import pytest
from thick_books import mixed_book

from dielines.book.composing import compose
from dielines.lengths import millimetres
from dielines.tolerance.clearance import Clearance, Fault
from dielines.tolerance.clearances import clearances_of
from dielines.tolerance.closed_form import chance_of, room_needed
from dielines.tolerance.datum import Datum
from dielines.tolerance.drawing_lots import least_rooms
from dielines.tolerance.hand_error import ErrorKind, HandError
from dielines.tolerance.remedies import FEW, SIZE_OF, enlarged
from dielines.tolerance.tolerance import Estimate, tolerance_of
from dielines.workshop.hand_tools import HandErrors

HAND = HandErrors(millimetres("0.3"), millimetres("0.25"), millimetres("0.4"))
DRAWS = 10_000
EIGHTH = 3.175  #: mm, the room of the worked example


def alike(rows: tuple[Clearance, ...], play: float) -> list[Clearance]:
    """Return the clearances of pages and spine of the worked example: an eighth of an inch."""
    return [
        replace(row, nominal=play if row.fault is Fault.SPINE else EIGHTH)
        for row in rows
        if row.fault is not Fault.TAPE
    ]


def sure(share: float, draws: int = DRAWS) -> float:
    """Return four standard errors of a share."""
    return 4 * Estimate(round(share * draws), draws).error


@pytest.fixture(scope="module")
def tolerances(four, twenty_four):
    return {4: tolerance_of(four), 24: tolerance_of(twenty_four)}


def test_lots_fail_as_often_as_the_closed_form_says(twenty_four):
    for row in clearances_of(twenty_four):
        chance = row.chance(HAND)
        if chance > 0.002 and row.part in ("page-13", "page-12", "page-1", ""):
            lots = least_rooms([row], HAND, DRAWS, seed=7)
            assert lots.failing({row.fault: 0.0}) / DRAWS == pytest.approx(chance, abs=sure(chance))


def test_a_twentieth_of_twelfth_pages_fails_when_drawn(twenty_four):
    rows = alike(clearances_of(twenty_four), 0.19)
    (row,) = (r for r in rows if (r.part, r.edge) == ("page-13", "fore-edge"))
    lots = least_rooms([row], HAND, DRAWS, seed=1)
    assert lots.failing({Fault.FORE_EDGE: 0.0}) / DRAWS == pytest.approx(0.0514, abs=0.009)


def test_a_book_of_four_pages_fails_once_in_a_thousand(four):
    rows = alike(clearances_of(four), 7.56)
    lots = least_rooms(rows, HAND, DRAWS, seed=1)
    failing = lots.failing(dict.fromkeys(lots.rooms, 0.0)) / DRAWS
    assert failing == pytest.approx(0.001, abs=0.0012)
    assert failing > 0


def test_a_book_of_24_pages_fails_in_most_cases_and_by_its_spine(twenty_four):
    rows = alike(clearances_of(twenty_four), 0.19)
    lots = least_rooms(rows, HAND, DRAWS, seed=1)
    share = {fault: lots.failing({fault: 0.0}) / DRAWS for fault in lots.rooms}
    assert share[Fault.SPINE] == pytest.approx(0.46, abs=0.015)
    assert lots.failing(dict.fromkeys(lots.rooms, 0.0)) / DRAWS == pytest.approx(0.59, abs=0.02)


def test_the_same_seed_gives_the_same_books_and_another_seed_others(four):
    first, again, other = (tolerance_of(four, 2000, seed) for seed in (5, 5, 6))
    assert first == again
    assert first.usual.any_fault != other.usual.any_fault


@pytest.mark.parametrize("draws", [1, 999, 1000, 1001, 2345])
def test_as_many_books_are_drawn_as_are_asked_for(four, draws):
    tolerance = tolerance_of(four, draws)
    assert tolerance.usual.any_fault.draws == draws
    assert 0 <= tolerance.usual.any_fault.count <= draws


@pytest.mark.parametrize("draws", [0, -3, 1_000_001])
def test_too_few_or_too_many_draws_are_refused(four, draws):
    with pytest.raises(ValueError, match="1 to 1000000"):
        tolerance_of(four, draws)


def test_the_uncertainty_is_that_of_a_binomial_share():
    assert Estimate(551, DRAWS).error == pytest.approx(0.00228, abs=1e-5)
    assert Estimate(0, DRAWS).error == 0


def test_any_fault_is_at_least_each_and_at_most_all_together(tolerances):
    for tolerance in tolerances.values():
        counts = [e.count for e in tolerance.usual.by_fault.values()]
        assert max(counts) <= tolerance.usual.any_fault.count <= sum(counts)


def test_another_datum_keeps_pages_inside(tolerances):
    sticking = {d: o.sticking_out.share for d, o in tolerances[24].by_datum.items()}
    assert sticking[Datum.NEIGHBOUR] > 0.08
    assert sticking[Datum.FIRST] < 0.005
    assert sticking[Datum.JIG] <= sticking[Datum.FIRST]


def test_what_helps_most_comes_first_and_is_what_fails_most(tolerances):
    changes = tolerances[24].changes
    assert changes[0].fault is Fault.SPINE
    assert changes[0].setting == "spine.width"
    left = [change.left.count for change in changes]
    assert left == sorted(left)
    assert max(left) < tolerances[24].usual.any_fault.count


def test_a_size_changed_as_told_leaves_few_books_with_that_fault(book_of):
    text, settings = mixed_book(24, 'edge_strip = "2"'), {"spine.width": "161.925 mm"}
    before = tolerance_of(book_of(text, *(f"{k}={v}" for k, v in settings.items())))
    assert len(before.changes) == 3
    for change in before.changes:
        changed = settings | {change.setting: f"{float(change.value.mm)} mm"}
        after = tolerance_of(book_of(text, *(f"{key}={value}" for key, value in changed.items())))
        assert before.usual.by_fault[change.fault].share >= FEW
        assert after.usual.by_fault[change.fault].share < FEW + 0.005


def test_a_book_that_hardly_fails_needs_no_change(four):
    sure_hand = HandErrors(millimetres("0.02"), millimetres("0.02"), millimetres("0.02"))
    book = replace(four, workshop=replace(four.workshop, hand=sure_hand))
    tolerance = tolerance_of(book)
    assert tolerance.usual.any_fault.count == 0
    assert tolerance.changes == ()


def test_a_hand_without_errors_makes_no_faults(four):
    exact = HandErrors(*[millimetres(0)] * 3)
    tolerance = tolerance_of(replace(four, workshop=replace(four.workshop, hand=exact)))
    assert {outcome.any_fault.count for outcome in tolerance.by_datum.values()} == {0}


# ------------------------------------------------------------------ without drawing


def row_of(fault: Fault, part: str, nominal: float, coefficient: float = 1.0) -> Clearance:
    error = HandError(ErrorKind.CUT, part, f"edge {nominal}")
    return Clearance(fault, part, "page", "head", nominal, {error: coefficient})


def test_pages_count_by_the_likeliest_and_tapes_of_parts_multiply():
    # at 1.644854 standard deviations 5 % are below: published tables
    far = 1.644854 * 0.3
    pages = [row_of(Fault.HEAD_OR_TAIL, f"page-{n}", far) for n in range(3)]
    tapes = [row_of(Fault.TAPE, f"page-{n}", far) for n in range(3)]
    assert chance_of(pages, HAND) == pytest.approx(0.05, abs=1e-6)
    assert chance_of(tapes, HAND) == pytest.approx(1 - 0.95**3, abs=1e-6)


def test_the_room_needed_leaves_exactly_as_few_as_wanted():
    rows = [row_of(Fault.TAPE, f"page-{n}", 0.1 + n / 7) for n in range(4)]
    room = room_needed(rows, HAND, FEW)
    wider = [replace(row, nominal=row.nominal + room) for row in rows]
    assert chance_of(wider, HAND) == pytest.approx(FEW, abs=1e-9)
    assert chance_of(wider, HAND) < FEW


def test_the_closed_form_is_never_above_what_is_drawn_but_by_chance(tolerances):
    for tolerance in tolerances.values():
        for fault, found in tolerance.usual.by_fault.items():
            rows = [row for row in tolerance.clearances if row.fault is fault]
            assert chance_of(rows, HAND) <= found.share + sure(found.share) + 1e-4


def test_sizes_are_rounded_up_to_what_one_can_measure(four):
    larger = enlarged(four.book, Fault.HEAD_OR_TAIL, 0.1)
    assert larger.value.mm == (25.4 / 8) + (25.4 / 32)
    exactly = enlarged(four.book, Fault.SPINE, 25.4 * 3 / 32)
    assert float(exactly.by.mm) == pytest.approx(25.4 * 3 / 32)


def test_each_setting_named_is_one_that_a_book_takes(sources_of):
    sizes = {"fore_edge": 5.5, "square": 5.5, "spine": 6.5, "tape_margin": 2.5}
    assert {size.name for size in SIZE_OF.values()} == set(sizes)
    for size in SIZE_OF.values():
        source = sources_of(f"{size.setting}={sizes[size.name]} mm")
        book = compose(source.request, source.workshop, source.library)
        assert float(book.reasons.length(size.name).mm) == sizes[size.name]


def test_tape_keeps_what_templates_need_of_tabs_and_edge_strips(book_of):
    book = book_of(mixed_book(4, 'edge_strip = "2"')).book
    assert enlarged(book, Fault.TAPE, 25.4 / 16) is not None  # 1/4 in, half of a tab of 1/2 in
    assert enlarged(book, Fault.TAPE, 25.4 / 16 + 0.1) is None
    assert enlarged(book_of(mixed_book(4)).book, Fault.TAPE, 0.1) is None  # edge strips of 1 in

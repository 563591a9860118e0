"""The rule on errors of the hand: what it finds, how much, and that its advice mends it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from random_books import random_book
from spoiling import changed_join, changed_part, stretched
from thick_books import composed, mixed_book, without_reinforcement

from dielines.checks.finding import Finding, Severity
from dielines.checks.rules import likely_to_miss
from dielines.folding.folded_book import FoldedBook
from dielines.lengths import millimetres
from dielines.paths import Point
from dielines.workshop.hand_tools import HandErrors


def found(folded: FoldedBook) -> list[Finding]:
    return list(likely_to_miss.check(folded))


@pytest.fixture(scope="module")
def book_of(tmp_path_factory):
    kept: dict[tuple[str, ...], FoldedBook] = {}

    def made(text: str, *settings: str) -> FoldedBook:
        if (text, *settings) not in kept:
            kept[text, *settings] = composed(tmp_path_factory.mktemp("miss"), text, *settings)
        return kept[text, *settings]

    return made


def with_hand(folded: FoldedBook, cut: str, score: str, tape: str) -> FoldedBook:
    hand = HandErrors(*(millimetres(size) for size in (cut, score, tape)))
    return FoldedBook(folded.book, replace(folded.workshop, hand=hand))


def test_it_is_silent_on_a_sample_and_warns_of_none(samples):
    assert found(samples["lakeside"]) == []
    severities = {f.severity for folded in samples.values() for f in found(folded)}
    assert severities <= {Severity.REMARK}


def test_it_warns_of_no_correct_book(folded_of):
    books = [folded_of(random_book(seed)) for seed in range(12)]
    assert [f for book in books for f in found(book) if f.severity is not Severity.REMARK] == []


def test_a_book_of_24_pages_with_hardly_any_play_fails_by_its_spine(book_of):
    # .46 of the books by a play of 0.19 mm: worked out beforehand
    folded = without_reinforcement(book_of(mixed_book(24), "spine.width=161.925 mm"))
    first = next(f for f in found(folded) if f.advice)
    assert first.severity is Severity.WARNING
    assert float(first.amount.value) == pytest.approx(0.46, abs=0.005)
    assert first.amount.unit == "1"
    (advice,) = first.advice
    assert advice.setting == "spine.width"
    mended = book_of(mixed_book(24), f"spine.width={float(advice.value.mm)} mm")
    assert not [f for f in found(without_reinforcement(mended)) if f.advice]


def test_a_square_too_small_for_a_random_walk_is_remarked_with_the_square_that_is_not(book_of):
    settings = ("spine.width=175 mm", "usual.square=2.2 mm")
    (first,) = [f for f in found(book_of(mixed_book(24), *settings)) if f.advice]
    assert (first.severity, first.spot.part) == (Severity.REMARK, "page-12")
    # 12 tapes, and cuts of tab and page, and of the board's two edges: sd 1.51 mm
    assert float(first.amount.value) == pytest.approx(0.0726, abs=0.001)
    (advice,) = first.advice
    assert advice.setting == "usual.square"
    assert float(advice.value.mm) >= 1.644854 * 1.51
    mended = book_of(mixed_book(24), settings[0], f"usual.square={float(advice.value.mm)} mm")
    assert not [f for f in found(mended) if f.advice]


def test_a_board_cut_too_narrow_is_found_before_a_page_sticks_out(book_of):
    folded = book_of(mixed_book(4), "spine.width=36 mm")
    short = FoldedBook(
        changed_part(folded.book, "front-board", lambda p: stretched(p, "x", 70, Fraction(-10))),
        folded.workshop,
    )
    (first,) = [f for f in found(short) if f.advice]
    assert (first.advice[0].setting, first.spot.part) == ("usual.fore_edge", "page-2")
    assert 0.05 < float(first.amount.value) < 0.5


def test_a_seam_whose_tape_lies_near_the_edge_of_its_back_is_found(book_of):
    folded = book_of(mixed_book(4), "spine.width=36 mm")
    assert found(folded) == []
    (join,) = (j for j in folded.book.joins if (j.part, j.zone) == ("page-1", "seam"))
    near = Point(join.offset.x, join.offset.y - 1)  # 0.5875 mm from the edge, by 0.7071 mm
    book = changed_join(folded.book, "page-1", "seam", offset=near)
    (first,) = found(FoldedBook(book, folded.workshop))
    assert (first.spot.part, first.spot.panel) == ("page-1", "seam")
    # below 0.8309 standard deviations are .203; the seam of page 3 adds .012
    assert float(first.amount.value) == pytest.approx(1 - (1 - 0.203) * (1 - 0.0124), abs=0.002)


@pytest.mark.parametrize(
    ("hand", "parts"),
    [
        (("0.3", "0.25", "1.4"), {"page-1", "page-2"}),  # tape alone
        (("2", "0.25", "0.4"), {"page-1", "page-2", "page-3", "page-4", ""}),  # cuts alone
        (("0.3", "2", "0.4"), {"page-1", "page-3", ""}),  # scores alone
    ],
)
def test_a_shaky_hand_is_remarked_on(book_of, hand, parts):
    folded = with_hand(book_of(mixed_book(4), "spine.width=36 mm"), *hand)
    spots = {f.spot.part for f in found(folded)}
    assert spots
    assert spots <= parts


def test_many_pockets_miss_oftener_than_one(book_of):
    def share(count: int) -> float:
        text = mixed_book(count)
        return sum(
            float(f.amount.value)
            for f in found(book_of(text, "spine.width=175 mm", "usual.square=9 mm"))
        )

    # a pocket's seam misses in .0124 of the books: 12 pockets in 1 - (1 - .0124)^12
    assert share(4) == 0
    assert share(24) == pytest.approx(1 - (1 - 0.0124) ** 12, abs=0.01)


def test_what_sticks_out_as_drawn_is_left_to_other_rules(book_of):
    folded = book_of(mixed_book(4), "spine.width=36 mm")
    short = changed_part(folded.book, "front-board", lambda p: stretched(p, "x", 70, Fraction(-20)))
    assert [f for f in found(FoldedBook(short, folded.workshop)) if "fore" in str(f.advice)] == []

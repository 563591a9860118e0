"""Spines narrower than their pages. Widths are geometry; that some play is wanted is custom."""

import pytest
from random_books import random_book
from spoiling import longer_panel, stretched
from thick_books import (
    SHEET,
    composed,
    found_in,
    holding,
    mixed_book,
    settings_of,
    spoiled,
    with_stock,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import spine_too_narrow as rule

BLOCK = 28.283 + 4 * SHEET  # of four pages, reinforced, each lap under a tab
SPINE = 34.925


@pytest.fixture
def four(tmp_path):
    """Pocket, flap, pocket, flap on a spine of 1 3/8 in."""
    return composed(tmp_path, mixed_book(4))


def the_finding(folded):
    (finding,) = found_in(rule, folded)
    return finding


def test_correct_books_are_not_blamed(samples, four, tmp_path):
    for folded in (*samples.values(), four):
        assert found_in(rule, folded) == []
    for seed in range(2, 20, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_a_narrow_spine_of_the_book_is_told_with_the_width_that_mends_it(tmp_path):
    folded = composed(tmp_path, mixed_book(4), "spine.width=27 2/7 mm")
    found = the_finding(folded)
    assert found.severity is Severity.WARNING
    assert found.spot.part == "spine-board"
    assert float(found.amount.value) == pytest.approx(BLOCK - 27 - 2 / 7, abs=0.001)
    mended = composed(tmp_path, mixed_book(4), *settings_of(folded, found))
    assert found_in(rule, mended) == []
    assert mended.thickness.play >= 3.17


def test_a_spine_board_cut_too_narrow_is_told(four):
    shorter = spoiled(four, "spine-board", lambda p: stretched(p, "x", p.width / 2, -22 / 3))
    found = the_finding(shorter)
    assert float(found.amount.value) == pytest.approx(BLOCK - SPINE + 22 / 3, abs=0.001)


def test_a_spine_that_does_not_even_take_the_pressed_layers_is_an_error(four):
    shorter = spoiled(four, "spine-board", lambda p: stretched(p, "x", p.width / 2, -30))
    assert the_finding(shorter).severity is Severity.ERROR


def test_a_channel_scored_too_wide_uses_up_the_play(four):
    wider = spoiled(four, "page-2", lambda p: longer_panel(p, "binding.channel", "x", 50 / 7))
    found = the_finding(wider)
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(BLOCK + 50 / 7 - SPINE, abs=0.001)


def test_thick_reinforcement_uses_up_the_play(four):
    """Two layers at each of four junctions and one on each cover tab."""
    found = the_finding(with_stock(four, "reinforcement", "9/10"))
    block = BLOCK + 10 * (0.9 - SHEET)
    assert float(found.amount.value) == pytest.approx(block - SPINE, abs=0.001)


def test_thick_paper_uses_up_the_play(four):
    found = the_finding(with_stock(four, "pages", "19/10"))
    assert float(found.amount.value) > 0
    assert found.severity is Severity.WARNING


def test_contents_do_not_widen_the_upright_spine_before_its_channels(tmp_path):
    text = mixed_book(4, holding(2, "4 x 3", "0.05"))
    assert found_in(rule, composed(tmp_path, text)) == []

"""Heights with all channels standing, from part to part."""

from __future__ import annotations

import pytest
from thick_books import PAPER, TAPE, book_of, composed, mixed_book, without_reinforcement

from dielines.folding.standing import standing_heights


def heights_of(folded):
    stack = folded.thickness.stack
    return standing_heights(stack, stack.boards[0])


def test_the_legs_of_a_fin_lie_a_paper_and_a_tape_apart(tmp_path):
    text = book_of(["plain leaf", "flap", "plain leaf"], "", "concertina spine")
    heights = heights_of(composed(tmp_path, text))
    for fin in ("1", "2", "_last"):
        apart = heights["comb-spine", f"up{fin}"] - heights["comb-spine", f"down{fin}"]
        assert apart == pytest.approx(PAPER + TAPE)


def test_rooms_of_a_comb_stand_between_its_fins(tmp_path):
    """Two end channels of 1/8 in, two rooms of 1/4, three fins, and the tabs on the boards."""
    text = book_of(["plain leaf", "plain leaf", "plain leaf"], "", "concertina spine")
    folded = without_reinforcement(composed(tmp_path, text))
    told = 2 * 3.175 + 2 * 6.35 + 3 * (PAPER + TAPE) + PAPER + 2 * TAPE
    assert folded.thickness.at_binding.upright == pytest.approx(told)


def test_pages_hang_a_channel_a_paper_and_a_tape_apart(tmp_path):
    heights = heights_of(without_reinforcement(composed(tmp_path, mixed_book(4))))
    assert heights["back-board", "board"] == pytest.approx(-2.032 / 2)
    assert heights["page-3", "front"] - heights["page-4", "page"] == pytest.approx(
        6.35 + PAPER + TAPE
    )
    assert heights["page-2", "page"] - heights["page-3", "front"] == pytest.approx(
        6.35 + 2 * (PAPER + TAPE)
    )


def test_mats_go_on_after_the_tape_and_keep_no_tab_from_its_page(tmp_path):
    text = mixed_book(4)
    plain = composed(tmp_path, text).thickness
    matted = composed(tmp_path, text.replace("[usual]", 'mats = "both sides"\n[usual]')).thickness
    assert any(c.kind == "mats" for coats in matted.stack.coats.values() for c in coats)
    for key, height in standing_heights(plain.stack, plain.stack.boards[0]).items():
        assert standing_heights(matted.stack, matted.stack.boards[0])[key] == pytest.approx(height)

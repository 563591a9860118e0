"""The width of the spine and how far a cover tab reaches, worked out by hand.

Rules (TRADE.md, spine bulk and reach; common practice, no source):
spine = channels + end channels + 3/8, or, where that is more, channels + n x (paper
+ reinforcement + tape) + one paper, two tapes and two reinforcements + 1/8 play;
reach = tab - spare of the spine on that side - joint - 2 board thicknesses.
The typical workshop: paper 0.2413 mm (9.5 pt), reinforcement 0.15, tape 0.13, board
2.032 mm (80 pt), all typical values, none of them published for this.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.sizes.explaining import why

INCH = Fraction(254, 10)
PAPER, REINFORCING, TAPE = Fraction(2413, 10000), Fraction(15, 100), Fraction(13, 100)
JUNCTION = PAPER + REINFORCING + TAPE
COVERS = PAPER + 2 * TAPE + 2 * REINFORCING


def text_of(count: int, more: str = "", ends: str = '"1/8"', binding: str = "tab and channel"):
    return (
        f'units = "in"\nsize = "page 6 1/4 x 4 1/4"\nbinding = "{binding}"\n'
        f'pages = ["{count} x plain leaf"]\n{more}[usual]\nend_channel = {ends}\n'
    )


def spine(book) -> Fraction:
    return book.reasons.length("spine").mm


@pytest.mark.parametrize(
    ("count", "by_table"), [(1, "15.875"), (4, "34.925"), (12, "85.725"), (24, "161.925")]
)
def test_the_spine_by_the_table_is_all_channels_and_three_eighths(count, by_table, book_of):
    """FOLDING.md, section 5: end channels of 1/8, channels of 1/4."""
    book = book_of(text_of(count))
    assert book.reasons.length("spine_usual").mm == Fraction(by_table)
    assert book.reasons.length("channels").mm + Fraction("9.525") == Fraction(by_table)


@pytest.mark.parametrize("count", [1, 4, 10, 11, 12, 16, 24])
def test_where_the_junctions_need_more_they_govern_and_it_is_said(count, book_of):
    """From 11 pages on the allowance leaves less than 1/8 of play (TRADE.md): n x 0.5213 + 0.8013 > 6.35."""
    book = book_of(text_of(count))
    channels = (Fraction(1, 4) + (count - 1) * Fraction(1, 4)) * INCH
    need = channels + count * JUNCTION + COVERS + Fraction(1, 8) * INCH
    assert book.reasons.length("spine_by_junctions").mm == need
    usual = channels + Fraction(3, 8) * INCH
    sixteenth = INCH / 16
    rounded = -(-need // sixteenth) * sixteenth
    governs = count >= 11
    assert (need > usual) == governs
    assert spine(book) == (rounded if governs else usual)
    assert ("junctions-govern" in [n.code for n in book.notes]) == governs
    word = "spine_needed governs" if governs else "spine_usual governs"
    assert word in why(book.reasons, "spine").splitlines()[0]


def test_without_the_play_the_allowance_is_used_up_at_about_sixteen_pages(book_of):
    """TRADE.md: no play left at about 16 pages with reinforcement."""
    played = '"1/8"\nplay = 0'
    for count, governs in ((15, False), (16, False), (17, True)):
        book = book_of(text_of(count, ends=played))
        # 9.525 mm - 0.8013 = 8.7237; a page takes 0.5213: 16.7 pages
        assert ("junctions-govern" in [n.code for n in book.notes]) == governs


def test_an_allowance_that_is_just_enough_is_not_rounded_up(book_of):
    """Channels of 9/40 each: the usual spine is no whole sixteenth, and enough as it is."""
    book = book_of(text_of(2, ends='"9/40"\nchannel = "9/40"\nspine_allowance = "1/4"'))
    assert spine(book) == (Fraction(27, 40) + Fraction(1, 4)) * INCH


def test_a_spine_to_fit_is_what_the_junctions_need_in_sixteenths(book_of):
    book = book_of(text_of(4, '[spine]\nwidth = "to fit"\n'))
    need = INCH * Fraction(9, 8) + 4 * JUNCTION + COVERS  # 31.4613 mm with play: 19.8 sixteenths
    assert spine(book) == -(-need // (INCH / 16)) * (INCH / 16)
    assert spine(book) == Fraction(20, 16) * INCH


def test_a_spine_in_millimetres_is_rounded_to_whole_ones(book_of):
    """Usual 6 + 5 x 6 + 6 + ... : channels 42, allowance 10; to fit 42 + 6 x 0.52 + 0.8 + 3 = 48.9."""
    text = (
        'units = "mm"\nsize = "page 131 x 107"\nbinding = "tab and channel"\n'
        'pages = ["6 x plain leaf"]\n'
    )
    assert spine(book_of(text)) == 52
    assert spine(book_of(text + '[spine]\nwidth = "to fit"\n')) == 49


def test_a_spine_that_the_book_says_is_taken_and_one_that_is_too_narrow_told(book_of):
    wide = book_of(text_of(4, '[spine]\nwidth = "1 5/7"\n'))
    assert spine(wide) == Fraction(12, 7) * INCH
    assert "narrow-spine" not in [n.code for n in wide.notes]
    narrow = book_of(text_of(4, '[spine]\nwidth = "1 1/8"\n'))
    assert spine(narrow) == Fraction(9, 8) * INCH
    assert "narrow-spine" in [n.code for n in narrow.notes]


def test_the_concertina_spine_counts_two_papers_and_two_tapes_a_fin(book_of):
    book = book_of(text_of(3, '[spine]\nwidth = "to fit"\n', binding="concertina spine"))
    need = Fraction(3, 4) * INCH + 3 * (2 * PAPER + 2 * TAPE) + PAPER + 2 * TAPE + INCH / 8
    assert book.reasons.length("spine_by_junctions").mm == need


# ------------------------------------------------------------------ reach


def test_a_cover_tab_reaches_its_length_less_spare_joint_and_twice_the_board(book_of):
    """One page of 1/8 end channels: spine 5/8, spare 3/16. 2 - 3/16 - 5/16 - 0.16 = 1.34 in."""
    book = book_of(text_of(1))
    assert book.reasons.length("cover_tab_reach").mm == Fraction(134, 100) * INCH
    assert book.reasons.length("cover_tab_on_board").mm == Fraction(134, 100) * INCH
    assert "short-reach" not in [n.code for n in book.notes]


def test_a_tab_that_reaches_less_far_than_a_hinge_tab_is_told(book_of):
    """1 1/8 - 3/16 - 5/16 - 0.16 = 0.465 in, less than 1/2."""
    book = book_of(text_of(1, ends='"1/8"\ncover_tab = "1 1/8"'))
    assert book.reasons.length("cover_tab_reach").mm == Fraction(465, 1000) * INCH
    assert "short-reach" in [n.code for n in book.notes]


def test_a_spine_narrower_than_its_channels_has_nothing_to_spare(book_of):
    book = book_of(text_of(4, '[spine]\nwidth = "3/4"\n'))
    assert book.reasons.length("spine_spare").mm == 0

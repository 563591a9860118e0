"""Colours: dark lines on light papers, faces lighter or darker than reverses."""

from itertools import pairwise

import pytest

from dielines.pictures import tints
from dielines.pictures.tints import Tint, contrast

EVERY = [value for value in vars(tints).values() if isinstance(value, Tint)]
EVERY += tints.PAGES


def colour(text: str):
    return tuple(int(text[i : i + 2], 16) for i in (1, 3, 5))


def test_black_on_white_has_the_contrast_of_the_standard():
    """Published: WCAG 2.2, "contrast ratio" goes from 1 to 21."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((90, 90, 90), (90, 90, 90)) == pytest.approx(1)


def test_a_grey_has_the_contrast_that_is_published():
    """#767676 on white is 4.54, the well-known darkest grey that passes (from memory)."""
    assert contrast(colour("#767676"), (255, 255, 255)) == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("tint", EVERY)
@pytest.mark.parametrize("light", [0, 1 / 3, 1])
def test_lines_and_words_stand_out_on_every_tint_shaded_or_not(tint, light):
    """Published: WCAG 2.2, 1.4.3, at least 4.5 for text; lines need 3 (1.4.11)."""
    for side in (tint.face, tint.reverse):
        ground = colour(tints.shaded(side, light))
        assert contrast(colour(tints.INK), ground) >= 4.5
        assert contrast(colour(tints.ACCENT), ground) >= 3


@pytest.mark.parametrize("tint", [tints.PAPER, *tints.PAGES])
def test_face_and_reverse_of_a_page_differ_in_lightness_and_not_in_hue_alone(tint):
    """Common practice: a step that a grey print still shows; 1.25 is from memory."""
    assert contrast(tint.face, tint.reverse) >= 1.25


def test_neighbouring_pages_have_different_tints():
    assert all(a != b for a, b in pairwise([*tints.PAGES, tints.PAGES[0]]))

"""Books that close to a wedge or gape. Numbers are columns; that 2.5 mm are worth a word is memory."""

import pytest
from thick_books import (
    SHEET,
    composed,
    found_in,
    holding,
    mixed_book,
    without_reinforcement,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import wedge as rule


def the_finding(folded):
    (finding,) = found_in(rule, folded)
    return finding


def filled(count: int, thick: str) -> str:
    return mixed_book(count, "".join(holding(n + 1, "5 x 3", thick) for n in range(count)))


def test_four_pages_without_contents_close_to_a_wedge(tmp_path):
    """Upright 27.368 at the spine, pressed 2.667 at the seams of two pockets and two flaps."""
    found = the_finding(without_reinforcement(composed(tmp_path, mixed_book(4))))
    assert found.severity is Severity.REMARK
    assert float(found.amount.value) == pytest.approx(27.3685 - 2.667, abs=0.001)


def test_contents_make_the_wedge_smaller_by_as_much(tmp_path):
    """Photos under the seam of the pockets: all count in one column."""
    text = mixed_book(4, "".join(holding(n, "5 x 3 1/2", "0.04") for n in range(1, 5)))
    found = the_finding(without_reinforcement(composed(tmp_path, text)))
    assert float(found.amount.value) == pytest.approx(27.3685 - 2.667 - 4 * 1.016, abs=0.001)


def test_contents_that_fill_the_channels_leave_nothing_to_say(tmp_path):
    assert found_in(rule, composed(tmp_path, filled(4, "0.25"))) == []


def test_a_book_that_is_too_full_gapes(tmp_path):
    folded = composed(tmp_path, filled(4, "0.6"))
    found = the_finding(folded)
    assert folded.thickness.gape == pytest.approx(float(found.amount.value))
    assert folded.thickness.gape > 20


def test_wide_channels_make_it_worse_by_as_much(tmp_path):
    plain = the_finding(composed(tmp_path, mixed_book(4)))
    wide = the_finding(composed(tmp_path, mixed_book(4), "usual.channel=3/8"))
    grown = float(wide.amount.value) - float(plain.amount.value)
    assert grown == pytest.approx(3 * 25.4 / 8)


def test_a_lap_and_mats_count_where_they_lie(tmp_path):
    folded = composed(tmp_path, mixed_book(4))
    found = the_finding(folded)
    upright = 27.3685 + 10 * SHEET
    assert float(found.amount.value) == pytest.approx(upright - 2.667, abs=0.001)

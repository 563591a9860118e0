"""The depth that is left of a pocket. All numbers are geometry of the layers."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import (
    PAPER,
    TAPE,
    WORKSHOP,
    composed,
    found_in,
    mixed_book,
    settings_of,
    spoiled,
    with_stock,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import pocket_too_shallow as rule


@pytest.fixture
def four(tmp_path):
    """Pocket, flap, pocket, flap; pockets 1/8 in deep."""
    return composed(tmp_path, mixed_book(4))


def shallow(folded, key, depth):
    def change(part):
        part = longer_panel(part, "head", "y", depth - 3.175)
        return longer_panel(part, "tail", "y", depth - 3.175)

    return spoiled(folded, key, change)


def amounts(found, severity):
    return {f.spot.part: round(float(f.amount.value), 4) for f in found if f.severity is severity}


def test_correct_books_have_remarks_at_most(samples, tmp_path):
    for folded in samples.values():
        assert {f.severity for f in found_in(rule, folded)} <= {Severity.REMARK}
    for seed in range(3, 20, 4):
        found = found_in(rule, composed(tmp_path, random_book(seed), workshop=""))
        assert {f.severity for f in found} <= {Severity.REMARK}


def test_an_end_page_loses_the_thickness_of_its_cover_tab(four):
    found = found_in(rule, four)
    assert amounts(found, Severity.REMARK) == {"page-1": PAPER}
    assert amounts(found, Severity.WARNING) == {}


def test_a_pocket_without_room_for_a_sheet_under_its_seam_disappoints(four):
    """From front to seam stay 0.9 mm less a paper, then a paper and a tape less: 0.29 of 0.24."""
    enough = 2 * PAPER + TAPE + PAPER
    found = found_in(rule, shallow(four, "page-3", enough - 1 / 9))
    assert amounts(found, Severity.WARNING) == {"page-3": round(1 / 9, 4)}
    assert amounts(found_in(rule, shallow(four, "page-3", enough + 0.01)), Severity.WARNING) == {}


def test_an_end_page_needs_one_thickness_more(four):
    enough = 2 * PAPER + TAPE + PAPER
    open_channel = shallow(four, "page-1", enough + 0.01)
    assert amounts(found_in(rule, open_channel), Severity.WARNING) == {}
    closed = spoiled(
        open_channel,
        "page-1",
        lambda p: longer_panel(p, "binding.channel", "x", enough + 0.01 - 3.175),
    )
    told = amounts(found_in(rule, closed), Severity.WARNING)
    assert told == {"page-1": pytest.approx(PAPER - 0.01, abs=1e-4)}


def test_thick_paper_fills_pockets_of_an_eighth(four):
    found = found_in(rule, with_stock(four, "pages", "13/10"))
    told = amounts(found, Severity.WARNING)
    clear = 3.175 - 2 * 1.3 - TAPE
    assert told["page-3"] == pytest.approx(1.3 - clear, abs=1e-3)
    assert set(told) == {"page-1", "page-3"}


def test_depths_advised_make_room(tmp_path):
    text = mixed_book(4, '[page.1]\ndepth = "1/16"\n[page.3]\ndepth = "1/16"')
    thick = composed(tmp_path, text, workshop=of_paper("0.7 mm"))
    found = [f for f in found_in(rule, thick) if f.severity is Severity.WARNING]
    assert {f.spot.part for f in found} == {"page-1", "page-3"}
    settings = [s for f in found for s in settings_of(thick, f)]
    mended = composed(tmp_path, text, *settings, workshop=of_paper("0.7 mm"))
    assert amounts(found_in(rule, mended), Severity.WARNING) == {}


def of_paper(caliper: str) -> str:
    return WORKSHOP.replace(f'"{PAPER} mm"', f'"{caliper}"')

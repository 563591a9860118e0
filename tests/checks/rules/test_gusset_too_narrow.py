"""Gussets narrower than what lies between their panels. All numbers are geometry of the layers."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import (
    PAPER,
    TAPE,
    composed,
    found_in,
    holding,
    mixed_book,
    settings_of,
    spoiled,
    with_stock,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import contents_do_not_fit
from dielines.checks.rules import gusset_too_narrow as rule

INCH = 25.4


@pytest.fixture
def four(tmp_path):
    """Pocket, flap, pocket, flap; gussets of 1/8 in."""
    return composed(tmp_path, mixed_book(4))


def narrowed(folded, key, panel, axis, width):
    return spoiled(folded, key, lambda p: longer_panel(p, panel, axis, width - 3.175))


def amounts(found):
    return {(f.spot.part, f.spot.panel, f.severity): round(float(f.amount.value), 4) for f in found}


def test_correct_books_are_not_blamed(samples, four, tmp_path):
    for folded in (*samples.values(), four):
        assert found_in(rule, folded) == []
    for seed in range(1, 20, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_a_flap_does_not_close_over_its_page_with_a_gusset_thinner_than_paper(four):
    found = found_in(rule, narrowed(four, "page-2", "gusset", "x", 1 / 7))
    assert amounts(found) == {("page-2", "gusset", Severity.ERROR): round(PAPER - 1 / 7, 4)}


def test_a_pocket_with_a_third_of_a_millimetre_has_no_room_for_its_seam(four):
    """At the tail stand back, seam with its tape, and front."""

    def change(part):
        return longer_panel(
            longer_panel(part, "tail", "y", 1 / 3 - 3.175), "head", "y", 1 / 3 - 3.175
        )

    found = found_in(rule, spoiled(four, "page-3", change))
    needed = 2 * PAPER + TAPE
    assert amounts(found) == {("page-3", "tail", Severity.ERROR): round(needed - 1 / 3, 4)}


def test_thick_paper_fills_a_pocket(four):
    found = found_in(rule, with_stock(four, "pages", "8/5"))
    tails = [f for f in found if f.spot.panel == "tail"]
    assert {f.spot.part for f in tails} == {"page-1", "page-3"}
    for finding in tails:
        assert finding.severity is Severity.ERROR
        assert float(finding.amount.value) == pytest.approx(3.2 + TAPE - 3.175)


def test_contents_ask_for_wider_gussets_by_the_worked_amount(tmp_path):
    """.14 in in a pocket of 1/8 in: the tail needs .1495, .0245 more, on both pages.

    The seam is taped to the back, a paper and a tape nearer: its gusset lacks .01 in.
    """
    text = mixed_book(4, holding(1, "5 x 2 1/2", "0.14") + holding(3, "5 x 2 1/2", "0.14"))
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    assert amounts(found) == {
        ("page-1", "tail", Severity.WARNING): round(0.0245 * INCH, 4),
        ("page-3", "tail", Severity.WARNING): round(0.0245 * INCH, 4),
        ("page-1", "head", Severity.WARNING): round(0.01 * INCH, 4),
        ("page-3", "head", Severity.WARNING): round(0.01 * INCH, 4),
    }
    assert settings_of(folded, found[0]) == ["page.1.depth=3/16"]
    mended = [text for finding in found for text in settings_of(folded, finding)]
    assert found_in(rule, composed(tmp_path, text, *mended)) == []


def test_what_lies_behind_a_flap_asks_for_its_gusset(tmp_path):
    text = mixed_book(4, holding(2, "4 x 3", "1/7", 2))
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    needed = 2 / 7 * INCH + PAPER
    assert amounts(found) == {
        ("page-2", "gusset", Severity.WARNING): round(needed - 3.175, 4),
    }
    assert found_in(rule, composed(tmp_path, text, *settings_of(folded, found[0]))) == []


def test_depth_to_fit_is_enough(tmp_path):
    things = "".join(
        f'[page.{n}]\ndepth = "to fit"\nholds = {{ what = "card", size = "5 x 3 1/2", thick = "{t}" }}\n'
        for n, t in ((1, "1/7"), (3, "2/13"))
    )
    assert found_in(rule, composed(tmp_path, mixed_book(4, things))) == []


def test_an_end_page_is_told_the_depth_that_its_contents_need_too(tmp_path):
    """.22 in: the tail itself needs .244 in, but its back is pushed in by the cover tab: 5/16."""
    folded = composed(tmp_path, mixed_book(4, holding(1, "5 x 3 1/2", "0.22")))
    (tail,) = [f for f in found_in(rule, folded) if f.spot.panel == "tail"]
    assert float(tail.amount.value) + 3.175 < INCH / 4
    (thing,) = found_in(contents_do_not_fit, folded)
    assert "page.1.depth=5/16" in settings_of(folded, tail)
    assert "page.1.depth=5/16" in settings_of(folded, thing)

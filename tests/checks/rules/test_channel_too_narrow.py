"""Channels narrower than what lies or stands in them. All numbers are geometry of the layers."""

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
from dielines.checks.rules import channel_too_narrow as rule

INCH = 25.4


@pytest.fixture
def four(tmp_path):
    """Pocket, flap, pocket, flap; end channels of 1/8 in, the others 1/4."""
    return composed(tmp_path, mixed_book(4))


def narrowed(folded, key, width, panel="binding.channel"):
    """The channel of a page made so wide after composing."""

    def change(part):
        return longer_panel(part, panel, "x", width - float(part.panel(panel).bounds().width))

    return spoiled(folded, key, change)


def amounts(found):
    return {(f.spot.part, f.severity): round(float(f.amount.value), 4) for f in found}


def test_correct_books_are_not_blamed(samples, four, tmp_path):
    for folded in (*samples.values(), four):
        assert found_in(rule, folded) == []
    for seed in range(0, 40, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_two_sheets_of_paper_do_not_go_into_a_seventh_of_a_millimetre(four):
    found = found_in(rule, narrowed(four, "page-2", 1 / 7))
    assert amounts(found) == {("page-2", Severity.ERROR): round(PAPER - 1 / 7, 4)}


def test_the_four_layers_of_a_pocket_do_not_go_into_a_third_of_a_millimetre(four):
    """Tab, back, seam with its tape, and front: from middle to middle three papers and a tape."""
    found = found_in(rule, narrowed(four, "page-3", 1 / 3))
    assert [f.severity for f in found] == [Severity.ERROR]
    wanted = 3.175 + 3.175  # a pocket and the flap of page 4 stand in it
    assert float(found[0].amount.value) == pytest.approx(wanted - 1 / 3)


def test_a_channel_that_holds_the_layers_but_not_the_gussets_disappoints(four):
    found = found_in(rule, narrowed(four, "page-3", 6.35 - 5 / 7))
    assert amounts(found) == {("page-3", Severity.WARNING): round(5 / 7, 4)}


def test_the_strip_in_the_middle_is_a_channel_too(four):
    found = found_in(rule, narrowed(four, "hinge-strip", 2.0, "channel"))
    assert amounts(found) == {("hinge-strip", Severity.WARNING): 1.175}


def test_thick_paper_fills_the_end_channel(four):
    """Of 1.5 mm paper: cover tab, back, seam, front, 4.5 mm and a tape from middle to middle."""
    found = found_in(rule, with_stock(four, "pages", "3/2"))
    (end,) = [f for f in found if f.spot.part == "page-1"]
    assert end.severity is Severity.ERROR
    assert float(end.amount.value) == pytest.approx(4.5 + TAPE - 3.175)


def test_contents_of_an_end_page_ask_for_a_wider_channel(tmp_path):
    """The worked example: .14 in of contents in a pocket of 1/8 in needs .159, .034 more."""
    text = mixed_book(4, holding(1, "5 x 2 1/2", "0.14"))
    found = found_in(rule, composed(tmp_path, text))
    assert amounts(found) == {("page-1", Severity.WARNING): round(0.034 * INCH, 4)}
    settings = settings_of(composed(tmp_path, text), found[0])
    assert settings == ["usual.end_channel=3/16"]
    assert found_in(rule, composed(tmp_path, text, *settings)) == []


def test_an_end_channel_narrower_than_its_pocket_is_told_and_the_advice_mends_it(tmp_path):
    text = mixed_book(4).replace('end_channel = "1/8"', 'end_channel = "1/12"')
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    assert amounts(found) == {("page-1", Severity.WARNING): round(INCH / 24, 4)}
    assert found_in(rule, composed(tmp_path, text, *settings_of(folded, found[0]))) == []


def test_advice_for_channels_of_one_size_serves_all_of_them(tmp_path):
    text = mixed_book(6, holding(3, "5 x 2", "0.3") + holding(5, "5 x 2", "0.4"))
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    assert {f.spot.part for f in found} >= {"page-3", "page-5"}
    for finding in found:
        assert found_in(rule, composed(tmp_path, text, *settings_of(folded, finding))) == []


def test_rooms_of_a_comb_are_channels(tmp_path):
    text = mixed_book(4, holding(2, "3 x 2", "0.3")).replace("tab and channel", "concertina spine")
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    assert {f.spot.part for f in found} == {"comb-spine"}
    assert found_in(rule, composed(tmp_path, text, *settings_of(folded, found[0]))) == []

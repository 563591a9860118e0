"""Channels far wider than their use. That 7/16 in of room are too much is from memory."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import composed, found_in, mixed_book, settings_of, spoiled

from dielines.checks.finding import Severity
from dielines.checks.rules import channel_too_wide as rule

INCH = 25.4


@pytest.fixture
def four(tmp_path):
    """Pocket, flap, pocket, flap; channels of 1/4 in."""
    return composed(tmp_path, mixed_book(4))


def amounts(found):
    return {f.spot.part: round(float(f.amount.value), 3) for f in found}


def test_correct_books_are_not_remarked_upon(samples, four, tmp_path):
    for folded in (*samples.values(), four):
        assert found_in(rule, folded) == []
    for seed in range(3, 20, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_wide_channels_of_the_book_are_told_and_the_usual_one_mends_them(tmp_path):
    folded = composed(tmp_path, mixed_book(4), "usual.channel=1")
    found = found_in(rule, folded)
    assert {f.spot.part for f in found} == {"page-2", "page-3", "hinge-strip"}
    assert {f.severity for f in found} == {Severity.REMARK}
    used = {"page-3": 6.35, "hinge-strip": 3.175}  # gussets that stand there
    for part, width in used.items():
        assert amounts(found)[part] == pytest.approx(INCH - width, abs=0.001)
    for finding in found:
        assert (
            found_in(rule, composed(tmp_path, mixed_book(4), *settings_of(folded, finding))) == []
        )


@pytest.mark.parametrize("key", ["page-2", "page-3", "page-4"])
def test_one_channel_scored_too_wide_is_told_alone(four, key):
    wider = spoiled(four, key, lambda p: longer_panel(p, "binding.channel", "x", 100 / 7))
    (found,) = found_in(rule, wider)
    assert (found.spot.part, found.spot.panel) == (key, "binding.channel")


def test_the_amount_is_what_nothing_uses(four):
    wider = spoiled(four, "page-3", lambda p: longer_panel(p, "binding.channel", "x", 100 / 7))
    assert amounts(found_in(rule, wider)) == {"page-3": round(100 / 7, 3)}


def test_the_strip_in_the_middle_counts_too(four):
    wider = spoiled(four, "hinge-strip", lambda p: longer_panel(p, "channel", "x", 100 / 7))
    assert amounts(found_in(rule, wider)) == {"hinge-strip": round(100 / 7 + 3.175, 3)}


def test_room_up_to_seven_sixteenths_is_left_alone(four):
    def widened(by):
        return spoiled(four, "page-3", lambda p: longer_panel(p, "binding.channel", "x", by))

    assert found_in(rule, widened(7 / 16 * INCH - 0.01)) == []
    assert len(found_in(rule, widened(7 / 16 * INCH + 0.01))) == 1


def test_wide_rooms_of_a_comb_are_told(tmp_path):
    text = mixed_book(4).replace("tab and channel", "concertina spine")
    folded = composed(tmp_path, text, "usual.channel=1 1/8")
    assert {f.spot.part for f in found_in(rule, folded)} == {"comb-spine"}

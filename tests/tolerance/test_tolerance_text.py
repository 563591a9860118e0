"""The tolerance as text and as data: nothing too wide, the same every time, all numbers there."""

from __future__ import annotations

import json

import pytest

from dielines.tolerance.clearance import Fault
from dielines.tolerance.datum import Datum
from dielines.tolerance.tolerance import tolerance_of
from dielines.tolerance.tolerance_text import error_words, tolerance_data, tolerance_text


@pytest.fixture(scope="module")
def tolerance(twenty_four):
    return tolerance_of(twenty_four)


def test_the_text_is_the_same_every_time_and_not_too_wide(twenty_four, tolerance):
    text = tolerance_text(twenty_four.book, tolerance)
    assert text == tolerance_text(twenty_four.book, tolerance_of(twenty_four))
    assert max(map(len, text.splitlines())) <= 100
    assert text.endswith("\n")


def test_the_text_has_the_shares_of_all_faults_and_of_all_ways_to_align(twenty_four, tolerance):
    text = tolerance_text(twenty_four.book, tolerance)
    for found in tolerance.usual.by_fault.values():
        assert f"{100 * found.share:.1f} ± {100 * found.error:.1f} %" in text
    assert [datum.value in text for datum in Datum] == [True] * 3
    assert [change.setting in text for change in tolerance.changes] == [True] * 2


def test_the_assumed_errors_of_the_hand_are_told(twenty_four, tolerance):
    text = " ".join(tolerance_text(twenty_four.book, tolerance).split())
    assert "cuts 0.3 mm, scores 0.25 mm, tape 0.4 mm" in text


def test_every_error_has_words_for_its_maker(twenty_four, tolerance):
    errors = {error for row in tolerance.clearances for error in row.row}
    words = [error_words(twenty_four.book, error) for error in errors]
    assert not [w for w in words if "binding." in w or "_" in w or ".000" in w]


def test_a_small_share_is_told_as_fewer_than_one(four):
    from dataclasses import replace

    from dielines.lengths import millimetres
    from dielines.workshop.hand_tools import HandErrors

    exact = HandErrors(*[millimetres(0)] * 3)
    book = replace(four, workshop=replace(four.workshop, hand=exact))
    assert "fewer than 1 would" in tolerance_text(book.book, tolerance_of(book))


def test_the_data_are_plain_and_complete(tolerance):
    data = json.loads(json.dumps(tolerance_data(tolerance), allow_nan=False))
    assert data["hand"] == {"cut": 0.3, "score": 0.25, "tape": 0.4}
    assert list(data["aligned"]) == ["neighbour", "first", "jig"]
    usual = data["aligned"]["neighbour"]
    assert usual["any"]["share"] == tolerance.usual.any_fault.share
    assert usual["spine"]["share"] == tolerance.usual.by_fault[Fault.SPINE].share
    assert len(data["clearances"]) == len(tolerance.clearances)
    for row in data["clearances"]:
        assert sum(row["shares"].values()) == pytest.approx(1)
    assert data["changes"][0]["set"] == "spine.width"

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.lengths import Length, inches, millimetres
from dielines.workshop.hand_tools import HandErrors, ScoringBoard, Trimmer


def test_tools_say_all_that_their_tables_say(load):
    workshop = load(
        'units = "in"\n[trimmer]\nlength = "12 1/3"\n[scoring_board]\ngrooves = "1/16"\nlength = 11\n'
        '[hand]\ncut = "0.5 mm"\nscore = "0.2 mm"\ntape = "1/64"'
    )
    assert workshop.trimmer == Trimmer(inches("12 1/3"))
    assert workshop.scoring_board == ScoringBoard(inches("1/16"), inches(11))
    assert workshop.hand == HandErrors(millimetres("0.5"), millimetres("0.2"), inches("1/64"))
    assert not [
        line for line in workshop.assumptions if line.startswith(("hand", "trimmer", "scoring"))
    ]


def test_a_trimmer_wastes_nothing_unless_told_so(load):
    assert load("").trimmer.margin == load("").trimmer.gap == millimetres(0)
    said = load('units = "in"\n[trimmer]\nmargin = "1/7"\ngap = "1/16"').trimmer
    assert (said.margin, said.gap) == (inches("1/7"), inches("1/16"))


def test_what_is_missing_is_typical_and_named(load):
    workshop = load('[hand]\nscore = "0.5 mm"')
    assert workshop.hand == HandErrors(millimetres("0.3"), millimetres("0.5"), millimetres("0.4"))
    words = [line for line in workshop.assumptions if line.startswith("hand")]
    assert len(words) == 1
    assert "cut 0.3 mm" in words[0]
    assert "tape 0.4 mm" in words[0]
    assert "score" not in words[0]


@pytest.mark.parametrize(
    ("distance", "has"),
    [("1/8", True), ("4 7/8", True), ("1/16", False), ("12", True), ("12 1/8", False), ("1/3", False), ("0", True)],
)  # fmt: skip
def test_a_score_falls_into_a_groove_at_whole_distances_only(distance, has):
    board = ScoringBoard(inches("1/8"), inches(12))
    assert board.has_groove_at(inches(distance)) is has


def test_a_trimmer_cuts_no_side_that_is_longer_than_itself():
    assert Trimmer(inches("1/3")).reach.area == (Length(Fraction(127, 15)),) * 2


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('[trimmer]\nlength = "5 m"', "not-a-length"), ('[trimmer]\nlength = "1 mm"', "out-of-range"),
        ('[trimmer]\nlenght = "300 mm"', "unknown-key"), ("trimmer = 1\n", "wrong-kind"),
        ('[scoring_board]\ngrooves = "0 mm"', "out-of-range"), ("[scoring_board]\ngroove = 1", "unknown-key"),
        ('[hand]\ncut = "1 in"', "out-of-range"), ('[hand]\ncut = "-0.1 mm"', "out-of-range"),
        ("[hand]\ncut = inf", "not-finite"),
    ],
)  # fmt: skip
def test_a_wrong_entry_of_a_tool_is_one_fault(faults, text, code):
    assert [fault[2] for fault in faults(text)] == [code]

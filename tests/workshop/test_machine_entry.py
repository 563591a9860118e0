from __future__ import annotations

import pytest

from dielines.drawing import Layer
from dielines.lengths import ZERO, inches, millimetres
from dielines.workshop.machine import LAYERS, Bridges, Dashes, Grouping, Scoring
from dielines.workshop.machine_entry import LAYER_WORDS

WHOLE = """
[machine]
area = "11 1/3 x 23 in"
margin = "3 mm"
reads = "dxf"
svg_units_per_inch = 72
dxf_version = "R12"
layers = ["cut", "score mountain", "mark"]
grouping = "layer first"
colours = { "score mountain" = "#0072B2", cut = "#000000" }
scoring = "dashes"
dashes = { dash = "2.5 mm", gap = "1 mm", keep_off = 0 }
draws = true
one_scoring_tool = false
side_up = "reverse"
thickest = "1 mm"
kerf = "0.15 mm"
gap = "1/7 in"
bridges = { width = "1/3 mm", every = "77 mm" }
overlap = "2/3 mm"
shared_edges = false
one_file_per_layer = true
registration_marks = true
"""


def test_a_machine_says_all_that_its_table_says(load):
    machine = load('units = "mm"' + WHOLE).machine
    assert machine.area == (inches("11 1/3"), inches(23))
    assert machine.margin == millimetres(3)
    assert machine.reads == ("dxf",)
    assert machine.svg_units_per_inch == 72
    assert machine.dxf_version == "R12"
    assert machine.layers == ("CUT", "SCORE_MOUNTAIN", "MARK")
    assert machine.grouping is Grouping.LAYER_FIRST
    assert machine.colours == {"SCORE_MOUNTAIN": "#0072b2", "CUT": "#000000"}
    assert machine.scoring is Scoring.DASHES
    assert machine.dashes == Dashes(millimetres("2.5"), millimetres(1), ZERO)
    assert machine.draws
    assert not machine.shares_scoring_tool
    assert machine.side_up == "reverse"
    assert machine.thickest == millimetres(1)
    assert machine.kerf == millimetres("0.15")
    assert machine.gap == inches("1/7")
    assert machine.bridges == Bridges(millimetres("1/3"), millimetres(77))
    assert machine.overlap == millimetres("2/3")
    assert not machine.cuts_shared_edges_once
    assert machine.has_file_per_layer
    assert machine.has_registration_marks
    assert machine.caution == ""


def test_a_machine_that_is_all_said_leaves_nothing_to_assume(load):
    words = load('units = "mm"' + WHOLE).assumptions
    assert not [line for line in words if line.startswith("machine")]


def test_what_is_missing_is_typical_and_named_but_choices_are_not(load):
    workshop = load('[machine]\nmargin = "5 mm"\narea = "12 x 12 in"')
    words = [line for line in workshop.assumptions if line.startswith("machine")]
    assert len(words) == 1
    assert all(
        key in words[0] for key in ("reads", "scoring", "draws", "thickest", "kerf", "side_up")
    )
    assert not any(
        key in words[0] for key in ("margin", "area", "grouping", "dxf_version", "layers", "gap",
        "bridges", "overlap", "shared_edges", "one_file_per_layer", "registration_marks")
    )  # fmt: skip
    assert workshop.machine.dxf_version == "R2000"


def test_layer_names_are_those_of_the_drawing():
    assert [layer.value for layer in Layer] == list(LAYERS)
    assert {LAYER_WORDS[word] for word in LAYER_WORDS} == set(LAYERS)
    assert LAYER_WORDS["score valley"] == "SCORE_VALLEY"


def test_scores_stay_out_of_the_file_of_a_machine_that_does_not_score(load):
    by_hand = load('[machine]\nscoring = "none"').machine
    assert by_hand.cut_layers == ("PERFORATE", "CUT")
    by_tool = load('[machine]\nscoring = "tool"').machine
    assert by_tool.cut_layers == ("SCORE_VALLEY", "SCORE_MOUNTAIN", "PERFORATE", "CUT")


def test_a_machine_cuts_what_is_thin_enough_and_a_knife_the_rest(load):
    workshop = load(
        '[machine]\nthickest = "0.3 mm"\narea = "7 x 9 in"\nmargin = "1 mm"\n'
        '[papers.a]\ncaliper = "0.3 mm"\n[boards.b]\ncaliper = "0.31 mm"'
    )
    thin, thick = workshop.stock_named("a"), workshop.stock_named("b")
    assert workshop.machine.cuts(thin)
    assert not workshop.machine.cuts(thick)
    assert workshop.reach_for(thin).area == (inches(7), inches(9))
    assert workshop.reach_for(thick).area is None
    assert workshop.reach_for(thick).margin == ZERO


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('area = "12"', "not-a-length"), ('area = "12 x 12"', "not-a-length"), ("area = 12", "wrong-kind"),
        ('margin = "-1 mm"', "out-of-range"), ('margin = "101 mm"', "out-of-range"),
        ('reads = ["svg", "pdf"]', "unknown-word"), ("reads = []", "empty"), ("reads = [1]", "unknown-word"),
        ("reads = [[]]", "unknown-word"), ("svg_units_per_inch = 90", "unknown-word"),
        ('svg_units_per_inch = "96"', "wrong-kind"), ('dxf_version = "R14"', "unknown-word"),
        ('layers = ["cut", "cut"]', "named-twice"), ('layers = ["perforate"]', "missing"),
        ('layers = ["cut", "mark"]', "would-be-cut"), ('layers = ["CUT"]', "unknown-word"),
        ("layers = [[3]]", "unknown-word"), ('grouping = "by part"', "unknown-word"),
        ('colours = { cut = "red" }', "bad-colour"), ("colours = { cut = 3 }", "bad-colour"),
        ('colours = { cut = "#00000g" }', "bad-colour"), ('colours = { scores = "#000000" }', "unknown-word"),
        ('scoring = "yes"', "unknown-word"), ('dashes = { dash = "2 mm", gap = "2 mm" }', "missing"),
        ('dashes = { dash = "0 mm", gap = "2 mm", keep_off = "0 mm" }', "out-of-range"),
        ('dashes = { dash = [], gap = "2 mm", keep_off = "0 mm" }', "wrong-kind"),
        ('dashes = { dash = "2 mm", gap = "2 mm", keep_off = "0 mm", keep = 1 }', "unknown-key"),
        ('draws = "no"', "wrong-kind"), ("one_scoring_tool = 1", "wrong-kind"),
        ('side_up = "front"', "unknown-word"), ('thickest = "0 mm"', "out-of-range"),
        ('kerf = "3 mm"', "out-of-range"), ('gap = "51 mm"', "out-of-range"), ('gap = "-1 mm"', "out-of-range"), ("speed = 3", "unknown-key"),
        ('bridges = { width = "11 mm", every = "50 mm" }', "out-of-range"),
        ('bridges = { width = "1 mm", every = "19 mm" }', "out-of-range"),
        ('bridges = { width = "1 mm" }', "missing"), ("bridges = 3", "wrong-kind"),
        ('overlap = "11 mm"', "out-of-range"), ('shared_edges = "yes"', "wrong-kind"),
        ("one_file_per_layer = 1", "wrong-kind"), ("registration_marks = 0", "wrong-kind"),
        ('like = "lasr"', "unknown-word"), ("like = 3", "wrong-kind"),
    ],
)  # fmt: skip
def test_a_wrong_entry_of_a_machine_is_one_fault_at_its_line(faults, line, code):
    assert [(fault[0], fault[2]) for fault in faults(f"[machine]\n{line}")] == [(2, code)]


def test_a_gap_is_no_narrower_than_the_kerf(load, faults):
    assert load('[machine]\nkerf = "1/3 mm"\ngap = "1/3 mm"').machine.gap == millimetres("1/3")
    narrow = '[machine]\nkerf = "1/3 mm"\ngap = "0.33 mm"'
    assert faults(narrow) == [(3, "machine.gap", "too-narrow")]


def test_parts_lie_an_eighth_of_an_inch_or_three_millimetres_apart_when_nobody_says(load):
    assert load("[machine]").machine.gap == inches("1/8")
    assert load('units = "mm"').machine.gap == millimetres(3)


def test_where_edges_are_shared_parts_touch_unless_one_says_otherwise(load):
    assert load("[machine]\nshared_edges = true").machine.gap == ZERO
    assert load('[machine]\nshared_edges = true\ngap = "0 mm"').machine.cuts_shared_edges_once


@pytest.mark.parametrize(
    "line",
    ['gap = "1/16 in"', 'kerf = "0.1 mm"', 'bridges = { width = "1/3 mm", every = "50 mm" }',
     'like = "laser"'],
)  # fmt: skip
def test_edges_are_shared_only_without_gap_kerf_and_bridges(faults, line):
    told = faults(f'units = "in"\n[machine]\nshared_edges = true\n{line}')
    assert told == [(3, "machine.shared_edges", "not-together")]


def test_all_that_keeps_edges_from_being_shared_is_told_at_once(faults):
    lines = 'gap = "1 mm"\nkerf = "0.1 mm"\nbridges = { width = "1 mm", every = "50 mm" }'
    assert len(faults(f"[machine]\nshared_edges = true\n{lines}")) == 3

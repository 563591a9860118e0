"""Joins between the parts of a template, and tape dropped onto its target once all is folded.

All of it is this project's own language; numbers are plane geometry.
"""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.part import Side
from dielines.paths import Point

F = Fraction
CALIPERS = {"cardstock": F(2, 7)}
CARDS = """template = "cards"
kind = "insert"
units = "mm"
[parts.base]
columns = [60]
rows = ["120 : page"]
[parts."card#"]
repeat = 3
columns = [50]
rows = ["9 : hinge", "i * 10 mm : card"]
folds = { "hinge / card" = 0 }
edits = [{ tape = "hinge", side = "reverse", inset = 1 }]
[[joins]]
repeat = 3
when = "i != 2"
zone = "card#.hinge"
onto = "base.page"
side = "reverse"
at = ["10 / 3", "100 - i * 20 mm / 7"]
"""


def built(text: str):
    return build(template_from_text(text, "cards.toml"), {}, CALIPERS)


def codes(text: str) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        built(text)
    return [fault.code for fault in caught.value.faults]


def test_a_join_repeats_and_says_where_the_zone_lands():
    joins = built(CARDS).joins
    assert [(j.part, j.zone, j.onto_part, j.onto_panel) for j in joins] == [
        ("card1", "hinge", "base", "page"),
        ("card3", "hinge", "base", "page"),
    ]
    assert [join.at for join in joins] == [
        Point(F(10, 3), 100 - F(20, 7)),
        Point(F(10, 3), 100 - F(60, 7)),
    ]
    assert [(join.turn, join.onto_side) for join in joins] == [(1, Side.REVERSE), (3, Side.REVERSE)]


def test_a_join_without_a_place_leaves_it_open():
    text = CARDS.partition("[[joins]]")[0] + '[[joins]]\nzone = "card1.hinge"\nonto = "base.page"\n'
    (join,) = built(text).joins
    assert (join.at, join.turn, join.onto_side) == (None, 1, Side.FACE)


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('zone = "card#', 'zone = "crad#', "no-part"),
        ('"card#.hinge"', '"card#.hnge"', "no-zone"),
        ('"card#.hinge"', '"card#.card"', "no-zone"),
        ('"base.page"', '"base.pge"', "no-onto"),
        ('"base.page"', '"base"', "no-part"),
        ('"base.page"', "7", "wrong-kind"),
        ("repeat = 3\nwhen", "repeat = 5\nwhen", "no-part"),
        ('at = ["10 / 3", "100 - i * 20 mm / 7"]', "at = [1]", "bad-point"),
        ('at = ["10 / 3", "100 - i * 20 mm / 7"]', "at = [1, [2]]", "wrong-kind"),
        ('side = "reverse"\nat', 'side = "front"\nat', "unknown-word"),
        ('at = ["10 / 3", "100 - i * 20 mm / 7"]', 'at = ["12 + 1/7", 5]', "off-target"),
        ('at = ["10 / 3", "100 - i * 20 mm / 7"]', "at = [-1, 5]", "off-target"),
        ("[[joins]]", "[[joins]]\npart = 1", "unknown-key"),
    ],
)
def test_a_join_that_cannot_be_is_told(old, new, code):
    assert old in CARDS
    assert codes(CARDS.replace(old, new)) == [code]


POCKET = """template = "pocket"
kind = "page"
units = "mm"
[parts.page]
columns = ["200 / 3"]
rows = ["12 : seam", "10 / 3 : head", "50 : front", "10 / 3 : tail", "50 : back"]
edits = [{ tape = "seam", side = "face", inset = "1/7", onto = "back" }]
[parts.page.folds]
"seam / head" = -90
"head / front" = -90
"front / tail" = -90
"tail / back" = -90
"""


def test_tape_that_lands_on_its_target_is_let_pass():
    assert built(POCKET).part("page").zones[0].onto == "back"


@pytest.mark.parametrize("line", ["seam / head", "head / front", "front / tail", "tail / back"])
def test_a_fold_with_the_wrong_sign_is_caught_by_its_tape(line):
    text = POCKET.replace(f'"{line}" = -90', f'"{line}" = 90')
    assert set(codes(text)) == {"off-target"}


def test_all_folds_the_other_way_are_as_good():
    # the body of the pocket on the inner side: tape on the other side of the seam
    assert built(POCKET.replace("-90", "90").replace('"face"', '"reverse"'))


def test_tape_that_looks_away_from_its_target_is_caught():
    # the seam lies parallel to the front, a gusset's depth behind it
    shallow = POCKET.replace("10 / 3", "1 / 3").replace('onto = "back"', 'onto = "front"')
    assert built(shallow.replace('"face"', '"reverse"'))
    assert codes(shallow) == ["faces-away"]


def test_tape_that_ends_away_from_its_target_is_caught():
    assert codes(POCKET.replace('onto = "back"', 'onto = "front"')) == ["off-target"]


def test_tape_that_stands_on_its_target_is_caught():
    assert codes(POCKET.replace('onto = "back"', 'onto = "head"')) == ["off-target"]


def test_tape_that_sticks_out_is_caught_at_its_line_with_the_amount():
    text = POCKET.replace('"50 : back"', '"10 : back"').replace("12 : seam", "50 : seam")
    with pytest.raises(TemplateError) as caught:
        built(text)
    (fault,) = caught.value.faults
    assert (fault.code, fault.line, fault.column) == ("off-target", 7, 10)
    # the tape reaches 50 - 1/7 down from the head; the back only covers the lowest 10
    assert "20 %" in fault.message
    assert "39.86 mm" in fault.message


def test_a_repeated_part_tells_at_its_line_as_well():
    text = POCKET.replace("[parts.page", '[parts."page#"').replace(
        "columns =", "repeat = 2\ncolumns ="
    )
    with pytest.raises(TemplateError) as caught:
        built(text.replace('"tail / back" = -90', '"tail / back" = 90'))
    assert [(fault.code, fault.line) for fault in caught.value.faults] == [("off-target", 8)]


def test_parts_with_curved_folds_are_not_asked():
    text = """template = "packet"
kind = "insert"
units = "mm"
[parts.packet]
outline = [[0, 0], [60, 0], [60, 90], [0, 90]]
panels = { low = [30, 1], body = [30, 45], high = [30, 89] }
folds = { "low - body" = "valley", "high / body" = "valley" }
edits = [{ tape = "high", side = "face", inset = 1, onto = "low" }]
[parts.packet.lines]
curve = [[0, 0], { through = [30, 15], to = [60, 0] }]
fold = [[0, 80], [60, 80]]
"""
    assert built(text).part("packet").zones[0].onto == "low"

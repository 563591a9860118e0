"""What is in a file, and every reason to doubt its unit."""

from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.compare import scaled
from dielines.formats.dxf.options import DxfOptions, Version
from dielines.formats.dxf.reading import read_dxf
from dielines.formats.dxf.writing import write_dxf
from dielines.formats.look import (
    CHECK_SQUARES,
    SHEETS,
    TRUE_SIZE,
    Evidence,
    look,
    sheet_of,
    with_true_size,
)
from dielines.formats.readings import Reading, Remark
from dielines.paths import circle, line, rectangle

RATIOS = {"96/72": 96 / 72, "72/96": 72 / 96, "96/90": 96 / 90, "90/96": 90 / 96, "90/72": 90 / 72, "72/90": 72 / 90, "25.4": 25.4, "1/25.4": 1 / 25.4}  # fmt: skip
ITEMS = (
    Item(Layer.CUT, rectangle(5, 5, 5 + Fraction(4953, 40), 5 + Fraction(100, 3))),
    Item(Layer.CUT, circle((30, 20), 3.175)),
    Item(Layer.SCORE_VALLEY, line((5, 20), (128, 20))),
)
PAGE = Drawing(150.3, 61.7, (Group("page", "Page", ITEMS),))


def reading(drawing, remarks=(), sources=()):
    return Reading(drawing, "svg", "mm", 1.0, sources, remarks, "1.1")


def too_large(drawing, factor):
    """Return *drawing* as it comes out when its unit is misread."""
    grown = scaled(drawing, factor)
    return replace(grown, width=drawing.width * factor, height=drawing.height * factor)


def suspicions(drawing, **more):
    return look(reading(drawing, **more)).suspicions


def test_page_contents_and_layers_are_told():
    report = look(reading(PAGE))
    assert report.page == (150.3, 61.7)
    assert tuple(map(float, report.contents)) == pytest.approx((5, 5, 128.825, 5 + 100 / 3))
    assert [(r.layer, r.paths, r.closed, r.open) for r in report.rows] == [
        (Layer.CUT, 2, 2, 0), (Layer.SCORE_VALLEY, 1, 0, 1),
    ]  # fmt: skip
    lengths = [2 * (123.825 + 100 / 3) + 2 * 3.14159265359 * 3.175, 123]
    assert [r.length for r in report.rows] == pytest.approx(lengths)
    assert (report.suspicions, report.unit, report.version) == ((), "mm", "1.1")


def test_layers_are_told_apart_by_their_name_in_the_file():
    marks = replace(
        PAGE, groups=(Group("g", "", tuple(replace(i, layer=Layer.MARK) for i in ITEMS)),)
    )
    report = look(reading(marks, sources=("red", "blue", "red")))
    assert [(r.layer, r.source_layer, r.paths) for r in report.rows] == [
        (Layer.MARK, "red", 2), (Layer.MARK, "blue", 1),
    ]  # fmt: skip


def test_an_empty_file_is_no_trouble():
    report = look(reading(Drawing(0.0, 0.0, ())))
    assert (report.rows, report.suspicions, report.is_size_proved) == ((), (), False)


def test_a_file_without_a_unit_is_suspect():
    (found,) = suspicions(PAGE, remarks=(Remark("no-physical-size", ""),))
    assert (found.evidence, found.is_certain) == (Evidence.NO_UNIT, False)


def test_the_true_size_is_the_extent_of_the_paths_and_stands_once():
    once = with_true_size(replace(PAGE, metadata=(("template", "card"),)))
    assert once.metadata == (("template", "card"), (TRUE_SIZE, "123.825 x 33.3333333"))
    assert with_true_size(once) == once


@pytest.mark.parametrize("name", RATIOS)
def test_a_file_that_tells_its_true_size_proves_itself_or_betrays_its_misreading(name):
    told = with_true_size(PAGE)
    assert look(reading(told)).is_size_proved
    report = look(reading(too_large(told, RATIOS[name])))
    (found,) = report.suspicions
    assert (report.is_size_proved, found.evidence, found.is_certain) == (
        False,
        Evidence.TRUE_SIZE,
        True,
    )
    assert (found.misreading.name, found.factor) == (name, pytest.approx(RATIOS[name], rel=1e-6))


def test_a_wrong_size_without_a_named_ratio_is_told_as_well():
    (found,) = suspicions(too_large(with_true_size(PAGE), 1.4))
    assert (found.misreading, found.factor) == (None, pytest.approx(1.4))


def test_a_true_size_counts_more_than_any_sheet():
    wide = rectangle(0, 0, 304.8 * 96 / 72, 304.8 * 96 / 72)  # would be a 12 in sheet but for 96/72
    honest = with_true_size(Drawing(406.4, 406.4, (Group("g", "", (Item(Layer.CUT, wide),)),)))
    assert suspicions(honest) == ()
    assert [s.evidence for s in suspicions(replace(honest, metadata=()))] == [Evidence.SHEET] * 2


@pytest.mark.parametrize(
    "word", ["", "wide", "0 x 0", "1e3 x 5", "123.825", "9" * 40 + " x 1", "nan x nan", "100 x 100"]
)
def test_a_true_size_that_makes_no_sense_counts_for_nothing(word):
    report = look(reading(replace(PAGE, metadata=((TRUE_SIZE, word),))))
    assert (report.is_size_proved, report.suspicions) == (False, ())


@pytest.mark.parametrize("name", RATIOS)
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("is_upright", [True, False])
def test_a_page_that_is_a_usual_sheet_but_for_a_ratio_is_suspect(sheet, name, is_upright):
    width, height = SHEETS[sheet] if is_upright else SHEETS[sheet][::-1]
    page = Drawing(width, height, PAGE.groups)
    assert suspicions(page) == ()
    found = suspicions(too_large(page, RATIOS[name]))
    assert (Evidence.SHEET, name) in {(s.evidence, s.misreading.name) for s in found}
    assert all(sheet in s.text for s in found if s.misreading.name == name)
    assert not any(s.is_certain for s in found)


def test_contents_may_be_the_sheet_where_the_page_is_not():
    a5 = Drawing(500.0, 500.0, (Group("g", "", (Item(Layer.CUT, rectangle(7, 9, 155, 219)),)),))
    assert suspicions(a5) == ()
    (found,) = suspicions(replace(scaled(a5, 90 / 72), width=333.0))
    assert (found.evidence, found.misreading.name) == (Evidence.SHEET, "90/72")


@pytest.mark.parametrize("name", RATIOS)
@pytest.mark.parametrize("square", CHECK_SQUARES)
def test_a_check_square_that_has_its_size_but_for_a_ratio_is_suspect(square, name):
    side = CHECK_SQUARES[square]
    item = Item(Layer.MARK, rectangle(3, 4, 3 + side, 4 + side))
    page = replace(PAGE, groups=(*PAGE.groups, Group("check", "", (item,))))
    assert suspicions(page) == ()
    found = suspicions(too_large(page, RATIOS[name]))
    assert (Evidence.CHECK_SQUARE, name) in {(s.evidence, s.misreading.name) for s in found}


def test_only_squares_among_the_marks_count_as_check_squares():
    side = 25.4 * 96 / 72
    shapes = (rectangle(0, 0, side, side), rectangle(0, 0, side, 20), circle((50, 50), side / 2))
    cut = Drawing(
        150.3,
        61.7,
        (
            Group(
                "g",
                "",
                (
                    Item(Layer.CUT, shapes[0]),
                    Item(Layer.MARK, shapes[1]),
                    Item(Layer.MARK, shapes[2]),
                ),
            ),
        ),
    )
    assert suspicions(cut) == ()


@pytest.mark.parametrize(
    ("size", "name"),  # ISO 216; ASME Y14.1; 12 x 12 in from arithmetic
    [
        ((420, 297), "A3"),
        ((210, 297), "A4"),
        ((148, 210), "A5"),
        ((279.4, 215.9), "letter"),
        ((304.8, 304.8), "12 x 12 in"),
        ((304.8, 609.6), "12 x 24 in"),
        ((300, 300), ""),
        ((209, 297), ""),
    ],
)
def test_usual_sheets_are_known_either_way_round(size, name):
    assert sheet_of(*size) == name


@pytest.mark.parametrize("version", [Version.R12, Version.R2000])
def test_a_dxf_of_ours_proves_its_size_and_betrays_a_changed_unit(version):
    text = write_dxf(with_true_size(PAGE), DxfOptions(version))
    assert look(read_dxf(text.encode(), "x.dxf")).is_size_proved
    changed = text.replace("$INSUNITS\n 70\n4\n", "$INSUNITS\n 70\n1\n").replace(
        '["unit", "mm"]', '["unit", "in"]'
    )
    (found,) = look(read_dxf(changed.encode(), "x.dxf")).suspicions
    assert (found.misreading.name, found.is_certain) == ("25.4", True)


def test_what_has_a_usual_size_clears_what_would_have_one():
    small = rectangle(5, 5, 5 + 148 * 0.8, 5 + 210 * 0.8)  # would be A5 but for 72/90
    sheet = Drawing(300.0, 300.0, (Group("g", "", (Item(Layer.CUT, small),)),))
    assert [s.evidence for s in suspicions(sheet)] == [Evidence.SHEET]
    assert suspicions(replace(sheet, width=210.0, height=297.0)) == ()


def test_a_check_square_clears_other_squares():
    other = Item(Layer.MARK, rectangle(50, 5, 50 + 25 * 1.25, 5 + 25 * 1.25))
    inch = Item(Layer.MARK, rectangle(5, 5, 30.4, 30.4))
    drawing = Drawing(99.0, 44.0, (Group("g", "", (other,)),))
    assert [s.evidence for s in suspicions(drawing)] == [Evidence.CHECK_SQUARE]
    assert suspicions(replace(drawing, groups=(Group("g", "", (other, inch)),))) == ()

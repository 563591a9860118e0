"""Units, layers, pages and parts of DXF files, ours and other people's."""

import io

import ezdxf
import pytest

from dielines.drawing import Layer
from dielines.errors import ForeignFileError
from dielines.formats.dxf import gathering
from dielines.formats.dxf.options import DxfOptions, Version
from dielines.formats.dxf.reading import NO_PART, read_dxf
from dielines.formats.dxf.writing import write_dxf


@pytest.mark.parametrize(
    ("number", "unit", "mm"),  # $INSUNITS: ezdxf units.rst; metres per unit as defined
    [
        (1, "in", 25.4), (2, "ft", 304.8), (3, "mi", 1609344), (4, "mm", 1), (5, "cm", 10), (6, "m", 1000),
        (9, "mil", 0.0254), (10, "yd", 914.4), (13, "micrometre", 0.001), (14, "dm", 100),
        (21, "US survey ft", 1200000 / 3937), (22, "US survey in", 100000 / 3937),
        (23, "US survey yd", 3600000 / 3937),
    ],
)  # fmt: skip
def test_lengths_are_in_mm_whatever_the_unit(file_of, line_of, number, unit, mm):
    reading = read_dxf(file_of(*line_of(0, 0, 7 / 3, 0), insunits=number), "x.dxf")
    assert reading.unit == unit
    assert reading.units_per_mm == pytest.approx(1 / mm, rel=1e-12)
    assert reading.drawing.width == pytest.approx(7 / 3 * mm, rel=1e-12)
    assert "no-physical-size" not in reading.remark_codes()


def test_a_survey_inch_is_not_an_inch(file_of, line_of):
    inch, survey = (read_dxf(file_of(*line_of(0, 0, 1e6, 0), insunits=n), "x.dxf") for n in (1, 22))
    # US survey inch = 100/3937 m = 25.400050800... mm (NIST)
    assert survey.drawing.width - inch.drawing.width == pytest.approx(50.8001016, abs=1e-6)


@pytest.mark.parametrize("number", [None, 0, 25, -1, 999])
def test_a_file_without_a_known_unit_is_read_as_mm_and_told(file_of, line_of, number):
    reading = read_dxf(file_of(*line_of(0, 0, 7 / 3, 0), insunits=number), "x.dxf")
    assert (reading.unit, reading.drawing.width) == ("unitless", 7 / 3)
    assert "no-physical-size" in reading.remark_codes()


@pytest.mark.parametrize(
    ("unit", "measurement", "disagrees"),
    [(4, 0, True), (4, 1, False), (1, 1, True), (1, 0, False), (22, 0, False)],
)
def test_two_units_that_contradict_each_other_are_told(
    file_of, line_of, unit, measurement, disagrees
):
    text = file_of(*line_of(0, 0, 7, 0), insunits=unit).decode()
    text = text.replace("9\n$INSUNITS", f"9\n$MEASUREMENT\n70\n{measurement}\n9\n$INSUNITS")
    assert ("units-disagree" in read_dxf(text.encode(), "x.dxf").remark_codes()) is disagrees


def test_an_r12_file_of_ours_in_inches_is_read_in_inches(page):
    content = write_dxf(page, DxfOptions(Version.R12, unit="in")).encode()
    reading = read_dxf(content, "x.dxf")
    assert (reading.unit, reading.version) == ("in", "AC1009")
    stripped = content[content.index(b"  0\nSECTION") :]
    assert read_dxf(stripped, "x.dxf").unit == "unitless"


def test_our_layers_are_known_in_any_case_and_others_are_marks(file_of, line_of):
    names = ["cut", "Score_Valley", "engrave", "0"]
    tags = [tag for n, name in enumerate(names) for tag in line_of(0, n, 9, n, name)]
    reading = read_dxf(file_of(*tags), "x.dxf")
    assert [i.layer for i in reading.drawing.items()] == [
        Layer.CUT,
        Layer.SCORE_VALLEY,
        Layer.MARK,
        Layer.MARK,
    ]
    assert reading.source_layers == tuple(names)
    assert "unknown-layer" in reading.remark_codes()


@pytest.mark.parametrize(("flags", "colour"), [(1, 7), (0, -7)])
def test_what_lies_on_a_frozen_or_dark_layer_is_left_out_and_told(file_of, line_of, flags, colour):
    # DXF Reference, LAYER: 70 bit 1 frozen, 62 negative off
    layer = f"0\nLAYER\n100\nAcDbSymbolTableRecord\n100\nAcDbLayerTableRecord\n2\nHidden\n70\n{flags}\n62\n{colour}\n6\nContinuous\n"
    content = file_of(*line_of(0, 0, 7, 0, "HIDDEN"), *line_of(0, 1, 9, 1), layers=layer)
    reading = read_dxf(content, "x.dxf")
    assert reading.source_layers == ("CUT",)
    assert "hidden-left-out" in reading.remark_codes()
    shown = read_dxf(
        file_of(
            *line_of(0, 0, 7, 0, "HIDDEN"),
            layers=layer.replace("70\n1", "70\n4").replace("-7", "7"),
        ),
        "x.dxf",
    )
    assert shown.source_layers == ("HIDDEN",)  # 4 is locked, not hidden


def test_an_invisible_path_is_left_out_and_told(file_of, line_of):
    tags = list(line_of(0, 0, 7, 0))
    tags[4:4] = [60, 1]  # DXF Reference, common group codes: 60, 1 is invisible
    reading = read_dxf(file_of(*tags, *line_of(0, 1, 9, 1)), "x.dxf")
    assert len(reading.drawing.items()) == 1
    assert "hidden-left-out" in reading.remark_codes()


def test_paper_space_is_left_out_and_told():
    sheet = ezdxf.new("R2000", units=4)
    sheet.paperspace().add_line((0, 0), (5, 5))
    stream = io.StringIO()
    sheet.write(stream)
    reading = read_dxf(stream.getvalue().encode(), "x.dxf")
    assert reading.drawing.items() == ()
    assert "paper-space" in reading.remark_codes()


def test_a_file_without_a_page_is_as_large_as_its_contents_and_stays_in_its_place(file_of, line_of):
    reading = read_dxf(file_of(*line_of(4e7, -3, 4e7 + 100 / 3, 4)), "x.dxf")
    assert (reading.drawing.width, reading.drawing.height) == pytest.approx((100 / 3, 7), abs=1e-7)
    assert reading.drawing.items()[0].path.vertices[0].point == (4e7, -3)
    assert "no-page" in reading.remark_codes()


def test_paths_that_name_no_part_are_one_group(file_of, line_of):
    reading = read_dxf(file_of(*line_of(0, 0, 1, 1), *line_of(0, 0, 2, 1)), "x.dxf")
    assert [(group.key, len(group.items)) for group in reading.drawing.groups] == [(NO_PART, 2)]


@pytest.mark.parametrize("part", ["two words", "<b>", "1", "x" * 300, ""])
def test_a_part_whose_name_could_be_no_key_is_no_part(file_of, line_of, part):
    content = file_of(*line_of(0, 0, 1, 1), 1001, "DIELINES", 1000, f"part={part}")
    assert [group.key for group in read_dxf(content, "x.dxf").drawing.groups] == [NO_PART]


def test_more_points_than_allowed_are_refused(page, monkeypatch):
    content = write_dxf(page).encode()
    monkeypatch.setattr(gathering, "MAX_VERTICES", 19)  # the page has 20
    with pytest.raises(ForeignFileError) as caught:
        read_dxf(content, "x.dxf")
    assert [fault.code for fault in caught.value.faults] == ["too-many"]
    monkeypatch.setattr(gathering, "MAX_VERTICES", 20)
    assert len(read_dxf(content, "x.dxf").drawing.items()) == 6


def test_an_entity_of_a_kind_that_nobody_knows_is_left_out_and_told(file_of, line_of):
    reading = read_dxf(file_of(0, "NOVELTY", 5, "9F", 8, "CUT", *line_of(0, 0, 7, 0)), "x.dxf")
    assert len(reading.drawing.items()) == 1
    assert "left-out" in reading.remark_codes()

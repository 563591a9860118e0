"""What a DXF file of ours holds, read by the rule of the format (pairs of lines) or the library."""

import hashlib
import io
import os
import subprocess
import sys
from dataclasses import replace

import ezdxf
import pytest

from dielines.drawing import Caption, Drawing, Group, Item, Layer, only_layers
from dielines.errors import UsageError
from dielines.formats.choices import Choices, Grouping
from dielines.formats.compare import compare
from dielines.formats.dxf import FORMAT
from dielines.formats.dxf.options import Curves, DxfOptions, Version
from dielines.formats.dxf.writing import write_dxf
from dielines.paths import Path, Point, Vertex, circle, line, rectangle
from dielines.workshop.machine_entry import DXF_VERSIONS


def opened(text):
    return ezdxf.read(io.StringIO(text))


def one(path, layer=Layer.CUT):
    return Drawing(200.0, 100.0, (Group("page", "Page", (Item(layer, path),)),))


@pytest.mark.parametrize("version", Version)
def test_the_library_finds_nothing_to_mend(page, version):
    auditor = opened(write_dxf(page, DxfOptions(version))).audit()
    assert (auditor.errors, auditor.fixes) == ([], [])


@pytest.mark.parametrize(
    ("version", "number"),  # DXF Reference, $ACADVER
    [
        ("R12", "AC1009"),
        ("R2000", "AC1015"),
        ("R2004", "AC1018"),
        ("R2007", "AC1021"),
        ("R2010", "AC1024"),
        ("R2013", "AC1027"),
        ("R2018", "AC1032"),
    ],
)
def test_the_version_is_the_one_asked_for(page, version, number, header_of):
    assert header_of(write_dxf(page, DxfOptions(Version(version))), "$ACADVER") == [number]


def test_a_file_in_mm_says_so_twice(page, header_of):
    text = write_dxf(page)  # $INSUNITS 4 mm, $MEASUREMENT 1 metric: DXF Reference
    assert (header_of(text, "$INSUNITS"), header_of(text, "$MEASUREMENT")) == (["4"], ["1"])


def test_a_file_in_inches_says_so_twice_and_has_inches(header_of, values_of):
    text = write_dxf(one(line((25.4, 0), (25.4 / 3, 7))), DxfOptions(unit="in"))
    assert (header_of(text, "$INSUNITS"), header_of(text, "$MEASUREMENT")) == (["1"], ["0"])
    path = opened(text).modelspace()[0]
    assert [float(n) for n in path.get_points("x")[0]] == [1.0]
    assert path.get_points("x")[1][0] == pytest.approx(1 / 3, abs=1e-15)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_in_r12_a_comment_tells_the_unit_and_no_header_variable(page, header_of, values_of, unit):
    text = write_dxf(page, DxfOptions(Version.R12, unit=unit))
    assert header_of(text, "$INSUNITS") == header_of(text, "$MEASUREMENT") == []
    assert f'dielines: ["unit", "{unit}"]' in values_of(text, 999)


def test_later_versions_hold_no_comments(page, values_of):
    assert values_of(write_dxf(page), 999) == []


def test_limits_are_the_page_and_extents_the_paths(page, version, header_of):
    text = write_dxf(page, DxfOptions(version))
    assert [float(n) for n in header_of(text, "$LIMMIN")] == [0, 0]
    assert [float(n) for n in header_of(text, "$LIMMAX")] == [215.9, 279.4]
    half = 1270 / 14  # radius of the half circle at the right of the outline
    assert float(header_of(text, "$EXTMAX")[0]) == pytest.approx(100 / 3 + half)
    assert float(header_of(text, "$EXTMIN")[1]) == 0


def test_closed_paths_are_flagged_and_open_ones_are_not(version):
    for path, is_closed in (
        (rectangle(0, 0, 7, 9), True),
        (Path(rectangle(0, 0, 7, 9).vertices, False), False),
    ):
        found = opened(write_dxf(one(path), DxfOptions(version))).modelspace()[0]
        assert bool(found.dxf.flags & 1) is is_closed


def test_r2000_has_lwpolylines_whose_count_is_that_of_their_points(page, values_of):
    text = write_dxf(page)
    kinds = [e.dxftype() for e in opened(text).modelspace()]
    assert set(kinds) == {"LWPOLYLINE", "TEXT"}
    section = text.split("ENTITIES\n")[1].split("  0\nENDSEC\n")[0]
    assert [int(n) for n in values_of(section, 90)] == [4, 2, 4, 2, 4, 4]
    assert len(values_of(section, 10)) == 20 + 1  # and where the text begins


def test_r12_has_polylines_and_lines_only(page):
    kinds = {e.dxftype() for e in opened(write_dxf(page, DxfOptions(Version.R12))).modelspace()}
    assert kinds == {"POLYLINE", "LINE", "TEXT"}


def test_coordinates_keep_all_digits(version):
    path = Path(
        (Vertex(100 / 3, 1 / 7, 0.1234567890123456), Vertex(2 / 3, 1e-7), Vertex(5, 5)), False
    )
    text = write_dxf(one(path), DxfOptions(version))
    for number in (100 / 3, 1 / 7, 0.1234567890123456, 2 / 3, 1e-7):
        assert f"\n{number!r}\n" in text


def test_chords_stay_within_the_sagitta_and_need_it(version):
    sagitta = 0.037
    text = write_dxf(
        one(circle((50, 50), 31.7)), DxfOptions(version, curves=Curves.CHORDS, sagitta=sagitta)
    )
    found = opened(text).modelspace()[0]
    points = (
        found.get_points("xyb")
        if version is Version.R2000
        else [(*v.dxf.location.vec2, v.dxf.get("bulge", 0)) for v in found.vertices]
    )
    assert all(bulge == 0 for *_, bulge in points)
    ends = [*points[1:], points[0]]
    sags = [
        31.7 - (((a[0] + b[0]) / 2 - 50) ** 2 + ((a[1] + b[1]) / 2 - 50) ** 2) ** 0.5
        for a, b in zip(points, ends, strict=True)
    ]
    assert sagitta / 4 < max(sags) <= sagitta * (1 + 1e-9)


@pytest.mark.parametrize("sagitta", [0, -1, float("nan"), float("inf")])
def test_a_sagitta_must_be_positive(sagitta):
    with pytest.raises(UsageError):
        DxfOptions(curves=Curves.CHORDS, sagitta=sagitta)


def test_layers_have_our_names_and_the_usual_colours(page, version):
    layers = {e.dxf.name: e for e in opened(write_dxf(page, DxfOptions(version))).layers}
    assert {"CUT", "SCORE_VALLEY", "TAPE_REVERSE", "MARK", "LABEL"} == set(layers) - {
        "0",
        "Defpoints",
    }
    assert layers["CUT"].color == 7  # black on white
    assert all(len(name) <= 31 and name.isascii() for name in layers)  # R12..R14: 31 characters


def test_a_colour_is_exact_since_2004_and_the_nearest_number_before(page):
    colours = dict.fromkeys(Layer, "#FF0102")
    old = opened(write_dxf(page, DxfOptions(colours=colours))).layers.get("CUT")
    new = opened(write_dxf(page, DxfOptions(Version.R2007, colours=colours))).layers.get("CUT")
    assert (old.color, old.rgb) == (1, None)  # 1 is red: DXF Reference, colour numbers
    assert (new.color, tuple(new.rgb)) == (1, (255, 1, 2))


def test_a_colour_that_is_none_is_refused(page):
    with pytest.raises(UsageError):
        write_dxf(page, DxfOptions(colours=dict.fromkeys(Layer, "red")))


def test_layers_carry_their_processing_step(page, version):
    layers = opened(write_dxf(page, DxfOptions(version))).layers  # ISO 19593-1
    steps = {
        name: [t.value for t in layers.get(name).get_xdata("DIELINES")]
        for name in ("CUT", "SCORE_VALLEY", "MARK")
    }
    assert steps == {
        "CUT": ["Structural", "Cutting"],
        "SCORE_VALLEY": ["Structural", "Creasing"],
        "MARK": ["Legend"],
    }


def order(text):
    return [
        (e.get_xdata("DIELINES")[0].value, e.dxf.layer)
        for e in opened(text).modelspace()
        if e.dxftype() != "TEXT"
    ]


def test_part_comes_before_layer_and_what_holds_the_sheet_is_cut_last(page, version):
    assert order(write_dxf(page, DxfOptions(version))) == [
        ("part=page-1", "TAPE_REVERSE"), ("part=page-1", "SCORE_VALLEY"), ("part=page-1", "CUT"), ("part=page-1", "CUT"),
        ("part=mat", "MARK"), ("part=mat", "CUT"),
    ]  # fmt: skip


def test_layer_may_come_before_part_in_an_order_of_ones_own(page, version):
    options = DxfOptions(version, grouping=Grouping.LAYER_THEN_PART, layer_order=(Layer.CUT,))
    assert order(write_dxf(page, options)) == [
        ("part=page-1", "CUT"), ("part=page-1", "CUT"), ("part=mat", "CUT"),
        ("part=mat", "MARK"), ("part=page-1", "TAPE_REVERSE"), ("part=page-1", "SCORE_VALLEY"),
    ]  # fmt: skip


def test_only_ascii_is_written_and_no_line_is_longer_than_strings_may_be(page, version):
    text = write_dxf(page, DxfOptions(version))
    assert text.isascii()
    assert max(len(line) for line in text.split("\n")) <= 255


def test_every_line_belongs_to_a_pair(page, version):
    drawing = replace(
        page,
        groups=(
            replace(
                page.groups[0], captions=(Caption(Layer.LABEL, "two\nlines\r\0", Point(1, 2), 3),)
            ),
        ),
    )
    lines = write_dxf(drawing, DxfOptions(version)).split("\n")
    assert len(lines) % 2 == 1
    assert all(code.strip().isdigit() for code in lines[:-1:2])


def test_a_cut_file_holds_no_text(page, version):
    cut = only_layers(
        page, frozenset((Layer.CUT, Layer.PERFORATE, Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN))
    )
    assert all(
        e.dxftype() != "TEXT" for e in opened(write_dxf(cut, DxfOptions(version))).modelspace()
    )


@pytest.mark.parametrize("version", Version)
def test_an_empty_drawing_is_a_sound_file(version):
    auditor = opened(write_dxf(Drawing(0.0, 0.0, ()), DxfOptions(version))).audit()
    assert (auditor.errors, auditor.fixes) == ([], [])


SCRIPT = """
import hashlib, sys
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.dxf.options import DxfOptions, Version
from dielines.formats.dxf.writing import write_dxf
from dielines.paths import circle
items = tuple(Item(layer, circle((n / 3, n / 7), 1 + n)) for n, layer in enumerate(Layer))
drawing = Drawing(200.0, 100.0, (Group("page", "Page", items),), metadata=(("a", "b"),))
for version in Version:
    print(version.value, hashlib.sha256(write_dxf(drawing, DxfOptions(version)).encode()).hexdigest())
"""


def run(seed):
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    return subprocess.run(
        [sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True
    ).stdout


def test_the_same_drawing_gives_the_same_bytes_in_another_process_at_another_time():
    first = run("1")
    assert len(set(first.split()[1::2])) == len(Version)
    assert run("23") == first


def test_writing_twice_in_one_process_gives_the_same_bytes(page, version):
    digests = {
        hashlib.sha256(write_dxf(page, DxfOptions(version)).encode()).hexdigest() for _ in range(2)
    }
    assert len(digests) == 1


def test_no_date_is_written_but_a_fixed_one(page, header_of):
    text = write_dxf(page, DxfOptions(Version.R2018))
    for name in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
        assert [float(n) for n in header_of(text, name)] == [2451545.0]  # 1 January 2000
    for name in ("$FINGERPRINTGUID", "$VERSIONGUID"):
        assert set(header_of(text, name)[0]) <= set("{}-0")


def test_what_is_asked_of_any_file_is_heeded(page):
    choices = Choices(
        grouping=Grouping.LAYER_THEN_PART,
        layer_order=(Layer.CUT,),
        colours=((Layer.CUT, "#00FF00"),),
        dxf_version="R12",
    )
    sheet = opened(FORMAT.write(page, choices).decode("ascii"))
    assert sheet.dxfversion == "AC1009"
    assert [sheet.layers.get(name).color for name in ("CUT", "MARK")] == [3, 8]  # green; grey
    assert sheet.modelspace()[0].dxf.layer == "CUT"


def test_every_version_that_a_workshop_file_may_name_can_be_written(page):
    for name in DXF_VERSIONS:
        assert compare(
            page, FORMAT.read(FORMAT.write(page, Choices(dxf_version=name)), "x").drawing
        ).is_equal(1e-9)


@pytest.mark.parametrize("name", ["", "R14", "2000", "AC1015"])
def test_a_version_that_is_not_written_is_refused(page, name):
    with pytest.raises(UsageError):
        FORMAT.write(page, Choices(dxf_version=name))

"""Any bytes give a reading or an error with a fault; what loads wrongly in silence is put right or told."""

import io
import random
import struct

import ezdxf
import pytest

from dielines.errors import ForeignFileError
from dielines.formats.compare import compare
from dielines.formats.dxf import opening
from dielines.formats.dxf.options import DxfOptions, Version
from dielines.formats.dxf.reading import read_dxf
from dielines.formats.dxf.writing import write_dxf
from dielines.formats.look import look

CLOSED = """0\nLWPOLYLINE\n5\n2F\n100\nAcDbEntity\n8\nPERFORATE\n100\nAcDbPolyline\n90\n3\n70\n1
10\n0.0\n20\n0.0\n42\n0.5\n10\n33.333333\n20\n0.0\n10\n9.0\n20\n7.0\n"""


def codes(content):
    with pytest.raises(ForeignFileError) as caught:
        read_dxf(content, "foreign.dxf")
    assert all(fault.file == "foreign.dxf" for fault in caught.value.faults)
    return [fault.code for fault in caught.value.faults]


@pytest.mark.parametrize(
    "content", [b"", b"\x00" * 50, b"<svg>SECTION</svg>", b"AC1032\x00\x00", "naïve".encode()]
)
def test_what_is_no_dxf_is_refused(content):
    assert codes(content) == ["not-dxf"]


def read_or_faults(content):
    try:
        return read_dxf(content, "foreign.dxf"), []
    except ForeignFileError as error:
        return None, [fault.code for fault in error.faults]


@pytest.mark.parametrize(
    "content",
    [b"0\nSECTION\n", b"  0\r\nSECTION\r\n", b"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nXY"],
)
def test_what_only_begins_like_dxf_is_refused(content):
    assert codes(content) == ["ends-early"]


def test_more_bytes_than_allowed_are_refused_unread(monkeypatch):
    assert opening.MAX_BYTES == 20_000_000
    assert codes(b"0\nSECTION\n" + b" " * opening.MAX_BYTES) == ["too-large"]


@pytest.mark.parametrize("form", ["text", "binary"])
def test_more_entities_than_allowed_are_refused_before_they_are_read(monkeypatch, form):
    sheet = ezdxf.new("R12")
    for i in range(100):
        sheet.modelspace().add_line((0, 0), (i, 1))
    stream = io.BytesIO() if form == "binary" else io.StringIO()
    sheet.write(stream, fmt="bin" if form == "binary" else "asc")
    content = stream.getvalue() if form == "binary" else stream.getvalue().encode()
    assert len(read_dxf(content, "foreign.dxf").drawing.items()) == 100
    monkeypatch.setattr(opening, "MAX_ENTITIES", 99)
    assert codes(content) == ["too-many"]


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_binary_files_hold_what_text_files_hold(version):
    sheet = ezdxf.new(version)
    sheet.layers.add("Gräser")
    sheet.modelspace().add_line((1 / 3, 2 / 7), (100 / 3, 1e-7), dxfattribs={"layer": "Gräser"})
    sheet.modelspace().add_arc((5, 6), 22 / 7, 10, 200)
    text, binary = io.StringIO(), io.BytesIO()
    sheet.write(text)
    sheet.write(binary, fmt="bin")
    one = read_dxf(sheet.encode(text.getvalue()), "text.dxf")
    two = read_dxf(binary.getvalue(), "binary.dxf")
    assert compare(one.drawing, two.drawing).is_equal(0)
    assert one.source_layers == two.source_layers == ("Gräser", "0")
    assert len(two.drawing.items()) == 2


def in_section(entities):
    return f"0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"


@pytest.mark.parametrize(
    "head",
    [
        "",  # no header at all
        "0\nSECTION\n2\nHEADER\n9\n$EXTMIN\n10\n0\n20\n0\n0\nENDSEC\n",  # none that tells a version
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n0\nENDSEC\n",  # a version that has none of these
    ],
)
def test_lwpolylines_in_a_file_without_their_version_stay_closed_and_on_their_layer(head):
    reading = read_dxf((head + in_section(CLOSED)).encode(), "foreign.dxf")
    (item,) = reading.drawing.items()  # the library alone reads it open, on layer 0: VALUES.md, 2
    assert (item.path.closed, reading.source_layers) == (True, ("PERFORATE",))
    assert [v.bulge for v in item.path.vertices] == [0.5, 0, 0]
    assert "version" in reading.remark_codes()


def test_lwpolylines_without_their_marks_are_refused():
    bare = CLOSED.replace("100\nAcDbEntity\n", "").replace("100\nAcDbPolyline\n", "")
    assert codes(in_section(bare).encode()) == ["damaged"]


def test_a_file_without_a_header_tells_no_unit():
    reading = read_dxf(in_section("0\nLINE\n8\n0\n10\n0\n20\n0\n11\n7\n21\n3\n").encode(), "x.dxf")
    assert (reading.unit, reading.units_per_mm, reading.version) == ("unitless", 1.0, "")
    assert "no-physical-size" in reading.remark_codes()


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_a_file_that_is_cut_short_is_refused_not_read_in_part(page, version, share):
    content = write_dxf(page, DxfOptions(version)).encode()
    assert codes(content[: int(len(content) * share)]) == ["ends-early"]


def test_a_damaged_file_is_repaired_and_told(page):
    content = write_dxf(page).encode()
    broken = content.replace(b"  2\nTABLES\n", b"  2\nTABLES\n  0\nENDTAB\n", 1)
    reading = read_dxf(broken, "x.dxf")
    assert "repaired" in reading.remark_codes()
    assert compare(page, reading.drawing).has_equal_paths(1e-9)


def test_line_ends_of_other_systems_make_no_difference(page, version):
    text = write_dxf(page, DxfOptions(version))
    ends = ("\n", "\r\n", "\r")
    one, two, three = (read_dxf(text.replace("\n", end).encode(), "x.dxf") for end in ends)
    assert one == two == three
    assert one.drawing.title == page.title


def test_a_byte_order_mark_makes_no_difference(page):
    content = write_dxf(page, DxfOptions(Version.R2018)).encode()
    assert read_dxf(b"\xef\xbb\xbf" + content, "x.dxf") == read_dxf(content, "x.dxf")


@pytest.mark.parametrize(
    ("version", "page", "encoding"),
    [
        ("AC1015", "ANSI_1252", "cp1252"),
        ("AC1015", "ANSI_1251", "cp1251"),
        ("AC1021", "ANSI_1252", "utf-8"),
    ],
)
def test_layer_names_are_read_in_the_encoding_of_the_file(
    file_of, line_of, version, page, encoding
):
    name = {"cp1251": "резка"}.get(encoding, "Gräser")
    text = file_of(*line_of(0, 0, 3, 1, "NAME"), version=version).decode()
    text = text.replace("$INSUNITS", f"$DWGCODEPAGE\n3\n{page}\n9\n$INSUNITS").replace("NAME", name)
    assert read_dxf(text.encode(encoding), "x.dxf").source_layers == (name,)


def test_letters_written_as_codes_are_read(file_of, line_of):
    content = file_of(*line_of(0, 0, 3, 1, r"\U+039B\U+0391"))
    assert read_dxf(content, "x.dxf").source_layers == ("ΛΑ",)


def mutated(content, luck):
    """Return *content* with a few bytes changed, lost or doubled, or lines with odd values."""
    odd = [
        b"nan",
        b"inf",
        b"-1e308",
        b"0",
        b"-1",
        b"99999999999",
        b"",
        b"INSERT",
        b"SPLINE",
        b"ENDSEC",
        b"1001",
    ]
    for _ in range(luck.randint(1, 5)):
        at = luck.randrange(len(content) or 1)
        to = at + luck.randint(1, 60)
        choice = luck.randrange(6)
        if choice == 0:
            content = content[:at] + struct.pack("B", luck.randrange(256)) + content[at + 1 :]
        elif choice == 1:
            content = content[:at] + content[to:]
        elif choice == 2:
            content = content[:to] + content[at:]
        else:
            lines = content.split(b"\n")
            lines[luck.randrange(len(lines))] = luck.choice(odd)
            content = b"\n".join(lines)
    return content


@pytest.mark.parametrize("seed", range(20))
def test_mutated_files_give_a_reading_or_an_error_with_a_fault(page, version, seed):
    read_mutations(page, version, random.Random(seed), 10)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(100, 120))
def test_very_many_mutated_files_give_a_reading_or_an_error_with_a_fault(page, version, seed):
    read_mutations(page, version, random.Random(seed), 1000)


def read_mutations(page, version, luck, count):
    sound = write_dxf(page, DxfOptions(version)).encode()
    for _ in range(count):
        reading, faults = read_or_faults(mutated(sound, luck))
        if reading:
            look(reading)
            compare(reading.drawing, page)
        else:
            assert faults

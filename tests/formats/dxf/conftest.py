"""Drawings with awkward numbers, and the two ways of writing them that every test tries."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.dxf.options import Version
from dielines.paths import Path, Point, Vertex, circle, line, polyline, rectangle

THIRD = Fraction(100, 3)


@pytest.fixture(
    scope="session", params=[Version.R12, Version.R2000], ids=lambda version: version.value
)
def version(request):
    return request.param


@pytest.fixture
def page() -> Drawing:
    """A sheet with two parts: thirds, sevenths, arcs both ways, open and closed, odd texts."""
    outline = Path(
        (
            Vertex(Fraction(0), Fraction(0)),
            Vertex(THIRD, Fraction(0), Fraction(1)),
            Vertex(THIRD, Fraction(1270, 7), math.tan(math.pi / 7)),
            Vertex(Fraction(0), Fraction(1270, 7), -math.tan(math.pi / 8)),
        )
    )
    page = Group(
        "page-1",
        "Page 1 «é» 🌱",
        (
            Item(Layer.CUT, outline, "outline"),
            Item(Layer.CUT, circle((Fraction(10), Fraction(20)), Fraction(22, 7)), "hole"),
            Item(Layer.SCORE_VALLEY, line((THIRD / 3, 0), (THIRD / 3, 50)), "front | back"),
            Item(Layer.TAPE_REVERSE, rectangle(1, 2, THIRD, Fraction(50, 7)), "seam"),
        ),
        (Caption(Layer.LABEL, "50%%d 50% ^ 100%% \\U+0041 é 🌱", Point(3.0, 4.0), 5.25, 30.0),),
    )
    zigzag = polyline([(60, 1), (70, 1), (70, 9.123456789012345), (61, 9)], closed=False)
    mat = Group(
        "mat",
        "",
        (Item(Layer.MARK, zigzag), Item(Layer.CUT, rectangle(60, 20, Fraction(700, 9), 33))),
    )
    return Drawing(
        215.9,
        279.4,
        (page, mat),
        title='Weekend "lake"\nsecond line \\U+0041 𝄞',
        description="long " * 200,
        metadata=(("template", "side pocket"), ("width", "4 7/8 in"), ("width", "twice")),
        face_up=False,
    )


def values(text: str, code: int) -> list[str]:
    """Return the values of group *code* in a DXF text, read by the rule of the format alone."""
    lines = text.split("\n")
    pairs = zip(lines[::2], lines[1::2], strict=False)
    return [value for found, value in pairs if found.strip() == str(code)]


def header(text: str, name: str) -> list[str]:
    """Return the values of a header variable, none when it is not there."""
    lines = text.split("\n")
    pairs = [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=False)]
    if (9, name) not in pairs:
        return []
    after = pairs[pairs.index((9, name)) + 1 :]
    end = next(i for i, (code, _) in enumerate(after) if code in (0, 9))
    return [value for _, value in after[:end]]


@pytest.fixture
def values_of():
    return values


@pytest.fixture
def header_of():
    return header


def in_file(
    *tags: object, insunits: int | None = 4, version: str = "AC1015", layers: str = ""
) -> bytes:
    """Return a DXF file by hand: *tags* are code and value in turn, the entities' section."""
    entities = "\n".join(str(tag) for tag in tags)
    unit = "" if insunits is None else f"9\n$INSUNITS\n70\n{insunits}\n"
    header = f"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\n{version}\n{unit}0\nENDSEC\n"
    tables = f"0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n70\n1\n{layers}0\nENDTAB\n0\nENDSEC\n"
    body = f"0\nSECTION\n2\nENTITIES\n{entities}\n0\nENDSEC\n0\nEOF\n"
    return (header + (tables if layers else "") + body).encode("cp1252")


def line_tags(x0: float, y0: float, x1: float, y1: float, layer: str = "CUT") -> tuple[object, ...]:
    """Return the tags of a LINE."""
    return (0, "LINE", 100, "AcDbEntity", 8, layer, 100, "AcDbLine", 10, x0, 20, y0, 11, x1, 21, y1)


@pytest.fixture(scope="session")
def file_of():
    return in_file


@pytest.fixture(scope="session")
def line_of():
    return line_tags

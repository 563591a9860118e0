"""Our DXF as GDAL reads it, which shares no code with our writer or its library.

GDAL makes chords of arcs, whose ends lie on the arc; it knows neither units nor
extended data, so geometry, layers and openness are what it can vouch for.
"""

import math
from fractions import Fraction

import pytest
import shapely
from pyogrio import raw

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.deviation import distance_to, trace_of
from dielines.formats.dxf.options import Curves, DxfOptions, Version
from dielines.formats.dxf.writing import write_dxf
from dielines.paths import (
    Path,
    Point,
    Vertex,
    bounds_of,
    circle,
    length_of,
    line,
    rectangle,
    signed_area,
)

OUTLINE = Path(
    (
        Vertex(0, 0),
        Vertex(Fraction(100, 3), 0, math.tan(math.pi / 7)),
        Vertex(Fraction(100, 3), Fraction(1270, 7), -math.tan(math.pi / 8)),
        Vertex(0, Fraction(1270, 7), 2.414214),
    )
)
ITEMS = (
    Item(Layer.CUT, OUTLINE),
    Item(Layer.CUT, circle((Fraction(10), Fraction(20)), Fraction(22, 7))),
    Item(Layer.SCORE_MOUNTAIN, line((Fraction(1, 3), 0), (Fraction(1, 3), 50.5))),
    Item(Layer.TAPE_FACE, rectangle(1, 2, Fraction(100, 3), Fraction(50, 7))),
    Item(
        Layer.MARK, Path((Vertex(60, 1, -1), Vertex(70, 1), Vertex(70, 9.123456789012345)), False)
    ),
)
PAGE = Drawing(
    215.9, 279.4,
    (Group("page", "Page", ITEMS, (Caption(Layer.LABEL, "Page 1", Point(3, 4), 5.0),)),),
)  # fmt: skip


def features(text, folder):
    """Return (layer, geometry) of all features that GDAL finds, in order."""
    file = folder / "page.dxf"
    file.write_text(text, encoding="ascii")
    meta, _, geometry, columns = raw.read(file)
    layers = columns[list(meta["fields"]).index("Layer")]
    return list(zip(layers, (shapely.from_wkb(wkb) for wkb in geometry), strict=True))


@pytest.fixture(params=Version, ids=lambda version: version.value)
def found(request, tmp_path):
    return features(write_dxf(PAGE, DxfOptions(request.param)), tmp_path)


def partners(found):
    order = {layer.value: i for i, layer in enumerate(DxfOptions().layers)}
    written = sorted(ITEMS, key=lambda item: order[item.layer.value])
    lines = [(layer, shape) for layer, shape in found if shape.geom_type == "LineString"]
    return list(zip(written, lines, strict=True))


def test_every_path_is_there_on_its_layer_open_or_closed(found):
    for item, (layer, shape) in partners(found):
        assert layer == item.layer.value
        assert shape.is_closed is item.path.closed


def test_every_point_of_theirs_lies_on_our_path(found):
    for item, (_, shape) in partners(found):
        segments = list(item.path.segments())
        for x, y, *_ in shape.coords:
            assert min(distance_to((x, y), segment) for segment in segments) < 1e-9


def test_every_vertex_and_apex_of_ours_lies_on_their_path(found):
    for item, (_, shape) in partners(found):
        sag = 0.001 * max(bounds_of([item.path]).width, 1)  # their chords are 4 degrees long
        places = trace_of(item.path)
        assert max(shape.distance(shapely.Point(place)) for place in places[::2]) < 1e-9
        assert max(shape.distance(shapely.Point(place)) for place in places) < sag


def test_lengths_and_areas_agree(found):
    for item, (_, shape) in partners(found):
        assert shape.length == pytest.approx(length_of(item.path), rel=1e-3)
        if item.path.closed:
            area = shapely.Polygon(shape.coords).area
            assert area == pytest.approx(abs(float(signed_area(item.path))), rel=3e-3)


def test_the_text_stands_on_its_layer(found):
    (text,) = ((layer, shape) for layer, shape in found if shape.geom_type == "Point")
    assert (text[0], text[1].x, text[1].y) == ("LABEL", 3, 4)


@pytest.mark.parametrize("version", [Version.R12, Version.R2000])
def test_a_file_in_inches_has_the_same_shapes_25_4_times_smaller(tmp_path, version):
    found = features(write_dxf(PAGE, DxfOptions(version, unit="in")), tmp_path)
    for item, (_, shape) in partners(found):
        box = bounds_of([item.path])
        assert shape.bounds[2] * 25.4 == pytest.approx(float(box.right), abs=0.05)
        x, y = shape.coords[0][:2]
        assert (x * 25.4, y * 25.4) == pytest.approx(tuple(map(float, item.path.points[0])))


@pytest.mark.parametrize("version", [Version.R12, Version.R2000])
def test_chords_are_read_as_written(tmp_path, version):
    options = DxfOptions(version, curves=Curves.CHORDS, sagitta=0.02)
    for item, (_, shape) in partners(features(write_dxf(PAGE, options), tmp_path)):
        assert max(shape.distance(shapely.Point(place)) for place in trace_of(item.path)) <= 0.02

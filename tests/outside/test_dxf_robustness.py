"""DXF files of other people, odd, old, damaged and binary (sources: data/dxf/README.md)."""

import math
from pathlib import Path

import pytest

from dielines.formats.compare import compare
from dielines.formats.dxf.options import DxfOptions, Version
from dielines.formats.dxf.reading import read_dxf
from dielines.formats.dxf.writing import write_dxf
from dielines.formats.look import look
from dielines.paths import length_of, signed_area, translated

DATA = Path(__file__).parent / "data" / "dxf"
FILES = sorted(path for path in DATA.rglob("*") if path.suffix.lower() == ".dxf")


def reading(name):
    return read_dxf((DATA / name).read_bytes(), name)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_file_is_read_looked_at_and_can_be_written_again(path):
    found = read_dxf(path.read_bytes(), path.name)
    assert sum(row.paths for row in look(found).rows) == len(found.drawing.items())
    for version in (Version.R12, Version.R2000):
        again = read_dxf(write_dxf(found.drawing, DxfOptions(version)).encode(), path.name)
        assert compare(found.drawing, again.drawing).has_equal_paths(1e-6)


@pytest.mark.parametrize(
    ("name", "paths", "version", "remarks"),  # counts: what the library lists in the model space
    [
        ("robustness/AC1003_LINE_Example.dxf", 22, "AC1003", {"repaired"}),
        ("robustness/ASCII_R12.dxf", 2, "AC1009", set()),
        ("robustness/Minimal_DXF_AC1006.dxf", 1, "AC1006", {"left-out"}),
        ("robustness/Minimal_DXF_AC1009.dxf", 0, "", set()),
        ("robustness/Minimal_DXF_AC1021.dxf", 0, "AC1021", set()),
        ("robustness/POLI-ALL210_12.DXF", 30, "AC1009", {"left-out"}),
        ("robustness/R12_with_trash_beyond_EOF.dxf", 1, "", set()),
        ("robustness/bin_dxf_r12.dxf", 3, "AC1009", set()),
        ("robustness/bin_dxf_r2000.dxf", 0, "AC1015", set()),
        ("robustness/cc_dxflib.dxf", 1, "AC1009", set()),
        ("robustness/circle_radius_le_0.dxf", 0, "AC1027", {"broken"}),
        ("robustness/clockwise_arcs_hatch.dxf", 0, "AC1027", {"left-out"}),
        ("robustness/empty_handles.dxf", 8, "", {"version", "repaired"}),
        ("robustness/no_layouts.dxf", 2, "AC1021", set()),
        ("entities_only.dxf", 0, "", {"left-out"}),
    ],
)
def test_what_each_file_holds_is_found_and_what_is_odd_is_told(name, paths, version, remarks):
    found = reading(name)
    assert (len(found.drawing.items()), found.version) == (paths, version)
    told = found.remark_codes() - {"no-page", "no-physical-size", "unknown-layer"}
    assert told == remarks


def test_the_closed_polyline_has_its_published_area_and_perimeter():
    (item,) = reading("closed_polyline_with_bulge.dxf").drawing.items()
    start = item.path.vertices[0]  # at 4e7, so that areas need the first vertex taken away
    path = translated(item.path, -start.x, -start.y)
    assert path.closed
    # VALUES.md, 2: area 10210.1313, perimeter 403.7195 (computed from the definition of bulge)
    assert abs(signed_area(path)) == pytest.approx(10210.1313, abs=5e-5)
    assert length_of(path) == pytest.approx(403.7195, abs=5e-5)


def test_two_splines_in_centimetres_have_their_size_in_millimetres():
    found = reading("robustness/no_layouts.dxf")
    assert (found.unit, found.units_per_mm) == ("cm", 0.1)
    assert math.isclose(found.drawing.width, 200, abs_tol=0.02)

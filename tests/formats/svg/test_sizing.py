"""The page: every unit, the viewBox, what is missing and what cannot be used."""

import pytest

from dielines.errors import ForeignFileError
from dielines.formats.svg.reading import read_svg
from dielines.paths import bounds_of

LINE = '<path d="M10 20L40 60"/>'


def reading(attributes: str, inside: str = LINE):
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{inside}</svg>'
    return read_svg(text.encode(), "test.svg")


def page(attributes: str) -> tuple[float, float]:
    drawing = reading(attributes).drawing
    return drawing.width, drawing.height


def test_a_missing_side_follows_from_the_view_box():
    assert page('width="30mm" viewBox="0 0 200 100"') == pytest.approx((30, 15))
    assert page('height="30mm" viewBox="0 0 200 100"') == pytest.approx((60, 30))


@pytest.mark.parametrize("size", ["", 'width="100%" height="100%"', 'width="auto" height="auto"'])
def test_without_a_size_the_view_box_counts_as_pixels(size):
    found = reading(f'{size} viewBox="0 0 96 48"')
    assert (found.drawing.width, found.drawing.height) == pytest.approx((25.4, 12.7))
    assert found.remark_codes() >= {"no-physical-size", "size-from-viewbox"}
    assert found.unit == "unitless"


def test_without_size_and_view_box_the_contents_are_measured():
    found = reading("")
    assert found.remark_codes() >= {"no-physical-size", "size-from-contents"}
    k = 25.4 / 96
    assert (found.drawing.width, found.drawing.height) == pytest.approx((30 * k, 40 * k))
    box = bounds_of(item.path for item in found.drawing.items())
    assert (box.left, box.bottom) == pytest.approx((0, 0), abs=1e-9)


def test_a_file_without_anything_has_a_page_all_the_same():
    drawing = reading("", "").drawing
    assert drawing.width > 0
    assert drawing.height > 0


@pytest.mark.parametrize("size", ["0", "-5mm", "five", "5 mm", "5km", "1e999mm", "NaN"])
def test_a_size_that_cannot_be_used_is_remarked_on(size):
    found = reading(f'width="{size}" height="10mm" viewBox="0 0 30 10"')
    assert "bad-size" in found.remark_codes()
    assert found.drawing.width == pytest.approx(30)


@pytest.mark.parametrize(
    "box", ["0 0 0 10", "0 0 10 -1", "0 0 10", "a b c d", "0 0 1e999 1", "0 0 5 5 5"]
)
def test_a_view_box_that_cannot_be_used_is_remarked_on(box):
    found = reading(f'width="96" height="96" viewBox="{box}"')
    assert "bad-viewbox" in found.remark_codes()
    assert found.units_per_mm == pytest.approx(96 / 25.4)


@pytest.mark.parametrize(
    ("attributes", "unit", "per_mm"),
    [
        ('width="8.5in" height="11in" viewBox="0 0 8.5 11"', "in", 1 / 25.4),
        ('width="8.5in" height="11in" viewBox="0 0 612 792"', "in", 72 / 25.4),
        ('width="210mm" height="297mm" viewBox="0 0 210 297"', "mm", 1),
        ('width="100" height="100"', "unitless", 96 / 25.4),
        ('width="100px" height="100px"', "px", 96 / 25.4),
        ('width="100%" height="10cm" viewBox="0 0 10 10"', "cm", 0.1),
    ],
)
def test_a_reading_says_the_unit_and_how_many_make_a_millimetre(attributes, unit, per_mm):
    found = reading(attributes)
    assert found.unit == unit
    assert found.units_per_mm == pytest.approx(per_mm)
    assert ("no-physical-size" in found.remark_codes()) == (unit in ("px", "unitless"))


def test_a_stretched_page_is_remarked_on():
    attributes = 'width="20mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="none"'
    found = reading(attributes, '<circle cx="5" cy="5" r="5"/>')
    assert "uneven-scale" in found.remark_codes()
    box = bounds_of(item.path for item in found.drawing.items())
    assert (box.width, box.height) == pytest.approx((20, 10), abs=0.02)


@pytest.mark.parametrize(
    "attributes",
    [
        'width="1e9mm" height="5mm"',
        'width="5mm" height="5mm" viewBox="0 0 1e-12 1e-12"',
        'width="5mm" height="5mm" viewBox="0 0 1e14 1e14"',
        'width="5mm" viewBox="0 0 1e-14 1e14"',
        'width="1e-300mm" height="5mm"',
        'viewBox="0 0 5e-324 5e-324"',
    ],
)
def test_a_page_beyond_all_measure_is_refused(attributes):
    with pytest.raises(ForeignFileError):
        reading(attributes)


def test_y_runs_up_from_the_lower_edge_of_the_page():
    (item,) = reading('width="100mm" height="50mm" viewBox="0 0 100 50"').drawing.items()
    (x0, y0), (x1, y1) = item.path.points
    assert (x0, y0, x1, y1) == pytest.approx((10, 30, 40, -10))

"""The reader against published numbers: CSS units, the viewBox algorithm, old resolutions.

Sources: CSS Values, "Absolute lengths" (as quoted by several independent
pages); SVG 2, coords.html (read in the document itself); CSS1 and CSS 2.1 for
the resolutions of the past, as quoted in secondary documents.
"""

import pytest

from dielines.formats.svg.reading import read_svg
from dielines.paths import bounds_of


def read(attributes: str, inside: str = '<rect x="0" y="0" width="100" height="50"/>'):
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{inside}</svg>'
    return read_svg(text.encode(), "test.svg").drawing


# CSS Values: 1in = 96px = 72pt = 6pc = 2.54cm = 25.4mm = 101.6Q; 1pc = 1/6 in, not 1/16.
@pytest.mark.parametrize("inch", ["1in", "96px", "72pt", "6pc", "2.54cm", "25.4mm", "101.6Q", "96"])
def test_an_inch_is_an_inch_in_every_unit(inch):
    drawing = read(f'width="{inch}" height="{inch}"')
    assert (drawing.width, drawing.height) == pytest.approx((25.4, 25.4), abs=1e-12)


# SVG 2, coords.html, "Computing the equivalent transform of an SVG viewport".
@pytest.mark.parametrize(
    ("fit", "box"),
    [  # left, top, width and height on a page of 100 x 100 mm, viewBox 0 0 100 50
        ("", (0, 25, 100, 50)),
        ("xMidYMid", (0, 25, 100, 50)),
        ("xMinYMin meet", (0, 0, 100, 50)),
        ("xMaxYMax", (0, 50, 100, 50)),
        ("none", (0, 0, 100, 100)),
        ("xMidYMid slice", (-50, 0, 200, 100)),
        ("xMinYMax slice", (0, 0, 200, 100)),
        ("xMaxYMin slice", (-100, 0, 200, 100)),
        ("nonsense", (0, 25, 100, 50)),
    ],
)
def test_a_view_box_is_fitted_as_svg_says(fit, box):
    size = 'width="100mm" height="100mm" viewBox="0 0 100 50"'
    drawing = read(f'{size} preserveAspectRatio="{fit}"')
    found = bounds_of(item.path for item in drawing.items())
    top = drawing.height - float(found.top)
    assert (found.left, top, found.width, found.height) == pytest.approx(box)


def test_a_view_box_that_starts_elsewhere_is_moved_to_the_corner():
    drawing = read('width="100mm" height="50mm" viewBox="-30 -7 200 100"')
    found = bounds_of(item.path for item in drawing.items())
    assert (found.left, drawing.height - float(found.top)) == pytest.approx((15, 3.5))


# A sheet of 12 in as programs of 72, 90 and 96 units an inch write it without a unit:
# read as 96 it comes out at 9, 11.25 and 12 in.
@pytest.mark.parametrize(("per_inch", "inches"), [(72, 9), (90, 11.25), (96, 12)])
def test_units_without_a_name_are_taken_as_ninety_six_to_the_inch(per_inch, inches):
    drawing = read(f'width="{12 * per_inch}" height="{12 * per_inch}"')
    assert drawing.width / 25.4 == pytest.approx(inches)

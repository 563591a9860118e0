"""PDF at true size, the same bytes every time."""

import io

import pikepdf
import pytest

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.pdf import write_pdf
from dielines.formats.svg.options import CUT_FILE, Options, SizeUnit, UserUnit
from dielines.formats.svg.writing import write_svg
from dielines.paths import line

START, END = (25.4, 12.7), (110.0, 1000 / 7)


def svg(options: Options = CUT_FILE) -> str:
    item = Item(Layer.CUT, line(START, END))
    return write_svg(
        Drawing(123.825, 200 / 1.5, (Group("a", "A", (item,)),), title="Lake"), options
    )


def times(first, second):
    """Return the PDF matrix that does *first* and then *second* (ISO 32000, 8.3.4)."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = second
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
            e * p + f * r + t, e * q + f * s + u)  # fmt: skip


def points_of(pdf: bytes) -> list[tuple[float, float]]:
    """Return where the page's lines begin and end, in points from its lower left corner."""
    document = pikepdf.open(io.BytesIO(pdf))
    page = document.pages[0]
    return list(walked(pikepdf.parse_content_stream(page), page.obj.get("/Resources")))


def walked(stream, resources, start=(1, 0, 0, 1, 0, 0)):
    matrix, saved = start, []
    for operands, operator in stream:
        name = str(operator)
        if name == "q":
            saved.append(matrix)
        elif name == "Q":
            matrix = saved.pop()
        elif name == "cm":
            matrix = times([float(number) for number in operands], matrix)
        elif name == "Do":
            form = resources["/XObject"][str(operands[0])]
            own = [float(number) for number in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]
            inner = pikepdf.parse_content_stream(form)
            yield from walked(inner, form.get("/Resources"), times(own, matrix))
        elif name in ("m", "l"):
            x, y = (float(number) for number in operands)
            yield times((1, 0, 0, 1, x, y), matrix)[4:]


@pytest.mark.parametrize(
    "options",
    [Options(), Options(size_unit=SizeUnit.INCHES), Options(user_unit=UserUnit.POINT)],
)
def test_page_and_lines_have_their_true_size(options):
    pdf = write_pdf(svg(options))
    document = pikepdf.open(io.BytesIO(pdf))
    (page,) = document.pages
    box = [float(side) for side in page.MediaBox]
    # a point is 1/72 in; 4 7/8 in = 351 points
    assert box == pytest.approx([0, 0, 351, 200 / 1.5 / 25.4 * 72], abs=1e-4)
    expected = [side / 25.4 * 72 for place in (START, END) for side in place]
    assert [side for place in points_of(pdf)[-2:] for side in place] == pytest.approx(
        expected,
        abs=0.005,  # cairo keeps places to a 256th of a point
    )


def test_the_same_drawing_gives_the_same_bytes():
    assert write_pdf(svg()) == write_pdf(svg())


def test_the_file_does_not_say_when_it_was_made():
    document = pikepdf.open(io.BytesIO(write_pdf(svg())))
    dates = {name: str(value) for name, value in document.docinfo.items() if "Date" in name}
    assert all("20000101000000" in value for value in dates.values())

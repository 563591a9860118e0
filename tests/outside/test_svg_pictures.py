"""What the reader makes of other people's test files looks like their reference pictures.

The files and pictures are those of data/svg (SOURCE.md there). What is read is
painted as the file says and compared with the picture, pixel by pixel; the
reader and the pictures share no code. Each file that cannot agree has its reason.
"""

import io
from pathlib import Path
from xml.etree import ElementTree

import pytest
import resvg_py
from PIL import Image, ImageChops, ImageFilter

from dielines.errors import ForeignFileError
from dielines.formats.svg.path_data import Corner, path_data
from dielines.formats.svg.reading import read_svg

DATA = Path(__file__).parent / "data" / "svg"
SVG = "{http://www.w3.org/2000/svg}"
SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")
PAINT = ("fill", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit")

#: Not safe to read.
UNSAFE = {
    "structure/svg/attribute-value-via-ENTITY-reference",
    *(f"structure/svg/elements-via-ENTITY-reference-{n}" for n in (1, 2, 3)),
}
#: The picture is of paint that a drawing of lines does not have, or of a style sheet's doing.
OTHER_PAINT = {
    "shapes/line/with-transform",  # skews the width of the line
    "structure/g/recursive-inheritance",
    "structure/svg/background-color",
    "structure/svg/background-color-with-viewbox",
    "structure/svg/funcIRI-parsing",
    "structure/svg/funcIRI-with-invalid-characters",
    "structure/svg/funcIRI-with-quotes",
    "structure/svg/mixed-namespaces",  # text
    "structure/svg/not-UTF-8-encoding",  # text
    "structure/style/attribute-selector",
    "structure/style/combined-selectors",
    "structure/style/transform",
    "structure/style/type-selector",
}
#: The picture shows nothing of what SVG 2 or CSS allow and the reader reads.
MORE_THAN_THE_PICTURE = {
    "structure/style-attribute/non-presentational-attribute",
    *(f"shapes/rect/{unit}-values" for unit in ("ch", "q", "rem", "vi-and-vb")),
    *(f"shapes/rect/{unit}-values" for unit in ("vmin-and-vmax", "vw-and-vh")),
    "structure/svg/negative-size",
    "structure/svg/zero-size",
}
#: A viewport within cuts off what leaves it; the reader reads it whole.
CUT_OFF = {
    "structure/svg/deeply-nested-svg",
    "structure/svg/nested-svg-one-with-rect-and-one-with-viewBox",
    "structure/svg/nested-svg-with-rect",
    "structure/svg/nested-svg-with-rect-and-percent-values",
    *(f"structure/svg/nested-svg-with-rect-and-viewBox-{n}" for n in (1, 2, 3)),
    "structure/svg/nested-svg-with-rect-and-viewBox-and-percent-values",
    "structure/svg/nested-svg-with-transform-and-clip",
}
NAMES = sorted(str(file.relative_to(DATA))[:-4] for file in DATA.rglob("*.svg"))
PAINTED = [name for name in NAMES if name not in UNSAFE | OTHER_PAINT | MORE_THAN_THE_PICTURE]


def with_names(content: bytes) -> tuple[bytes, dict[str, dict[str, str]]]:
    """Return the file with a title for each shape, and the paint of each by that title."""
    root = ElementTree.fromstring(content)
    paints: dict[str, dict[str, str]] = {}

    def visit(element: ElementTree.Element, inherited: dict[str, str]) -> None:
        own = inherited | {name: element.attrib[name] for name in PAINT if name in element.attrib}
        pieces = [piece.partition(":") for piece in element.get("style", "").split(";")]
        own |= {name.strip(): value for name, _, value in pieces if name.strip() in PAINT}
        if element.tag in [SVG + shape for shape in SHAPES]:
            title = ElementTree.Element(f"{SVG}title")
            title.text = f"shape {len(paints)}"
            paints[title.text] = own
            element.insert(0, title)
            return
        for child in list(element):
            visit(child, own)

    visit(root, {})
    return ElementTree.tostring(root), paints


def painted(content: bytes, size: tuple[int, int]) -> Image.Image:
    """Return what the reader made of *content*, painted as the file says."""
    content, paints = with_names(content)
    drawing = read_svg(content, "test.svg").drawing
    scale = size[0] / drawing.width
    by_name: dict[str, list[str]] = {}
    for item in drawing.items():
        data = path_data(
            item.path,
            lambda p: Corner(float(p.x) * scale, (drawing.height - float(p.y)) * scale),
        )
        by_name.setdefault(item.name, []).append(data)
    shapes = [
        f'<path d="{" ".join(data)}" {attributes(paints[name], scale * 25.4 / 96)}/>'
        for name, data in by_name.items()
    ]
    return rendered(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]}" height="{size[1]}">'
        f"{''.join(shapes)}</svg>"
    )


def attributes(paint: dict[str, str], scale: float) -> str:
    """Return the paint in black, for lines as wide as they come out."""
    black = {name: "none" if paint.get(name, usual) == "none" else "black"
             for name, usual in (("fill", "black"), ("stroke", "none"))}  # fmt: skip
    width = str(float(paint.get("stroke-width", "1")) * scale)
    words = paint | black | {"stroke-width": width}
    return " ".join(f'{name}="{value}"' for name, value in words.items())


def rendered(svg: str) -> Image.Image:
    png = resvg_py.svg_to_bytes(svg_string=svg, background="white")
    return Image.open(io.BytesIO(bytes(png))).convert("RGB")


def picture(name: str) -> Image.Image:
    png = Image.open(DATA / f"{name}.png").convert("RGBA")
    white = Image.new("RGBA", png.size, "white")
    white.alpha_composite(png)
    return white.convert("RGB")


def ink(image: Image.Image) -> Image.Image:
    """Return a mask of what is not about white."""
    return image.convert("L").point(lambda value: 255 if value < 200 else 0)


def thick(mask: Image.Image) -> int:
    """Return how many pixels are left of *mask* without what is one or two pixels thin."""
    return mask.filter(ImageFilter.MinFilter(3)).histogram()[255]


def content(name: str) -> bytes:
    return (DATA / f"{name}.svg").read_bytes()


@pytest.mark.parametrize("name", sorted(set(PAINTED) - CUT_OFF))
def test_what_is_read_looks_like_the_reference_picture(name):
    expected = picture(name)
    found = painted(content(name), expected.size)
    assert thick(ImageChops.difference(ink(expected), ink(found))) == 0


@pytest.mark.parametrize("name", sorted(CUT_OFF))
def test_what_a_viewport_cuts_off_is_read_whole(name):
    expected = ink(picture(name))
    found = ink(painted(content(name), expected.size))
    assert thick(ImageChops.subtract(expected, found)) == 0
    assert thick(ImageChops.subtract(found, expected)) > 0


@pytest.mark.parametrize("name", sorted(UNSAFE))
def test_files_with_entities_are_refused(name):
    with pytest.raises(ForeignFileError) as caught:
        read_svg(content(name), name)
    assert [fault.code for fault in caught.value.faults] == ["unsafe-xml"]


@pytest.mark.parametrize("name", sorted(set(NAMES) - UNSAFE))
def test_every_file_has_the_shape_of_its_picture(name):
    drawing = read_svg(content(name), name).drawing
    width, height = picture(name).size
    assert drawing.width / drawing.height == pytest.approx(width / height, abs=1e-9)


def test_pages_have_the_size_that_their_files_state():
    # a viewBox of 200 x 200 without size is 200 px; 1 px = 1/96 in (CSS Values)
    sized = [name for name in NAMES if b'viewBox="0 0 200 200" xmlns' in content(name)]
    pages = [read_svg(content(name), name).drawing for name in set(sized) - UNSAFE]
    sizes = {(round(page.width, 9), round(page.height, 9)) for page in pages}
    assert len(pages) > 100
    assert sizes == {(round(200 / 96 * 25.4, 9),) * 2}


def test_no_exception_is_named_that_is_no_file():
    assert set(NAMES) >= UNSAFE | OTHER_PAINT | MORE_THAN_THE_PICTURE | CUT_OFF


@pytest.mark.parametrize("name", sorted(MORE_THAN_THE_PICTURE))
def test_what_the_picture_does_not_show_is_read_all_the_same(name):
    drawing = read_svg(content(name), name).drawing
    assert len(drawing.items()) >= 2  # the shape and the frame

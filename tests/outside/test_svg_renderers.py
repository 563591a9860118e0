"""Our SVG as programs that share no code with us see it: two renderers and a browser.

They agree with each other pixel by pixel, and with the drawing in millimetres:
1 in = 96 px = 25.4 mm (CSS Values, "Absolute lengths").
"""

import io
import json
import re
import shutil
import subprocess
from fractions import Fraction
from itertools import combinations

import pytest
import resvg_py
from PIL import Image, ImageChops, ImageFilter

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.png import write_png
from dielines.formats.svg.options import GUIDE_FILE, Grouping, Options, SizeUnit, UserUnit
from dielines.formats.svg.writing import write_svg
from dielines.paths import Path, Vertex, bounds_of, circle, length_of, line, rectangle

SEVENTH = Fraction(1, 7)
PX_PER_MM = 96 / 25.4
ZOOM = 4  # so that a pixel is 0.066 mm
BROWSER = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome", "chrome"))),
    None,
)
needs_browser = pytest.mark.skipif(BROWSER is None, reason="no Chromium on this machine")

PATHS = (
    rectangle(20 * SEVENTH, 5, 600 * SEVENTH, 400 * SEVENTH),
    circle((20, 20), 60 * SEVENTH),
    Path((Vertex(40, 12, 0.3), Vertex(70, 100 * SEVENTH, -1.7), Vertex(75, 40)), closed=False),
    Path((Vertex(30, 40, 3.1), Vertex(34, 40)), closed=False),
    line((50, 50), (500 * SEVENTH, 8)),
)
VARIANTS = [
    Options(),
    Options(size_unit=SizeUnit.INCHES, user_unit=UserUnit.POINT),
    Options(grouping=Grouping.NONE),
]


def drawing() -> Drawing:
    layers = (Layer.CUT, Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN, Layer.PERFORATE, Layer.TAPE_FACE)
    items = tuple(Item(layer, path) for layer, path in zip(layers, PATHS, strict=True))
    return Drawing(100.0, 63.5, (Group("part", "Part", items),))


def by_resvg(svg: str) -> Image.Image:
    png = resvg_py.svg_to_bytes(svg_string=svg, background="white", zoom=ZOOM, dpi=96)
    return Image.open(io.BytesIO(bytes(png))).convert("RGB")


def by_cairo(svg: str) -> Image.Image:
    width = by_resvg(svg).size[0]
    return Image.open(io.BytesIO(write_png(svg, width))).convert("RGB")


def browse(page, *arguments: str) -> str:
    command = [
        BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
        f"--user-data-dir={page.parent / 'profile'}", *arguments, page.as_uri(),
    ]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    return done.stdout


def by_browser(svg: str, folder) -> Image.Image:
    file, shot = folder / "page.svg", folder / "shot.png"
    file.write_text(svg, encoding="utf-8")
    browse(file, f"--screenshot={shot}", f"--force-device-scale-factor={ZOOM}",
           "--window-size=378,240")  # fmt: skip
    return Image.open(shot).convert("RGB")


def ink(image: Image.Image) -> Image.Image:
    return image.convert("L").point(lambda value: 255 if value < 225 else 0)


def stray(first: Image.Image, second: Image.Image) -> int:
    """Return how much ink of *first* lies more than a pixel from all ink of *second*."""
    near = ink(second).filter(ImageFilter.MaxFilter(3))
    return ImageChops.subtract(ink(first), near).histogram()[255]


def ink_box(image: Image.Image) -> list[float]:
    """Return left, top, right and bottom of all ink, mm."""
    return [side / ZOOM / PX_PER_MM for side in ink(image).getbbox()]


def expected_box(width_of_line: float = 0.2) -> list[float]:
    box = bounds_of(PATHS)
    half = width_of_line / 2
    return [
        float(box.left) - half,
        63.5 - float(box.top) - half,
        float(box.right) + half,
        63.5 - float(box.bottom) + half,
    ]


@pytest.mark.parametrize("options", VARIANTS)
@pytest.mark.parametrize("render", [by_resvg, by_cairo])
def test_ink_lies_where_the_drawing_says(options, render):
    image = render(write_svg(drawing(), options))
    assert ink_box(image) == pytest.approx(expected_box(), abs=1.5 / ZOOM / PX_PER_MM)


@pytest.mark.parametrize("options", VARIANTS)
def test_the_picture_has_the_size_of_the_page(options):
    width, height = by_resvg(write_svg(drawing(), options)).size
    assert width == pytest.approx(100 * PX_PER_MM * ZOOM, abs=ZOOM)
    assert height == pytest.approx(63.5 * PX_PER_MM * ZOOM, abs=ZOOM)


@pytest.mark.parametrize("options", [*VARIANTS, GUIDE_FILE])
def test_two_renderers_agree(options):
    svg = write_svg(drawing(), options)
    first, second = by_resvg(svg), by_cairo(svg)
    assert ink(first).histogram()[255] > 1000
    assert stray(first, second) == stray(second, first) == 0


def test_unit_and_grouping_change_no_pixel_of_note():
    images = [by_resvg(write_svg(drawing(), options)) for options in VARIANTS]
    assert all(stray(a, b) == stray(b, a) == 0 for a, b in combinations(images, 2))


@needs_browser
def test_a_browser_agrees_with_a_renderer(tmp_path):
    svg = write_svg(drawing(), Options())
    shot = by_browser(svg, tmp_path)
    other = by_resvg(svg).crop((0, 0, *shot.size))
    assert stray(shot, other) == stray(other, shot) == 0
    assert ink_box(shot) == pytest.approx(expected_box(), abs=1.5 / ZOOM / PX_PER_MM)


MEASURE = """<script>
const paths = [...document.querySelectorAll("path")].map(path => {
  const box = path.getBoundingClientRect(), own = path.getBBox();
  return [path.id, path.getTotalLength(), own.x, own.y, own.width, own.height];
});
const page = document.querySelector("svg").getBoundingClientRect();
document.title = JSON.stringify({page: [page.width, page.height], paths});
</script>"""


@needs_browser
@pytest.mark.parametrize("options", VARIANTS[:2])
def test_a_browser_measures_what_the_drawing_says(tmp_path, options):
    svg = write_svg(drawing(), options).split("\n", 1)[1]
    file = tmp_path / "page.html"
    file.write_text(f"<!DOCTYPE html><meta charset=utf-8><title></title>{svg}{MEASURE}")
    found = re.search(r"<title>(\{.*?\})</title>", browse(file, "--dump-dom"))[1]
    measured = json.loads(found.replace("&quot;", '"'))
    # the browser measures in single precision, and lengths along its own curves for arcs
    assert measured["page"] == pytest.approx([100 * PX_PER_MM, 63.5 * PX_PER_MM], abs=0.02)
    per_mm = options.user_unit.value / 25.4
    by_layer = {row[0].split(".")[0]: row[1:] for row in measured["paths"]}
    for item in drawing().items():
        length, left, top, width, height = (n / per_mm for n in by_layer[item.layer.value])
        box = bounds_of([item.path])
        assert length == pytest.approx(length_of(item.path), rel=3e-4)
        assert (left, 63.5 - top - height) == pytest.approx((box.left, box.bottom), abs=0.002)
        assert (width, height) == pytest.approx((box.width, box.height), abs=0.002)

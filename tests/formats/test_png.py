"""Pictures: their size, what stands where, and one clear sentence where cairo is missing."""

import importlib.abc
import io
import sys

import pytest
from PIL import Image

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.errors import MissingLibrary, UsageError
from dielines.formats.png import write_png
from dielines.formats.svg.reading import read_svg
from dielines.formats.svg.writing import write_svg
from dielines.paths import rectangle


def svg(width: float = 123.825, height: float = 50.8) -> str:
    frame = Item(Layer.CUT, rectangle(25.4, 12.7, 101.6, 38.1))
    return write_svg(Drawing(width, height, (Group("a", "A", (frame,)),)))


def image(png: bytes) -> Image.Image:
    return Image.open(io.BytesIO(png)).convert("L")


def test_a_picture_has_the_width_asked_for_and_the_height_that_goes_with_it():
    # 4 7/8 x 2 in at 200 pixels an inch
    assert image(write_png(svg(), 975)).size == (975, 400)


def test_lines_stand_where_they_should_on_white():
    picture = image(write_png(svg(), 975))
    left, top, right, bottom = picture.point(lambda value: 255 if value < 200 else 0).getbbox()
    assert (left, top, right, bottom) == pytest.approx((200, 100, 800, 300), abs=2)
    assert picture.getpixel((5, 5)) == picture.getpixel((500, 200)) == 255


def test_the_same_drawing_gives_the_same_bytes():
    assert write_png(svg(), 300) == write_png(svg(), 300)


@pytest.mark.parametrize("width", [0, -5, 20_001])
def test_a_width_that_makes_no_picture_is_refused(width):
    with pytest.raises(UsageError):
        write_png(svg(), width)


def test_a_picture_beyond_all_measure_is_refused():
    with pytest.raises(UsageError):
        write_png(svg(1.0, 100_000.0), 5000)


def test_a_long_narrow_drawing_is_at_least_a_pixel_high():
    assert image(write_png(svg(2000.0, 1.0), 100)).size == (100, 1)


class WithoutCairo(importlib.abc.MetaPathFinder):
    """Fails as cairocffi does where the library of the system is missing."""

    def find_spec(self, name, path=None, target=None):
        if name == "cairocffi":
            raise OSError('no library called "cairo-2" was found')


@pytest.fixture
def without_cairo(monkeypatch):
    for name in [name for name in sys.modules if name.split(".")[0] in ("cairosvg", "cairocffi")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(sys, "meta_path", [WithoutCairo(), *sys.meta_path])


@pytest.mark.usefixtures("without_cairo")
def test_without_cairo_one_sentence_says_what_to_install():
    with pytest.raises(MissingLibrary) as caught:
        write_png(svg(), 100)
    message = str(caught.value)
    assert all(word in message for word in ("libcairo2", "macOS", "Windows"))
    assert "\n" not in message
    assert ". " not in message


@pytest.mark.usefixtures("without_cairo")
def test_svg_works_without_cairo():
    assert len(read_svg(svg().encode(), "test.svg").drawing.items()) == 1

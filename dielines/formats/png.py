"""A picture of an SVG file, to look at."""

from __future__ import annotations

from ..errors import UsageError
from .cairo import surfaces

MAX_PIXELS = 100_000_000
MAX_WIDTH = 20_000


def write_png(svg: str, width: int) -> bytes:
    """Return *svg* as a PNG on white, *width* pixels wide; nothing is fetched for it.

    *svg* is one that write_svg made. Raises UsageError for a size that makes no
    picture, MissingLibrary where cairo is missing.
    """
    if not 1 <= width <= MAX_WIDTH:
        raise UsageError(f"a picture {width} pixels wide: choose 1 to {MAX_WIDTH:,}")
    content = svg.encode("utf-8")
    height = _height(content, width)
    if width * height > MAX_PIXELS:
        raise UsageError(f"a picture of {width:,} x {height:,} pixels: choose a smaller width")
    surface = surfaces().PNGSurface
    png: bytes = surface.convert(
        bytestring=content, output_width=width, output_height=height, background_color="white"
    )
    return png


def _height(content: bytes, width: int) -> int:
    """Return the height that goes with *width*."""
    from .svg.remarks import Remarks
    from .svg.sizing import page_of
    from .svg.tree import parse

    size = page_of(parse(content, "picture").root, Remarks()).size
    if size is None:
        raise UsageError("a picture needs a drawing with a size")
    return max(round(width * size[1] / size[0]), 1)

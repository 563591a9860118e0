"""SVG: written from a drawing, and read back into one."""

from __future__ import annotations

from ...drawing import Drawing
from ..kinds import Format
from ..readings import Reading


def _write(drawing: Drawing) -> bytes:
    from .writing import write_svg

    return write_svg(drawing).encode("utf-8")


def _write_guide(drawing: Drawing) -> bytes:
    from .options import GUIDE_FILE
    from .writing import write_svg

    return write_svg(drawing, GUIDE_FILE).encode("utf-8")


def _read(content: bytes, name: str) -> Reading:
    from .reading import read_svg

    return read_svg(content, name)


FORMAT = Format("SVG", ".svg", _write, _write_guide, _read)

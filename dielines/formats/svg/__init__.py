"""SVG: written from a drawing, and read back into one."""

from __future__ import annotations

from ...drawing import Drawing
from ..choices import Choices, Reader
from ..kinds import Format
from ..readings import Reading


def _write(drawing: Drawing, choices: Choices) -> bytes:
    from dataclasses import replace

    from .options import CUT_FILE, GUIDE_FILE, UserUnit, with_colours
    from .writing import write_svg

    options = replace(
        GUIDE_FILE if choices.reader is Reader.PEOPLE else CUT_FILE,
        user_unit=UserUnit(choices.svg_units_per_inch),
        grouping=choices.grouping,
        layer_order=choices.layer_order,
    )
    return write_svg(drawing, with_colours(options, choices.colours)).encode("utf-8")


def _read(content: bytes, name: str) -> Reading:
    from .reading import read_svg

    return read_svg(content, name)


FORMAT = Format("SVG", ".svg", _write, _read)

"""DXF: written from a drawing, and read back into one."""

from __future__ import annotations

from ...drawing import Drawing
from ..choices import Choices
from ..kinds import Format
from ..readings import Reading


def _write(drawing: Drawing, choices: Choices) -> bytes:
    from .options import DxfOptions, usual_colours, version_called
    from .writing import write_dxf

    options = DxfOptions(
        version=version_called(choices.dxf_version),
        grouping=choices.grouping,
        layer_order=choices.layer_order,
        colours={**usual_colours(), **dict(choices.colours)},
    )
    return write_dxf(drawing, options).encode("ascii")


def _read(content: bytes, name: str) -> Reading:
    from .reading import read_dxf

    return read_dxf(content, name)


FORMAT = Format("DXF", ".dxf", _write, _read)

"""DXF: written from a drawing, and read back into one."""

from __future__ import annotations

from ...drawing import Drawing
from ..kinds import Format
from ..readings import Reading


def _write(drawing: Drawing) -> bytes:
    from .writing import write_dxf

    return write_dxf(drawing).encode("ascii")


def _read(content: bytes, name: str) -> Reading:
    from .reading import read_dxf

    return read_dxf(content, name)


FORMAT = Format("DXF", ".dxf", _write, _write, _read)

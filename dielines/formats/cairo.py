"""The door to cairo, which draws PNG and is a library of the system."""

from __future__ import annotations

from typing import Any

from ..errors import MissingLibrary

WHAT_TO_INSTALL = (
    "PNG needs the library cairo, which is not on this machine: install it (Debian and "
    "Ubuntu: libcairo2; macOS: brew install cairo; Windows: the GTK runtime, which brings "
    "libcairo-2.dll); SVG, DXF and PDF work without it"
)


def surfaces() -> Any:
    """Return cairosvg's module of surfaces; raises MissingLibrary where cairo is not found."""
    try:
        from cairosvg import surface  # type: ignore[import-untyped]
    except (ImportError, OSError) as error:  # OSError: the package is there, the library is not
        raise MissingLibrary(WHAT_TO_INSTALL) from error
    return surface

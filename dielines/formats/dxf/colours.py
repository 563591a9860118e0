"""Colours as DXF says them: by number in every version, in full since R2004."""

from __future__ import annotations

import re
from functools import lru_cache

from ...errors import UsageError

BLACK_OR_WHITE = 7  #: shown black on white and white on black


def red_green_blue(colour: str) -> tuple[int, int, int]:
    """Return the three shares (0 to 255) of a colour such as ``#D55E00``; raises UsageError."""
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", colour):
        raise UsageError(f"{colour!r} is not a colour; write it as #RRGGBB")
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


@lru_cache(maxsize=64)  # every file asks for the same few; the search took a tenth of writing it
def nearest_number(colour: str) -> int:
    """Return the number (1 to 255) of the indexed colour nearest to *colour*.

    Black and white are both number 7.

    >>> nearest_number("#FF0000"), nearest_number("#000000"), nearest_number("#ffffff")
    (1, 7, 7)
    """
    from ezdxf.colors import aci2rgb

    red, green, blue = red_green_blue(colour)
    if (red, green, blue) in ((0, 0, 0), (255, 255, 255)):
        return BLACK_OR_WHITE

    def distance(number: int) -> int:
        r, g, b = aci2rgb(number)
        return (r - red) ** 2 + (g - green) ** 2 + (b - blue) ** 2

    return min((n for n in range(1, 256) if n != BLACK_OR_WHITE), key=distance)

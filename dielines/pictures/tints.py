"""The colours of pictures: light papers, dark lines.

Face and reverse differ in lightness, so that they can be told apart without seeing
colours; lines have a contrast of at least 4.5 to 1 against every tint, shaded or
not (WCAG 2.2, success criteria 1.4.3 and 1.4.11, ask 4.5 for text, 3 for lines).
The hues follow Okabe and Ito's set for colour-blind readers, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[float, float, float]
"""Red, green and blue, 0 to 255."""

INK = "#1f1f1f"  #: lines and text
ACCENT = "#8a1c4a"  #: arrows and marks, never without a shape that says the same
DARKEST = 0.86  #: what is left of a tint where a panel stands upright to the light


@dataclass(frozen=True, slots=True)
class Tint:
    """The colours of one paper."""

    face: Colour
    reverse: Colour


PAPER = Tint((252, 244, 226), (168, 196, 220))
BOARD = Tint((214, 208, 198), (214, 208, 198))
COVERING = Tint((232, 236, 226), (188, 208, 182))  #: its face is glued down, its reverse shows
BACKING = Tint((236, 236, 240), (226, 226, 232))
MAT = Tint((246, 214, 226), (250, 246, 246))
INSERT = Tint((255, 252, 214), (232, 226, 176))

#: One after the other for the pages of a book.
PAGES = (
    Tint((253, 240, 214), (238, 200, 140)),
    Tint((226, 240, 251), (160, 200, 230)),
    Tint((226, 244, 234), (150, 208, 184)),
    Tint((250, 248, 214), (228, 220, 130)),
    Tint((248, 230, 240), (222, 172, 200)),
    Tint((250, 230, 220), (236, 178, 150)),
)


#: By the kind of stock that a part is cut from.
_OF_STOCK = {"cardstock": PAPER, "board": BOARD, "covering": COVERING, "reinforcing": BACKING}


def tint_of_stock(stock: str) -> Tint:
    """Return the tint of a part by itself."""
    return _OF_STOCK.get(stock, PAPER)


def shaded(colour: Colour, light: float) -> str:
    """Return *colour* as SVG writes it, *light* from 0 (edge-on to the light) to 1.

    >>> shaded((200, 100, 0), 1)
    '#c86400'
    """
    share = DARKEST + (1 - DARKEST) * min(max(light, 0.0), 1.0)
    return "#" + "".join(f"{round(part * share):02x}" for part in colour)


def contrast(one: Colour, other: Colour) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, "contrast ratio")."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: Colour) -> float:
    """Return the relative luminance (WCAG 2.2)."""
    red, green, blue = (_linear(part / 255) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

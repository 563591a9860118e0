"""Viewports: how a viewBox is fitted into its width and height.

Source: SVG 2, coords.html, "Computing the equivalent transform of an SVG viewport".
"""

from __future__ import annotations

from typing import NamedTuple

from .numbers import WHITE, numbers_in
from .transforms import Matrix, after, scaling, translation


class ViewBox(NamedTuple):
    """The rectangle of user units that a viewport shows."""

    left: float
    top: float
    width: float
    height: float


class Fit(NamedTuple):
    """A preserveAspectRatio: where to put what is left over, and whether to slice."""

    x_share: float | None  #: 0 for Min, 0.5 for Mid, 1 for Max; None to stretch unevenly
    y_share: float
    slices: bool


USUAL_FIT = Fit(0.5, 0.5, False)
_SHARES = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


def parse_view_box(text: str) -> ViewBox | None:
    """Return the view box that *text* says, or None when it has no area or is none."""
    numbers = numbers_in(text.strip(WHITE))
    if numbers is None or len(numbers) != 4:
        return None
    box = ViewBox(*numbers)
    return box if box.width > 0 and box.height > 0 else None


def parse_fit(text: str) -> Fit:
    """Return the fit that *text* says; the usual one for what is no such text.

    >>> parse_fit("xMinYMax slice")
    Fit(x_share=0.0, y_share=1.0, slices=True)
    """
    words = text.split()
    align = words[0] if words else ""
    if align == "none":
        return Fit(None, 0.0, False)
    x, y = _SHARES.get(align[1:4]), _SHARES.get(align[5:])
    if x is None or y is None or align[0] + align[4] != "xY":
        return USUAL_FIT
    return Fit(x, y, words[1:] == ["slice"])


def view_matrix(box: ViewBox, width: float, height: float, fit: Fit) -> Matrix:
    """Return the map from the units of *box* to a viewport of *width* x *height*.

    >>> view_matrix(ViewBox(0, 0, 100, 50), 100, 100, USUAL_FIT)
    Matrix(a=1.0, b=0.0, c=0.0, d=1.0, e=0.0, f=25.0)
    """
    across, along = width / box.width, height / box.height
    if fit.x_share is not None:
        across = along = (max if fit.slices else min)(across, along)
    x = (width - box.width * across) * (fit.x_share or 0.0)
    y = (height - box.height * along) * fit.y_share
    return after(translation(x, y), after(scaling(across, along), translation(-box.left, -box.top)))

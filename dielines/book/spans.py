"""Where something lies on a part, measured from opposite edges as one does with a ruler.

What lies before, the thing itself and what lies behind it add up to the size of
the part exactly. As they are shown each is rounded by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..lengths import MM_PER_UNIT, Length, Unit, show
from ..part import exact_length
from ..paths import Bounds, Number

FINEST = 32  #: the finest fraction of an inch that is listed, as on a ruler
OTHER_UNIT: dict[Unit, Unit] = {"in": "mm", "mm": "in"}
FINEST_MARK = MM_PER_UNIT["in"] / 64  #: mm
NOTHING = 1e-6  #: mm; what a float may be off


@dataclass(frozen=True, slots=True)
class Span:
    """An extent across or up: *near* is left of it or above, *far* right of it or below."""

    near: Length
    size: Length
    far: Length

    @property
    def total(self) -> Length:
        """The size of the part in this direction."""
        return self.near + self.size + self.far

    @property
    def middle(self) -> Span:
        """The place of the middle of it."""
        return Span(self.near + self.size / 2, self.size * 0, self.far + self.size / 2)

    @property
    def is_whole(self) -> bool:
        """Whether it reaches from edge to edge of the part."""
        return not (self.near or self.far)


def measured(value: Number) -> Length:
    """Return a coordinate as an exact length; a float as what a ruler shows where it is that.

    >>> measured(1.5875 + 1e-12) == Length(Fraction(127, 80))  # 1/16 in
    True
    """
    if isinstance(value, Fraction | int):
        return Length(Fraction(value))
    on_ruler = round(value / FINEST_MARK) * FINEST_MARK
    return Length(on_ruler) if abs(on_ruler - value) < NOTHING else exact_length(value)


def spans(box: Bounds, page: Bounds) -> tuple[Span, Span]:
    """Return where *box* lies across and up on a part whose bounds are *page*."""
    left, right = measured(box.left - page.left), measured(page.right - box.right)
    top, bottom = measured(page.top - box.top), measured(box.bottom - page.bottom)
    width, height = measured(page.width), measured(page.height)
    return (
        Span(left, width - left - right, right),
        Span(top, height - top - bottom, bottom),
    )


def shown(length: Length, unit: Unit) -> str:
    """Return *length* without its unit, ``≈`` in front where it was rounded.

    >>> shown(Length(Fraction(127, 4)), "in"), shown(Length(Fraction(10, 3)), "mm")
    ('1 1/4', '≈ 3.3')
    """
    return show(length, unit, FINEST).removesuffix(f" {unit}")


def shown_sides(across: Length, up: Length, unit: Unit) -> str:
    """Return two sides, across x up, with one ``≈`` where any was rounded.

    >>> shown_sides(Length(Fraction(127, 4)), Length(Fraction(10, 3)), "mm")
    '≈ 31.8 x 3.3'
    """
    words = f"{shown(across, unit)} x {shown(up, unit)}"
    return f"≈ {words.replace('≈ ', '')}" if "≈" in words else words


def shown_from_edges(span: Span, unit: Unit) -> tuple[str, str]:
    """Return where something without size lies: from the left or top, from the right or bottom.

    Each is rounded by itself, so that one distance is shown alike wherever it stands.

    >>> third = Length(Fraction(254, 30))
    >>> shown_from_edges(Span(third, third * 0, third * 2), "in")
    ('≈ 11/32', '≈ 21/32')
    """
    return shown(span.near, unit), shown(span.far, unit)


def shown_reach(span: Span, unit: Unit) -> str:
    """Return from where to where something reaches, from the left or top: "0 to 5 1/4"."""
    words = f"{shown(span.near, unit)} to {shown(span.near + span.size, unit)}"
    return f"≈ {words.replace('≈ ', '')}" if "≈" in words else words

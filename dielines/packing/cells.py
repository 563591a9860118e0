"""A shape as cells of a grid: one whole number for each row, bit x for the cell at x.

Exact for outlines whose corners lie on the grid; any other is taken as the cells
that it touches, so that it never comes out too small.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Cells:
    """A shape in a grid of *width* x *height* cells; *rows* from the bottom up.

    >>> Cells(3, 2, (0b111, 0b001)).turned()
    Cells(width=2, height=3, rows=(3, 2, 2))
    """

    width: int
    height: int
    rows: tuple[int, ...]

    @property
    def area(self) -> int:
        """The number of cells."""
        return sum(row.bit_count() for row in self.rows)

    def turned(self) -> Cells:
        """Return the shape turned by a quarter, counter-clockwise: (x, y) goes to (-y, x)."""
        rows = [0] * self.width
        for y, row in enumerate(self.rows):
            for x in range(self.width):
                if row >> x & 1:
                    rows[x] |= 1 << (self.height - 1 - y)
        return Cells(self.height, self.width, tuple(rows))

    def grown(self, gap: int) -> Cells:
        """Return the shape with *gap* cells added to the right and above of every cell."""
        rows = [0] * (self.height + gap)
        for y, row in enumerate(self.rows):
            wide = row
            for step in range(1, gap + 1):
                wide |= row << step
            for up in range(gap + 1):
                rows[y + up] |= wide
        return Cells(self.width + gap, self.height + gap, tuple(rows))


@dataclass(frozen=True)
class Shape:
    """The cells of one kind of part, by the quarter turns in which it may lie, gap included."""

    lying: tuple[tuple[int, Cells], ...]

    def cells(self, quarters: int) -> Cells:
        """Return the cells after so many quarter turns; raises KeyError where it may not lie so."""
        return dict(self.lying)[quarters]

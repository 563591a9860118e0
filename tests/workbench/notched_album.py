"""An album whose pages have two corners cut away, as outlines and as boxes; sizes in 1/16 in.

Sizes of the parts: common practice, no source. Sheets that it took before: trials
with an earlier program, kept as numbers to hold this one against.
"""

from fractions import Fraction

from dielines.packing.cells import Shape
from dielines.packing.order import Bed, Box, Order
from dielines.packing.outlines.rings import shape_of_rings

INCH = 16
GAP = 2
MARGIN = 4

#: sheets of one book and of 24, by pages, as outlines and as boxes around them
EARLIER = {
    (12, 4, 1): (7, 7), (12, 8, 1): (13, 14), (12, 12, 1): (20, 21),
    (12, 4, 24): (153, 168), (12, 8, 24): (306, 336), (12, 12, 24): (459, 504),
    (24, 4, 1): (3, 3), (24, 8, 1): (6, 6), (24, 12, 1): (9, 10),
    (24, 4, 24): (68, 68), (24, 8, 24): (135, 137), (24, 12, 24): (202, 209),
}  # fmt: skip


def rectangle(width, height):
    """Return the ring of a rectangle, in inches."""
    return [(0, 0), (width, 0), (width, height), (0, height)]


def page():
    """Return a page with 2 1/8 x 5/8 and 2 1/8 x 4 3/8 in cut away beside its tab."""
    wide, tab = Fraction(67, 8), Fraction(50, 8)
    high, low, top = Fraction(37, 4), Fraction(35, 8), Fraction(69, 8)
    return [
        (0, 0),
        (tab, 0),
        (tab, low),
        (wide, low),
        (wide, top),
        (tab, top),
        (tab, high),
        (0, high),
    ]


def parts(pages):
    """Return ring, number in a book and quarter turns of each kind of part."""
    eighth = Fraction(1, 8)
    return (
        (page(), pages, (0, 2)),
        (rectangle(83 * eighth, 34 * eighth), pages, (0,)),  # leaf
        (rectangle(10 * eighth, 34 * eighth), 2 * pages, (0,)),  # hinge
        (rectangle(6 * eighth, 78 * eighth), 4, (0, 1)),  # edge
        (rectangle(15 * eighth, 34 * eighth), pages, (0,)),  # guard
        (rectangle(33 * eighth, 49 * eighth), pages, (0, 1)),  # mat
    )


def notched_album(pages: int, copies: int, long: int = 12) -> tuple[Order, tuple[Shape, ...]]:
    """Return the order of so many books on sheets 12 in wide and *long* in high."""
    kinds = parts(pages)
    shapes = tuple(
        shape_of_rings([[(float(x * INCH), float(y * INCH)) for x, y in ring]], 1.0, GAP, quarters)
        for ring, _, quarters in kinds
    )
    boxes = tuple(
        Box(shape.lying[0][1].width, shape.lying[0][1].height, 1 in quarters)
        for shape, (_, _, quarters) in zip(shapes, kinds, strict=True)
    )
    bed = Bed(12 * INCH - 2 * MARGIN + GAP, long * INCH - 2 * MARGIN + GAP)
    return Order(boxes, tuple(count * copies for _, count, _ in kinds), (bed,)), shapes

"""An album of nine kinds of part as an order of sheets; sizes in 1/16 in, gap included.

Sizes of the parts: common practice, no source. Sheets that it took before: trials with
an earlier program, kept as numbers to hold this one against.
"""

import random

from dielines.packing.order import Bed, Box, Order

GAP = 2
EARLIER = {
    # long side of the sheet in inches, pages, copies: placed freely, cut from edge to edge
    (12, 4, 1): (9, 9), (12, 8, 1): (17, 17), (12, 12, 1): (25, 25),
    (12, 4, 24): (198, 200), (12, 8, 24): (396, 400), (12, 12, 24): (594, 600),
    (24, 4, 24): (84, 84), (24, 8, 24): (166, 167), (24, 12, 24): (250, 250),
}  # fmt: skip


def kinds(pages):
    """Return width and height in sixteenths, number in a book, and whether it may turn."""
    return (
        (134, 148, pages, False),  # page
        (166, 68, pages, False),  # leaf
        (20, 68, pages + 1, False),  # hinge
        (40, 68, max(2, pages // 2), False),  # guard
        (12, 156, 4, True),  # edge
        (66, 98, 2 * pages, True),  # mat
        (32, 56, pages, True),  # tag
        (96, 54, pages // 2, False),  # flap
        (8, 64, pages, True),  # strip
    )


def bed(wide=12, long=12, **more):
    """Return a sheet, in inches, with a margin of 1/4 in all round."""
    return Bed(16 * wide - 8 + GAP, 16 * long - 8 + GAP, **more)


def album(pages, copies=1, beds=None, changes=None):
    """Return the order of so many books; *changes* in the size of parts, by their index."""
    sizes = [list(kind) for kind in kinds(pages)]
    for part, (wide, high) in (changes or {}).items():
        sizes[part][0] += wide
        sizes[part][1] += high
    boxes = tuple(Box(w + GAP, h + GAP, turns) for w, h, _, turns in sizes)
    return Order(boxes, tuple(n * copies for _, _, n, _ in sizes), tuple(beds or [bed()]))


#: sheets in sixteenths, their margins taken off and the gap added
SHEETS = ((186, 186), (186, 378), (126, 181), (130, 170))


def drawn_album(seed):
    """Return the order of one book drawn by lot: 20 to 70 parts of 4 to 10 kinds."""
    draw = random.Random(seed)
    wide, high = draw.choice(SHEETS)
    pages = draw.randint(3, 10)
    boxes, counts = [], []
    for _ in range(draw.randint(1, 2)):
        boxes.append(_drawn(draw, wide, (0.45, 0.85), min(high, 186), (0.4, 0.85), False))
        counts.append(pages)
    for _ in range(draw.randint(3, 8)):
        turns = draw.random() < 0.5
        boxes.append(_drawn(draw, wide, (0.05, 0.5), min(high, 186), (0.1, 0.6), turns))
        counts.append(draw.choice([1, 2, pages // 2 + 1, pages, 2 * pages]))
    return Order(tuple(boxes), tuple(counts), (Bed(wide, high),))


def _drawn(draw, wide, across, high, up, turns):
    return Box(round(wide * draw.uniform(*across)), round(high * draw.uniform(*up)), turns)

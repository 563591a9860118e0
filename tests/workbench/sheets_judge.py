"""Whether the sheets of a book are right, judged with shapely and by the parts themselves.

Nothing here uses the code that lays out: parts are turned and moved by shapely, grain
is worked out from the words of part and sheet.
"""

from collections import Counter
from itertools import combinations

import shapely
from shapely.affinity import rotate, translate

from dielines.paths import flattened

NEAR = 1e-6  # mm


def shape_of(one):
    """Return a placed part as a polygon on its sheet, mm."""
    rings = [flattened(path, 0.02) for path in one.part.outline]
    turned = rotate(shapely.Polygon(rings[0], rings[1:]), 90 * one.quarters, origin=(0, 0))
    left, low = turned.bounds[:2]
    return translate(turned, float(one.x.mm) - left, float(one.y.mm) - low)


def wrong_on_sheet(stock, sheet):
    """Return what is wrong with one sheet, in words."""
    found = []
    shapes = [(one, shape_of(one)) for one in sheet.placed]
    wide, high = (float(side.mm) for side in sheet.room.sheet.size)
    margin = float(stock.terms.reach.margin.mm)
    room = shapely.box(margin, margin, wide - margin, high - margin).buffer(NEAR)
    for one, shape in shapes:
        if not room.covers(shape):
            found.append(f"{one.letter} reaches into the margin")
        if not runs_right(one, stock.stock, sheet.room.sheet):
            found.append(f"{one.letter}: grain or print lies the wrong way")
    gap = float(stock.terms.gap.mm)
    for (one, a), (other, b) in combinations(shapes, 2):
        if a.distance(b) < gap - 0.03 or a.intersection(b).area > 0.01:
            found.append(f"{one.letter} and {other.letter} are too near: {a.distance(b):.4f}")
    return found


def runs_right(one, stock, sheet):
    """Return whether a part may lie as it does: a print keeps it upright, else its grain."""
    if stock.is_one_way_up:
        return one.quarters == 0
    if stock.is_striped:
        return one.quarters % 2 == 0
    if one.part.grain == "free" or sheet.grain.value == "none":
        return True
    is_along = one.part.grain == sheet.grain.value
    return is_along == (one.quarters % 2 == 0)


def wrong_in_layout(book, layout):
    """Return what is wrong with all sheets of a book: each part as often as it is wanted."""
    found = [fault for stock, sheet in layout.sheets() for fault in wrong_on_sheet(stock, sheet)]
    placed = Counter()
    for stock, sheet in layout.sheets():
        for one in sheet.placed:
            placed[stock.stock.name, one.letter] += sheet.times
    for stock in layout.stocks:
        for one in stock.too_large:
            placed[stock.stock.name, one.letter] += one.count
    copies, spares = book.request.copies, book.request.spares
    wanted = Counter((entry.stock.name, entry.letter) for entry in book.parts)
    for key, count in wanted.items():
        if placed[key] != copies * (count + spares):
            found.append(f"{key}: {placed[key]} of {copies * (count + spares)}")
    return found

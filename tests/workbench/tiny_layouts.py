"""What fits tiny sheets, found by trying every place for every box; slow, sure, independent."""

from functools import cache
from itertools import product


def fits(size, boxes):
    """Return whether *boxes*, each a collection of (width, height) to choose from, fit *size*."""
    width, height = size
    taken = [[False] * width for _ in range(height)]

    def place(i):
        if i == len(boxes):
            return True
        for wide, high in sorted(set(boxes[i])):
            for y, x in product(range(height - high + 1), range(width - wide + 1)):
                cells = [(a, b) for a in range(y, y + high) for b in range(x, x + wide)]
                if not any(taken[a][b] for a, b in cells):
                    for a, b in cells:
                        taken[a][b] = True
                    if place(i + 1):
                        return True
                    for a, b in cells:
                        taken[a][b] = False
        return False

    return place(0)


def ways(order, kind, bed):
    """Return the sizes in which a box may lie on a sheet."""
    box = order.boxes[kind]
    turned = [(box.height, box.width)] if box.may_turn or order.beds[bed].turns_all else []
    return ((box.width, box.height), *turned)


def fitting_sets(order, bed):
    """Return every set of boxes, as counts, that fits one sheet."""
    size = order.beds[bed].width, order.beds[bed].height
    found = []
    for counts in product(*(range(count + 1) for count in order.counts)):
        boxes = [ways(order, kind, bed) for kind, n in enumerate(counts) for _ in range(n)]
        area = sum(w * h for (w, h), *_ in boxes)
        if area <= size[0] * size[1] and fits(size, sorted(boxes, reverse=True)):
            found.append(counts)
    return found


def least_price(order):
    """Return the least price of the sheets for *order*; None where there are too few."""
    sets = [fitting_sets(order, bed) for bed in range(len(order.beds))]

    @cache
    def least(left, there):
        if not any(left):
            return 0
        prices = []
        first = next(kind for kind, count in enumerate(left) if count)
        for bed, some in enumerate(sets):
            if there[bed] == 0:
                continue
            fewer = (
                *there[:bed],
                None if there[bed] is None else there[bed] - 1,
                *there[bed + 1 :],
            )
            for counts in some:
                if counts[first] and all(a <= b for a, b in zip(counts, left, strict=True)):
                    rest = least(tuple(b - a for a, b in zip(counts, left, strict=True)), fewer)
                    prices += [] if rest is None else [rest + order.beds[bed].price]
        return min(prices, default=None)

    return least(order.counts, tuple(bed.at_most for bed in order.beds))

"""Small orders for a strip, made up for the tests."""

import math

from dielines.packing.strips.outline import Outline, StripOrder


def hooks():
    """Return hooks, wedges and crosses that interlock; all may turn."""
    hook = Outline(((0, 0), (11, 0), (11, 3), (4, 3), (4, 9), (0, 9)))
    wedge = Outline(((0, 0), (9, 2), (5, 8)))
    cross = Outline(
        (
            (2, 0),
            (5, 0),
            (5, 2),
            (7, 2),
            (7, 5),
            (5, 5),
            (5, 7),
            (2, 7),
            (2, 5),
            (0, 5),
            (0, 2),
            (2, 2),
        )
    )
    return StripOrder((hook, wedge, cross), ((0, 1, 2, 3), (0, 2), (0,)), (7, 5, 6), 23)


def puzzle():
    """Return the pieces of a rectangle of 21 x 13."""
    pieces = (
        ((0, 0), (9, 0), (7, 6), (5, 12), (5, 13), (0, 13)),
        ((9, 0), (21, 0), (21, 4), (13, 7), (7, 6)),
        ((21, 4), (21, 13), (13, 13), (13, 7)),
        ((5, 13), (5, 12), (7, 6), (13, 7), (13, 13)),
    )
    return StripOrder(tuple(map(Outline, pieces)), ((0, 2),) * 4, (1,) * 4, 13)


def star(draw, corners, size=97):
    """Return a ring without crossings: corners at rising angles around a point."""
    angles = sorted(draw.sample(range(360), corners))
    ways = [(draw.randint(size // 5, size), math.radians(angle)) for angle in angles]
    return tuple((round(far * math.cos(a)), round(far * math.sin(a))) for far, a in ways)

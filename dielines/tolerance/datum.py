"""What a page is laid by when it is glued in."""

from __future__ import annotations

from enum import Enum


class Datum(Enum):
    """By what a page is aligned; the first is what hands usually do."""

    NEIGHBOUR = "each page to its neighbour"
    FIRST = "every page to the first"
    JIG = "every page to a jig"

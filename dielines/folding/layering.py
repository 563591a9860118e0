"""Which panels of a folded part lie over which, and what keeps them from lying so."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from ..part import FoldKey

Pair = tuple[str, str]
"""Two panels of one part, by name."""


class Outcome(Enum):
    """What can be said of the order of layers of a part."""

    ONE = "one order"
    AMBIGUOUS = "ambiguous"  #: more orders than one; `Layering.ambiguous` says which panels differ
    IMPOSSIBLE = "impossible"  #: none; `Layering.clashes` says why
    CYCLIC = "cyclic"  #: one, and flaps are tucked round in a circle, which is legitimate


class ClashKind(Enum):
    """Why panels cannot lie as the folds would have them."""

    THROUGH = "through each other"  #: two panels come through each other in a step
    CREASE_INSIDE = "crease inside a layer"  #: a fold lies strictly inside another layer
    INTERLEAVED = "interleaved"  #: two folds in one place would have to pass through each other
    SAME_PLACE = "in one place"  #: two panels that are not parallel to the page share a place
    PIERCED = "pierced"  #: at rest, an edge of one panel stands through another panel


@dataclass(frozen=True, slots=True)
class Clash:
    """Two panels that get in each other's way.

    *step* counts the declared steps from 1; 0 where no step can be blamed.
    *crease* is the fold concerned, where it is one.
    """

    kind: ClashKind
    first: str
    second: str
    step: int = 0
    crease: FoldKey | None = None


@dataclass(frozen=True)
class Layering:
    """The order of the layers of one folded part.

    *sides* holds both (a, b) and (b, a) for every two panels that share a plane
    (or lie in parallel planes, however far apart) and overlap once folded: +1
    where b lies on the face side of a, -1 where it lies on its reverse side. It is
    relative to each panel's own normal, as faceOrders in FOLD 1.2, so that it
    survives any motion of the part.
    """

    outcome: Outcome
    sides: Mapping[Pair, int]
    clashes: tuple[Clash, ...] = ()
    ambiguous: tuple[Pair, ...] = ()
    circles: tuple[tuple[str, ...], ...] = ()  #: panels each of which lies over the one before

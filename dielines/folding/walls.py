"""Gussets and channels: how wide they are, and how wide they would have to be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from .depths import Sorted, needed_width
from .layer_order import LayerOrder
from .levels import PanelKey
from .stack import Link


@dataclass(frozen=True, slots=True)
class Wall:
    """A gusset or a channel: a panel that stands between two panels that lie.

    *width* is how far apart its two folds are, *needed* how far apart what lies
    between and beside its two panels keeps them when the book is pressed,
    *needed_empty* the same with nothing in pockets and behind flaps, and *short* by
    how much it is too narrow once all walls have shared what is missing. *standing*
    is how wide the gussets are together that stand in a channel.
    """

    part: str
    panel: str
    lower: PanelKey  #: the panel nearer to the back cover
    upper: PanelKey
    width: float
    needed: float
    needed_empty: float
    short: float
    standing: float
    is_channel: bool  #: whether it joins its part to another part, or to the spine

    @property
    def wanted(self) -> float:
        """The least width that does: for all layers and contents, and for gussets to stand."""
        return max(self.needed, self.standing)

    @property
    def spare(self) -> float:
        """How much wider it is than needed; below 0 where it is too narrow."""
        return self.width - self.needed


def walls_of(
    order: LayerOrder, layers: Sorted, empty: Sorted, short: Mapping[Link, float]
) -> Iterator[Wall]:
    """Yield all gussets and channels; *layers* and *empty* are the book with and without contents."""
    gussets: dict[str, list[Link]] = {}
    for link in order.stack.links:
        if not link.is_channel:
            gussets.setdefault(link.wall[0], []).append(link)
    for link in order.stack.links:
        part, panel = link.wall
        lower, upper = (order.stack.pack(key) for key in (link.lower, link.upper))
        yield Wall(
            part=part,
            panel=panel,
            lower=link.lower,
            upper=link.upper,
            width=link.width,
            needed=needed_width(layers, lower, upper),
            needed_empty=needed_width(empty, lower, upper),
            short=short[link],
            standing=_standing(order, link, gussets) if link.is_channel else 0.0,
            is_channel=link.is_channel,
        )


def _standing(order: LayerOrder, link: Link, gussets: Mapping[str, Sequence[Link]]) -> float:
    """Return how wide all gussets are together that stand in a channel: of each page the widest."""
    sides = {*order.pack(link.lower), *order.pack(link.upper)}
    total = 0.0
    for part in sorted({key[0] for key in sides}):
        inside = [g.width for g in gussets.get(part, ()) if _is_inside(order, link, g, sides)]
        total += max(inside, default=0.0)
    return total


def _is_inside(order: LayerOrder, link: Link, gusset: Link, sides: set[PanelKey]) -> bool:
    """Return whether both panels of a gusset lie in a channel, one of them perhaps at its side."""
    between = [
        order.over(link.lower, panel) > 0 and order.over(panel, link.upper) > 0
        for panel in (gusset.lower, gusset.upper)
    ]
    at_side = [panel in sides for panel in (gusset.lower, gusset.upper)]
    return any(between) and all(a or b for a, b in zip(between, at_side, strict=True))

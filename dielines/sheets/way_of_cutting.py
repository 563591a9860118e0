"""How each stock is cut: by machine, with a trimmer, or with a knife; what that leaves bare."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from ..lengths import ZERO, Length
from ..workshop.reach import BY_KNIFE, Reach
from ..workshop.stock import Stock, StockKind
from ..workshop.workshop import Workshop


class By(Enum):
    """With what a stock is cut."""

    MACHINE = "machine"
    TRIMMER = "trimmer"
    KNIFE = "knife"

    @property
    def is_edge_to_edge(self) -> bool:
        """Whether every cut runs from edge to edge of its piece."""
        return self is not By.MACHINE


@dataclass(frozen=True)
class Terms:
    """What cutting asks of a layout: the gap between parts, and what of a sheet can be cut."""

    by: By
    gap: Length
    reach: Reach


def terms_for(stock: Stock, workshop: Workshop, wish: By, gap: Length | None = None) -> Terms:
    """Return the terms on which *stock* is cut, where the person wishes to work by *wish*.

    What is too thick for the machine, and boards always where there is none, is cut
    with a knife: an ordinary trimmer takes no board (common practice). *gap* takes the
    place of the workshop's where the stock is cut as wished.
    """
    if wish is By.MACHINE and workshop.machine.cuts(stock):
        return Terms(wish, workshop.machine.gap if gap is None else gap, workshop.machine.reach)
    if wish is By.TRIMMER and stock.kind is not StockKind.BOARD:
        trimmer = workshop.trimmer
        return Terms(wish, trimmer.gap if gap is None else gap, Reach(margin=trimmer.margin))
    return Terms(By.KNIFE, ZERO, BY_KNIFE)

"""Roles: what a stock is for in a book, and which role lends its stock to which."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from .stock import StockKind


@dataclass(frozen=True, slots=True)
class Role:
    """The kinds of stock that can play a role, the usual kind first.

    A role that *follows* another is played by that one's stock unless a stock
    of its own is named.
    """

    kinds: tuple[StockKind, ...]
    follows: str = ""


#: The roles of a book's ``[paper]`` table that are played by sheets (tape is none of them).
ROLES: Mapping[str, Role] = MappingProxyType(
    {
        "pages": Role((StockKind.PAPER,)),
        "inserts": Role((StockKind.PAPER,), follows="pages"),
        "mats": Role((StockKind.PAPER,)),
        "boards": Role((StockKind.BOARD, StockKind.PAPER)),
        "reinforcement": Role((StockKind.REINFORCING, StockKind.PAPER, StockKind.COVERING)),
        "wrap": Role((StockKind.COVERING, StockKind.PAPER)),
        "lining": Role((StockKind.COVERING, StockKind.PAPER), follows="wrap"),
        "edges": Role((StockKind.COVERING, StockKind.PAPER), follows="wrap"),
    }
)

#: What a template calls its stock, and the role in a book that this is.
ROLE_OF_STOCK: Mapping[str, str] = MappingProxyType(
    {
        "cardstock": "pages",
        "board": "boards",
        "reinforcing": "reinforcement",
        "covering": "wrap",
    }
)


def roles_of(kind: StockKind) -> tuple[str, ...]:
    """Return the roles that a stock of *kind* can play.

    >>> roles_of(StockKind.BOARD)
    ('boards',)
    """
    return tuple(name for name, role in ROLES.items() if kind in role.kinds)

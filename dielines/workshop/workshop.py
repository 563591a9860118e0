"""The workshop: everything that the person owns, and how they work."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from ..documents import Refusal, suggestion
from .hand_tools import HandErrors, ScoringBoard, Trimmer
from .machine import Machine
from .reach import BY_KNIFE, Reach
from .roles import ROLES
from .stock import Stock
from .tape import Tape

Thing = TypeVar("Thing", Stock, Tape)


@dataclass(frozen=True)
class Workshop:
    """What is there to make books from and with.

    *assumptions* are sentences on everything that the file left out and that
    was taken from typical values; each stock and tape has notes of its own.
    """

    source: str  #: the file that it was read from; empty for the typical workshop
    stocks: tuple[Stock, ...]
    tapes: tuple[Tape, ...]
    players: Mapping[str, str]  #: the name of the stock that plays each role
    machine: Machine
    trimmer: Trimmer
    scoring_board: ScoringBoard
    hand: HandErrors
    currency: str  #: of all prices; empty when there are none
    assumptions: tuple[str, ...]

    def stock_named(self, name: str) -> Stock:
        """Return the stock called *name*; raises Refusal with what there is."""
        return _named(name, self.stocks, "stock")

    def stock_for(self, role: str) -> Stock:
        """Return the stock that plays *role* when the book names none; raises Refusal."""
        if role not in self.players:
            hint = suggestion(role, ROLES)
            remedy = "" if hint else f"There are {', '.join(ROLES)}."
            raise Refusal("unknown-role", f"{role!r} is not a role of a stock{hint}", remedy)
        return self.stock_named(self.players[role])

    def tape_named(self, name: str) -> Tape:
        """Return the tape called *name*; raises Refusal with what there is."""
        return _named(name, self.tapes, "tape")

    @property
    def tape(self) -> Tape:
        """The tape that is used when the book names none: the first."""
        return self.tapes[0]

    def reach_for(self, stock: Stock) -> Reach:
        """Return the machine's reach, or a knife's for what is too thick for the machine."""
        return self.machine.reach if self.machine.cuts(stock) else BY_KNIFE

    def notes(self, used: Iterable[Stock | Tape]) -> tuple[str, ...]:
        """Return the assumptions, and the notes of the stocks and tapes that are *used*."""
        own = [note for thing in used for note in thing.notes]
        return tuple(dict.fromkeys([*self.assumptions, *own]))


def _named(name: str, things: tuple[Thing, ...], what: str) -> Thing:
    known = {spoken(thing.name): thing for thing in things}
    if spoken(name) not in known:
        hint = suggestion(spoken(name), known)
        names = ", ".join(thing.name for thing in things)
        raise Refusal(
            f"unknown-{what}",
            f"no {what} is called {name[:60]!r}{hint}",
            "" if hint else f"There are {names}; name one of them, or add it to the workshop file.",
        )
    return known[spoken(name)]


def spoken(name: str) -> str:
    """Return *name* as one says it, so that ways of writing it compare equal."""
    return " ".join(name.casefold().split())

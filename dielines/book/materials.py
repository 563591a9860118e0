"""Which stock of the workshop plays which role in a book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from ..documents import Refusal
from ..workshop.roles import ROLE_OF_STOCK, ROLES
from ..workshop.stock import Stock
from ..workshop.tape import Tape
from ..workshop.workshop import Workshop
from .entries import Given
from .request import BookRequest
from .words import TAPE


@dataclass(frozen=True)
class Materials:
    """The stock of each role, and the tape."""

    stocks: Mapping[str, Stock]
    tape: Tape

    def calipers(self) -> dict[str, Fraction]:
        """Return the thickness of each stock as templates call it, mm, and that of the tape."""
        found = {name: self.stocks[role].caliper.mm for name, role in ROLE_OF_STOCK.items()}
        return {**found, TAPE: self.tape.thickness.mm}


def materials_of(request: BookRequest, workshop: Workshop) -> Materials:
    """Return what the book is made of; names that the workshop does not have are reported."""
    stocks = {role: _stock(request.paper, role, workshop) for role in ROLES}
    tape = workshop.tape
    if TAPE in request.paper:
        given = request.paper[TAPE]
        with given.place.collecting():
            tape = workshop.tape_named(_name(given))
    return Materials(stocks, tape)


def _stock(paper: Mapping[str, Given], role: str, workshop: Workshop) -> Stock:
    """Return the stock that the book names for a role, or for the role that it follows."""
    followed = ROLES[role].follows
    given = paper.get(role) or (paper.get(followed) if followed else None)
    if given is not None:
        with given.place.collecting():
            return workshop.stock_named(_name(given))
    return workshop.stock_for(role)


def _name(given: Given) -> str:
    if not isinstance(given.value, str):
        raise Refusal("wrong-kind", "expected the name of a material")
    return given.value

"""From the text of a workshop file to a workshop, with typical values for what is missing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, TypeVar

from ..documents import Document, Place
from ..fields import Field, Kind, checked
from ..lengths import Unit
from .entries import Entry, Table, table_at
from .hand_tools import (
    HAND_FIELDS,
    SCORING_BOARD_FIELDS,
    TRIMMER_FIELDS,
    read_hand,
    read_scoring_board,
    read_trimmer,
)
from .machine_entry import FIELDS as MACHINE_FIELDS
from .machine_entry import read_machine
from .roles import ROLES
from .stock import Stock, StockKind, caliper_words
from .stock_entries import read_stock
from .tape import Tape, read_tape
from .workshop import Workshop, spoken

T = TypeVar("T")

FIELDS = (
    Field("units", Kind.TEXT, words=("in", "mm")),
    Field("currency", Kind.TEXT),
    *(Field(kind.value, Kind.TABLE) for kind in StockKind),
    *(Field(name, Kind.TABLE) for name in ("tapes", "machine", "trimmer", "scoring_board", "hand")),
)
#: Entries of the machine that are a matter of choice: nobody can measure them wrongly.
CHOICES = frozenset(
    {"svg_units_per_inch", "dxf_version", "layers", "grouping", "colours", "dashes", "gap",
     "bridges", "overlap", "shared_edges", "one_file_per_layer", "registration_marks"}
)  # fmt: skip


@dataclass(frozen=True)
class Typical:
    """The workshop that stands behind a person's own, and the file that it came from."""

    workshop: Workshop
    document: Document


@dataclass
class _Reader:
    """The file being read, what stands behind it, and what was taken from there so far."""

    document: Document
    top: Mapping[str, Any]
    units: Unit | None
    typical: Typical | None
    assumptions: list[str]

    def entry(self, name: str, fields: Sequence[Field]) -> Entry:
        """Return the table *name* of the file with the typical one behind it."""
        own = table_at(self.document.root / name, self.top.get(name, {}), fields, self.units)
        return Entry(own, self._typical_table(name, fields))

    def _typical_table(self, name: str, fields: Sequence[Field]) -> Table | None:
        if self.typical is None:
            return None
        document = self.typical.document
        return table_at(document.root / name, document.data[name], fields, document.data["units"])

    def read(self, name: str, fields: Sequence[Field], reader: Callable[[Entry], T]) -> T:
        """Return what *reader* makes of the table *name*, noting what was typical."""
        entry = self.entry(name, fields)
        value = reader(entry)
        told = [f"{key} {words}" for key, words in entry.taken.items() if key not in CHOICES]
        if told:
            spoken_name = name.replace("_", " ")
            self.assumptions.append(f"{spoken_name}: typical, not yours: {'; '.join(told)}")
        return value


def read_workshop(document: Document, typical: Typical | None) -> Workshop:
    """Return the workshop that *document* describes; raises BookError with all its faults.

    What it leaves out comes from *typical*, and is said in the assumptions.
    """
    top = checked(document.root, document.data, FIELDS)
    reader = _Reader(document, top, _units(document, top), typical, [])
    own = _own_stocks(reader)
    tapes = _tapes(reader)
    machine = reader.read("machine", MACHINE_FIELDS, read_machine)
    if machine.caution:
        reader.assumptions.append(f"machine: {machine.caution}")
    trimmer = reader.read("trimmer", TRIMMER_FIELDS, read_trimmer)
    scoring_board = reader.read("scoring_board", SCORING_BOARD_FIELDS, read_scoring_board)
    hand = reader.read("hand", HAND_FIELDS, read_hand)
    _report_double_claims(document.root, own)
    document.settle()
    players, lent = _players(own, typical)
    return Workshop(
        source=document.name,
        stocks=(*own, *lent.values()),
        tapes=tapes,
        players=MappingProxyType(players),
        machine=machine,
        trimmer=trimmer,
        scoring_board=scoring_board,
        hand=hand,
        currency=top.get("currency", ""),
        assumptions=(*_lent_words(players, lent), *reader.assumptions),
    )


def _units(document: Document, top: Mapping[str, Any]) -> Unit | None:
    """Return the file's unit; after a wrong one any, so that not every number is a fault as well."""
    if "units" in document.data and "units" not in top:
        return "in"
    return top.get("units")


def _own_stocks(reader: _Reader) -> tuple[Stock, ...]:
    """Return the stocks of the file, in its order within each table."""
    stocks = []
    for kind in StockKind:
        behind = _usual_of_kind(kind, reader.typical)
        for name, value in reader.top.get(kind.value, {}).items():
            place = reader.document.root / kind.value / name
            stocks.append(read_stock(place, name, value, kind, reader.units, behind))
    own = tuple(stock for stock in stocks if stock)
    _report_double_names(reader.document.root, own)
    return own


def _usual_of_kind(kind: StockKind, typical: Typical | None) -> Stock | None:
    if typical is None:
        return None
    return next(stock for stock in typical.workshop.stocks if stock.kind is kind)


def _tapes(reader: _Reader) -> tuple[Tape, ...]:
    """Return the tapes of the file, or the typical one, which the assumptions then name."""
    usual = reader.typical.workshop.tape if reader.typical else None
    place, units = reader.document.root / "tapes", reader.units
    read = [
        read_tape(place / name, name, value, units, usual)
        for name, value in reader.top.get("tapes", {}).items()
    ]
    own = tuple(tape for tape in read if tape)
    if own or usual is None:
        return own
    thick = caliper_words(usual.thickness)
    reader.assumptions.append(
        f"tapes: none is listed; typical {usual.name}, {thick} thick, is assumed"
    )
    return (usual,)


def _report_double_names(root: Place, stocks: Iterable[Stock]) -> None:
    seen: set[str] = set()
    for stock in stocks:
        if spoken(stock.name) in seen:
            place = root / stock.kind.value / stock.name
            place.report_key("named-twice", f"there are two stocks called {stock.name!r}")
        seen.add(spoken(stock.name))


def _report_double_claims(root: Place, stocks: Iterable[Stock]) -> None:
    claimed: dict[str, str] = {}
    for stock in stocks:
        for role in stock.roles:
            first = claimed.setdefault(role, stock.name)
            if first != stock.name:
                place = root / stock.kind.value / stock.name / "roles"
                place.report("named-twice", f"{role!r} is already played by {first!r}")


def _players(
    own: tuple[Stock, ...], typical: Typical | None
) -> tuple[dict[str, str], dict[str, Stock]]:
    """Return who plays each role, and the typical stocks that had to be lent for it, by role."""
    players: dict[str, str] = {}
    lent: dict[str, Stock] = {}
    for role in ROLES:
        stock = _own_player(role, own, players)
        if stock is None and typical is not None:
            stock = typical.workshop.stock_for(role)
            if not any(spoken(stock.name) == spoken(other.name) for other in own):
                lent[stock.name] = stock
        if stock is not None:
            players[role] = stock.name
    return players, lent


def _own_player(role: str, own: tuple[Stock, ...], players: Mapping[str, str]) -> Stock | None:
    """Return who claims the role, else who plays the role it follows, else the first of its kind.

    Nobody plays mats unasked: a plain paper is hardly meant to be one.
    """
    claiming = next((stock for stock in own if role in stock.roles), None)
    if claiming or role == "mats":
        return claiming
    leader = players.get(ROLES[role].follows, "")
    following = next((stock for stock in own if stock.name == leader), None)
    usual = ROLES[role].kinds[0]
    return following or next((stock for stock in own if stock.kind is usual), None)


def _lent_words(players: Mapping[str, str], lent: Mapping[str, Stock]) -> Iterable[str]:
    for stock in lent.values():
        roles = ", ".join(role for role, name in players.items() if name == stock.name)
        thick = caliper_words(stock.caliper)
        yield f"{roles}: none of yours is listed; typical {stock.name}, {thick} thick, is assumed"

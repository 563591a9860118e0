"""Reading the stocks of a workshop file: ``[papers."cream cardstock"]`` and the like."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal
from ..fields import Field, Kind, name_of_kind, take
from ..lengths import Length, Unit, number_of
from .entries import Entry, amount, table_at
from .materials import Material, caliper_by_weight, material_named
from .roles import roles_of
from .sizes import Size
from .stock import PLAUSIBLE, Grain, Printed, Sheet, Stock, StockKind, caliper_words
from .weights import parse_weight, thickness_of

GRAIN_WORDS = ("long", "short", "up", "across", "none")
MOST_SHEETS = 100_000  #: of one size that a person has
MAX_NAME = 60  #: characters in the name of a stock

_SAME_FOR_ALL = (
    Field("roles", Kind.LIST),
    Field("like", Kind.TEXT),
    Field("caliper", Kind.SIZE),
    Field("weight", Kind.TEXT),
    Field("bulk", Kind.NUMBER),
    Field("grain", Kind.TEXT, words=GRAIN_WORDS),
    Field("sheets", Kind.LIST),
)
_FIELDS_OF_PRINTABLE = (
    *_SAME_FOR_ALL,
    Field("printed", Kind.TEXT, words=tuple(word.value for word in Printed)),
    Field("one_way_up", Kind.FLAG),
    Field("stripes", Kind.FLAG),
)
FIELDS: dict[StockKind, tuple[Field, ...]] = {
    StockKind.PAPER: _FIELDS_OF_PRINTABLE,
    StockKind.BOARD: _SAME_FOR_ALL,
    StockKind.REINFORCING: _SAME_FOR_ALL,
    StockKind.COVERING: _FIELDS_OF_PRINTABLE,
}
SHEET_FIELDS = (
    Field("size", Kind.TEXT, required=True, help='Write size = "12 x 12" or size = "A4".'),
    Field("grain", Kind.TEXT, words=GRAIN_WORDS),
    Field("price", Kind.NUMBER),
    Field("have", Kind.WHOLE),
)
MEASURE = "measure yours"


@dataclass(frozen=True)
class _Caliper:
    """A thickness, and why it is only typical; the reason is empty for a measured one."""

    length: Length
    reason: str = ""


def read_stock(
    place: Place, name: str, value: Any, kind: StockKind, units: Unit | None, typical: Stock | None
) -> Stock | None:
    """Return the stock that the table at *place* describes; None when it is no table.

    What it leaves out comes from the materials of data/materials.toml, then from
    *typical*; the stock's notes say so.
    """
    if take(place, value, Kind.TABLE) is None:
        return None
    _check_name(place, name)
    entry = Entry(table_at(place, value, FIELDS[kind], units))
    like = _like(entry, kind)
    weight = _weight(entry, like)
    caliper = _caliper(entry, kind, weight, like, typical)
    sheets, notes = _sheets(entry, typical)
    if caliper.reason:
        notes = (f"{caliper_words(caliper.length)} thick, {caliper.reason}", *notes)
    return Stock(
        name=name,
        kind=kind,
        caliper=caliper.length,
        caliper_is_typical=bool(caliper.reason),
        grammage_gsm=weight,
        sheets=sheets,
        printed=Printed(entry.word("printed")) if entry.says("printed") else Printed.NONE,
        is_one_way_up=entry.says("one_way_up") and entry.flag("one_way_up"),
        roles=_roles(entry, kind),
        notes=tuple(f"{name}: {note}" for note in notes),
        is_striped=entry.says("stripes") and entry.flag("stripes"),
    )


def _check_name(place: Place, name: str) -> None:
    if not name.strip() or len(name) > MAX_NAME or not name.isprintable():
        place.report_key("bad-name", f"a name has 1 to {MAX_NAME} characters that can be printed")


def _like(entry: Entry, kind: StockKind) -> Material | None:
    if not entry.says("like"):
        return None
    return entry.read("like", lambda value, units: material_named(value, kind), None)


def _weight(entry: Entry, like: Material | None) -> Fraction | None:
    if entry.says("weight"):
        return entry.read("weight", lambda value, units: parse_weight(value), None)
    return like.grammage_gsm if like else None


def _caliper(
    entry: Entry,
    kind: StockKind,
    weight: Fraction | None,
    like: Material | None,
    typical: Stock | None,
) -> _Caliper:
    """Return the best that is known: measured, then computed, then like others."""
    if entry.says("caliper"):
        return _Caliper(entry.caliper("caliper", *PLAUSIBLE[kind]))
    if entry.says("bulk"):
        return _by_bulk(entry, kind, weight)
    if like:
        return _Caliper(like.caliper, f"typical of {like.name!r} ({like.source}); {MEASURE}")
    by_weight = caliper_by_weight(weight, kind) if weight else None
    if by_weight:
        caliper, row = by_weight
        return _Caliper(caliper, f"by its weight and the bulk of {row.name!r}; {MEASURE}")
    if typical:
        return _Caliper(typical.caliper, f"as thick as the typical {typical.name}; {MEASURE}")
    entry.own.place.report_key("missing", "'caliper' is missing")
    return _Caliper(PLAUSIBLE[kind][1])


def _by_bulk(entry: Entry, kind: StockKind, weight: Fraction | None) -> _Caliper:
    """Return the thickness by weight and bulk (ISO 534)."""
    if weight is None:
        place = entry.own.place / "bulk"
        place.report_key("missing", "a bulk needs a weight beside it", 'Add weight = "216 g/m2".')
        return _Caliper(PLAUSIBLE[kind][1])
    thickest = PLAUSIBLE[kind][1]
    bulk = entry.read("bulk", lambda value, units: number_of(value), Fraction(1))
    caliper = thickness_of(bulk, weight)
    if not PLAUSIBLE[kind][0] <= caliper <= thickest:
        place = entry.own.place / "bulk"
        place.report("out-of-range", f"makes the stock {caliper_words(caliper)} thick")
    return _Caliper(caliper, f"computed from its weight and bulk; {MEASURE}")


def _roles(entry: Entry, kind: StockKind) -> tuple[str, ...]:
    if not entry.says("roles"):
        return ()
    place = entry.own.place / "roles"
    return tuple(
        role
        for index, role in enumerate(entry.own.values["roles"])
        if _is_role(place / index, role, kind)
    )


def _is_role(place: Place, role: object, kind: StockKind) -> bool:
    if take(place, role, Kind.TEXT) is None:
        return False
    playable = roles_of(kind)
    if role in playable:
        return True
    place.report(
        "unknown-word", f"{role!r} is no role of {kind.value}; there are {', '.join(playable)}"
    )
    return False


def _sheets(entry: Entry, typical: Stock | None) -> tuple[tuple[Sheet, ...], tuple[str, ...]]:
    """Return the sheets, and notes on what of them is assumed."""
    place, units = entry.own.place, entry.own.units
    grain = entry.word("grain") if entry.says("grain") else ""
    if not entry.own.values.get("sheets"):
        return _typical_sheets(place, grain, typical)
    listed = entry.own.values["sheets"]
    read = [_sheet(place / "sheets" / n, row, grain, units) for n, row in enumerate(listed)]
    is_told = all(isinstance(row, dict) and "grain" in row for row in listed)
    notes = (
        () if grain or is_told else ("its grain is taken to run along the longer side; find yours",)
    )
    return tuple(sheet for sheet in read if sheet), notes


def _typical_sheets(
    place: Place, grain: str, typical: Stock | None
) -> tuple[tuple[Sheet, ...], tuple[str, ...]]:
    if typical is None:
        place.report_key("missing", "'sheets' is missing")
        return (), ()
    sheets = typical.sheets
    if grain:
        sheets = tuple(replace(s, grain=grain_along(grain, s.size)) for s in sheets)
    return sheets, (f"sold in the sizes of the typical {typical.name}; list yours as sheets",)


def _sheet(place: Place, value: Any, grain: str, units: Unit | None) -> Sheet | None:
    """Return the sheet of one row: a size, or a table with size, grain and price."""
    if isinstance(value, str):
        value = {"size": value}
    if not isinstance(value, dict):
        words = f"expected a size in quotes or a table with one, got {name_of_kind(value)}"
        place.report("wrong-kind", words)
        return None
    entry = Entry(table_at(place, value, SHEET_FIELDS, units))
    if not entry.says("size"):
        return None
    size = entry.size("size")
    word = entry.word("grain") if entry.says("grain") else grain or "long"
    price = entry.read("price", amount, None) if entry.says("price") else None
    have = entry.read("have", _number_of_sheets, None) if entry.says("have") else None
    return Sheet(size, grain_along(word, size), price, have)


def _number_of_sheets(value: int, units: Unit | None) -> int:
    if not 1 <= value <= MOST_SHEETS:
        raise Refusal(
            "out-of-range",
            f"{value} is outside 1 to {MOST_SHEETS} sheets",
            "Leave a size out that you have none of.",
        )
    return value


def grain_along(word: str, size: Size) -> Grain:
    """Return the way that ``long``, ``short``, ``up``, ``across`` or ``none`` means on *size*.

    On a square sheet long and short mean up: such a sheet can be turned.
    """
    if word in ("up", "across", "none"):
        return Grain(word)
    is_upright = size.up >= size.across
    return Grain.UP if is_upright == (word == "long") or size.up == size.across else Grain.ACROSS

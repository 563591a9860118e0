"""The book's own keys of a page: photo, mats, holds, bound, looks and note."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from ..documents import Place, Refusal
from ..fields import name_of_kind
from ..lengths import ZERO, Length, Unit, inches, millimetres
from ..sizes.values import choice_of, count_of, size_of, text_of, thickness_of, within
from ..workshop.sizes import Size
from .entries import Entries, Given, check_keys, check_present, entries_of, taken
from .request import Holds, Looks, Mats, PageEdge, PageRequest
from .words import Words

OWN_KEYS = ("kind", "photo", "mats", "holds", "bound", "looks", "note")
MOST_HELD = 100  #: things in one pocket
THICKEST = {"in": inches(4), "mm": millimetres(100)}
_NOTHING = Size(ZERO, ZERO)
_HOLDS_KEYS = ("what", "size", "thick", "count")
_EXAMPLE = 'Write holds = { what = "seed packet", size = "80 x 115", thick = 2 }.'
_EDGE_OF_SIDE = {
    "left": "spine or fore-edge",
    "right": "spine or fore-edge",
    "top": "head",
    "bottom": "tail",
}


@dataclass(frozen=True)
class Context:
    """What reading a page has to know of the rest of the book."""

    words: Words
    units: Unit
    mats: Mats  #: of pages that say nothing of mats


def page_request(
    number: int, kind: str, entries: Entries, context: Context, place: Place
) -> PageRequest:
    """Return the page that *entries* say; what is wrong with the book's own keys is reported."""
    units = context.units
    photo: Size | None = None
    return PageRequest(
        number,
        kind,
        given={key: given for key, given in entries.items() if key not in OWN_KEYS},
        photo=taken(entries, "photo", photo, partial(size_of, units=units)),
        mats=taken(entries, "mats", context.mats, partial(choice_of, choices=Mats)),
        holds=_holds(entries["holds"], units) if "holds" in entries else (),
        bound=taken(entries, "bound", PageEdge.SPINE, _bound),
        looks=taken(entries, "looks", Looks.MIDDLE, partial(choice_of, choices=Looks)),
        note=taken(entries, "note", "", text_of),
        place=place,
    )


def _bound(value: object) -> PageEdge:
    word = text_of(value).casefold()
    if word in _EDGE_OF_SIDE:
        message = f"a page has no {word} edge, but head, tail, spine and fore-edge"
        raise Refusal("side-of-page", message, f"Write {_EDGE_OF_SIDE[word]}.")
    return choice_of(word, PageEdge)


def _holds(given: Given, units: Unit) -> tuple[Holds, ...]:
    """Return the things that one table, or each of a list of tables, says."""
    value, place = given.value, given.place
    if not isinstance(value, list):
        return _thing(place, value, units)
    if len(value) > MOST_HELD:
        place.report("out-of-range", f"more than {MOST_HELD} things in one page")
        return ()
    places = [(place / index).called(f"{place.field} {index + 1}") for index in range(len(value))]
    return tuple(
        thing for at, table in zip(places, value, strict=True) for thing in _thing(at, table, units)
    )


def _thing(place: Place, table: object, units: Unit) -> tuple[Holds, ...]:
    """Return the one thing that *table* says, or nothing where it does not say enough."""
    if not isinstance(table, dict):
        place.report("wrong-kind", f"expected a table, got {name_of_kind(table)}", _EXAMPLE)
        return ()
    entries = entries_of(place, table, place.field)
    check_keys(entries, _HOLDS_KEYS)
    check_present(place, entries, ("what", "size"))
    thick: Length | None = None
    thing = Holds(
        what=taken(entries, "what", "", text_of),
        size=taken(entries, "size", _NOTHING, partial(size_of, units=units)),
        thick=taken(entries, "thick", thick, _thickness(units)),
        count=taken(entries, "count", 1, partial(count_of, least=1, most=MOST_HELD)),
    )
    return (thing,) if thing.what and thing.size != _NOTHING else ()


def _thickness(units: Unit) -> Callable[[object], Length]:
    return lambda value: within(thickness_of(value, units), ZERO, THICKEST[units], units)

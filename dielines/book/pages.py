"""The pages of a book: their list, and what differs on every page of a kind or on one."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any

from ..documents import Place, Refusal, suggestion
from ..fields import Kind, is_kind, name_of_kind
from ..sizes.values import text_of
from .entries import SHOWN, Entries, Given, above_headers, entries_of, read, tables_of
from .listing import Listed, read_listing
from .page_keys import OWN_KEYS, Context, page_request
from .request import PageRequest
from .words import Words, name_of, spoken

SET_BY_BOOK = ("width", "height")  #: parameters of every page that the size of the book settles
_TakenTables = dict[str, dict[str, Given]]


def read_pages(root: Place, data: Mapping[str, Any], context: Context) -> tuple[PageRequest, ...]:
    """Return the pages whose kind is known, numbered as listed; what is wrong is reported."""
    listed = (
        read_listing(root / "pages", data["pages"], context.words)
        if "pages" in data
        else Listed((), is_complete=False)
    )
    every = _every_kind(root / "every", data.get("every", {}), context)
    single = _single_pages(root / "page", data.get("page", {}), listed)
    pages = [
        _page(number, kind, single.get(number, {}), every, context, root / "page" / str(number))
        for number, kind in enumerate(listed.kinds, start=1)
    ]
    return tuple(page for page in pages if page)


def _single_pages(place: Place, value: object, listed: Listed) -> dict[int, dict[str, Given]]:
    """Return the entries of each ``[page.N]``, by N."""
    pages = {}
    for key, table in tables_of(place, value, "[page.2]"):
        number = read((place / key).called(f"page {key[:SHOWN]}"), _page_number, key, listed)
        if number is not None:
            pages[number] = entries_of(place / key, table, f"page {number}")
    return pages


def _page_number(key: str, listed: Listed) -> int:
    if not re.fullmatch(r"[1-9][0-9]{0,5}", key):
        remedy = "Pages count from 1; what differs on the second stands under [page.2]."
        raise Refusal("not-a-page", f"{key[:SHOWN]!r} is not the number of a page", remedy)
    if listed.is_complete and int(key) > listed.last:
        raise Refusal("not-a-page", f"there is no page {key}; the last one is {listed.last}")
    return int(key)


def _every_kind(place: Place, value: object, context: Context) -> _TakenTables:
    """Return the entries of each ``[every.KIND]``, by the name of the kind."""
    tables: _TakenTables = {}
    for key, table in tables_of(place, value, '[every."top pocket"]'):
        label = f'every "{key[:SHOWN]}"'
        at = (place / key).called(label)
        kind = read(at, name_of, key, context.words.page_kinds, "page kind")
        entries = entries_of(place / key, table, label)
        if kind in tables:
            at.report_key("said-twice", f"{spoken(kind)!r} has another such table above")
        if "kind" in entries:
            message = "a table for all pages of a kind cannot change their kind"
            entries.pop("kind").place.report_key("unknown-key", message)
        _check(entries, kind, context)
        if kind is not None:
            tables[kind] = entries
        page_request(0, key, entries, context, at)
    return tables


def _page(
    number: int,
    listed_kind: str | None,
    own: Entries,
    every: Mapping[str, Entries],
    context: Context,
    place: Place,
) -> PageRequest | None:
    """Return page *number*: ``[page.N]`` goes before ``[every.KIND]``."""
    kind = _kind(own["kind"], context.words) if "kind" in own else listed_kind
    _check(own, kind, context)
    if kind is None:
        page_request(number, "", own, context, place)
        return None
    entries = {**every.get(kind, {}), **own}
    return page_request(number, kind, entries, context, place.called(f"page {number}"))


def _kind(given: Given, words: Words) -> str | None:
    return read(given.place, lambda: name_of(text_of(given.value), words.page_kinds, "page kind"))


def _check(entries: Entries, kind: str | None, context: Context) -> None:
    """Report what is wrong with *entries* of a page, whatever page they are for."""
    parameters = None if kind is None else context.words.page_kinds[kind]
    for key, given in entries.items():
        if key in SET_BY_BOOK:
            message = "the size of the book sets this for all pages alike"
            given.place.report_key("set-by-book", message, "Change 'size' instead.")
        elif key not in OWN_KEYS:
            _check_parameter(key, given, kind, parameters)


def _check_parameter(
    key: str, given: Given, kind: str | None, parameters: Collection[str] | None
) -> None:
    """Report a key that *kind* has not, or a value that no parameter can have."""
    if parameters is not None and key not in parameters:
        remedy = above_headers(key)
        hint = "" if remedy else suggestion(key, {*parameters, *OWN_KEYS} - {*SET_BY_BOOK})
        message = f"{spoken(kind or '')!r} has no {key[:SHOWN]!r}{hint}"
        given.place.report_key("unknown-key", message, remedy)
    elif isinstance(given.value, Decimal) and not given.value.is_finite():
        given.place.report("not-finite", f"{given.value} is not a finite number")
    elif not (is_kind(given.value, Kind.SIZE) or is_kind(given.value, Kind.FLAG)):
        got = name_of_kind(given.value)
        given.place.report("wrong-kind", f"expected a size, a word, true or false, got {got}")

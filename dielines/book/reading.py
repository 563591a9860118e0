"""Reading a book file into a request; all that is wrong with it is told at once."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path as FilePath

from ..documents import Document, Place, Refusal, read_book_document, suggestion
from ..errors import BookError, Defect
from ..lengths import ZERO, Unit
from ..sizes.values import choice_of, size_of, text_of
from ..workshop.sizes import Size
from .entries import BOOK_KEYS, Entries, Given, check_keys, entries_of, read, taken
from .page_keys import Context
from .pages import read_pages
from .request import BookRequest, Half, Mats, SizeKind, SizeRule
from .syntax_remedies import with_remedies
from .tables import read_ignore, read_make, read_paper, read_spine, read_usual
from .words import Words, name_of

KEYS = (*BOOK_KEYS, "page", "every", "usual", "spine", "paper", "make", "ignore")
REQUIRED = {
    "units": 'Write units = "in" or units = "mm".',
    "size": 'Write size = "photo 5 x 7", or the size of a page, board or sheet.',
    "binding": 'Write binding = "tab and channel".',
    "pages": 'Write pages = ["6 x flap"].',
}
UNIT_WORDS: dict[str, Unit] = {"in": "in", "mm": "mm"}
KINDS_OF_SIZE = {kind.value: kind for kind in SizeKind}
_SIZE = re.compile(r"([^\W\d_]+)\b[\s:=]*(.*)", re.DOTALL)
_NO_SIZE = Size(ZERO, ZERO)


def read_book(path: FilePath, words: Words) -> BookRequest:
    """Return what the book file at *path* asks for; raises BookError with all its faults."""
    request = read_request(book_document(path), words)
    request.document.settle()
    return request


def book_document(path: FilePath) -> Document:
    """Return the book file at *path*; raises BookError where it cannot be read as TOML."""
    try:
        return read_book_document(path)
    except BookError as problem:
        raise BookError(with_remedies(problem.faults, path)) from None


def read_request(document: Document, words: Words) -> BookRequest:
    """Return what *document* asks for; its faults stay there, for more to be added.

    What is faulty has its usual value in the request, or is left out of it. Raises
    BookError where units, size, binding or all pages are missing or faulty: then
    there is nothing to compose.
    """
    entries = _checked_top(document.root, entries_of(document.root, document.data))
    stated = _units(entries)
    request = _request(document, entries, stated or "in", words)
    if stated is None:
        _forget_ranges(document)
    if not (stated and request.size.sides.across and request.binding and request.pages):
        document.settle()
        raise Defect(f"{document.name}: nothing to compose, and no fault says why")
    return request


def _request(document: Document, entries: Entries, units: Unit, words: Words) -> BookRequest:
    """Return the request; without size, binding or pages where they are missing or faulty."""
    root = document.root
    data = {key: given.value for key, given in entries.items()}
    no_size = SizeRule(SizeKind.PAGE, _NO_SIZE, root)
    mats = taken(entries, "mats", Mats.NONE, partial(choice_of, choices=Mats))
    copies, spares = read_make(root / "make", data.get("make", {}))
    return BookRequest(
        title=taken(entries, "title", FilePath(document.name).stem or "book", text_of),
        units=units,
        size=_size(entries["size"], units) or no_size if "size" in entries else no_size,
        binding=taken(entries, "binding", "", partial(_binding, words=words)),
        pages=read_pages(root, data, Context(words, units, mats)),
        usual=read_usual(root / "usual", data.get("usual", {}), units),
        spine=read_spine(root / "spine", data.get("spine", {}), units),
        extra_page=taken(entries, "extra_page", Half.FRONT, partial(choice_of, choices=Half)),
        paper=read_paper(root / "paper", data.get("paper", {}), words),
        copies=copies,
        spares=spares,
        ignored=read_ignore(root / "ignore", data.get("ignore", {}), words),
        document=document,
    )


def _checked_top(root: Place, entries: Entries) -> Entries:
    """Return *entries* less those that no book has; what is too much or too little is reported."""
    misplaced = {key: given for key, given in entries.items() if _is_size(key, given)}
    others = {key: given for key, given in entries.items() if key not in misplaced}
    check_keys(others, KEYS)
    for key, given in misplaced.items():
        remedy = f'Write size = "{key} {given.value}".'[:200]
        given.place.report_key("size-as-key", f"{key!r} is no key of a book", remedy)
    for key, remedy in REQUIRED.items():
        if key not in entries and not (key == "size" and misplaced):
            root.report_key("missing", f"{key!r} is missing", remedy)
    return others


def _is_size(key: str, given: Given) -> bool:
    """Whether someone wrote ``photo = "5 x 7"`` instead of ``size = "photo 5 x 7"``."""
    return key in KINDS_OF_SIZE and isinstance(given.value, str)


def _units(entries: Entries) -> Unit | None:
    return (
        read(entries["units"].place, _unit, entries["units"].value) if "units" in entries else None
    )


def _unit(value: object) -> Unit:
    word = value.strip().casefold() if isinstance(value, str) else ""
    if word not in UNIT_WORDS:
        raise Refusal("unknown-unit", "neither in nor mm", REQUIRED["units"])
    return UNIT_WORDS[word]


def _size(given: Given, units: Unit) -> SizeRule | None:
    return read(given.place, lambda: SizeRule(*kind_and_sides(given.value, units), given.place))


def kind_and_sides(value: object, units: Unit) -> tuple[SizeKind, Size]:
    """Return what "photo 5 x 7" says."""
    match = _SIZE.fullmatch(text_of(value))
    kind = match and KINDS_OF_SIZE.get(match[1].casefold())
    if not match or not kind:
        word = match[1] if match else ""
        hint = suggestion(word.casefold(), KINDS_OF_SIZE)
        message = f"this does not say whether it is the size of a photo, page, board or sheet{hint}"
        raise Refusal("kind-of-size", message, "" if hint else REQUIRED["size"])
    if any(re.search(rf"\b{word}\b", match[2], re.IGNORECASE) for word in KINDS_OF_SIZE):
        raise Refusal("two-sizes", "exactly one size drives all others", "Leave one of them out.")
    return kind, size_of(match[2], units)


def _binding(value: object, words: Words) -> str:
    return name_of(text_of(value), words.bindings, "binding")


def _forget_ranges(document: Document) -> None:
    """Drop faults that say that a number is too small or large, while its unit is unknown."""
    document.faults[:] = [fault for fault in document.faults if fault.code != "out-of-range"]

"""What a binding refuses, told at the line of the book that is behind it."""

from __future__ import annotations

from collections import deque

from ..bindings.frame import SizesRefused
from ..bindings.pages import PagesRefused
from ..documents import Place
from ..sizes.reasons import Reasons
from ..sizes.usual import Origin
from .listing import times_of
from .page_size import SAYS
from .request import BookRequest, PageRequest
from .words import spoken


def report_sizes(request: BookRequest, reasons: Reasons, refused: SizesRefused) -> None:
    """Report sizes that a part of the binding or the case cannot have.

    What follows from nothing that the book says is left out where something else
    does: it was refused because of that.
    """
    found = [(said_size(name, reasons), refusal) for name, refusal in refused.refusals]
    for said, refusal in [(s, r) for s, r in found if s] or found:
        message = f"{refused.words}: {refusal.message}"
        place_of_size(request, said).report(refusal.code, message, refusal.remedy)


def report_pages(request: BookRequest, refused: PagesRefused) -> None:
    """Report pages that a binding cannot hold."""
    for page in request.pages:
        if page.number in refused.problems:
            place = place_of_page(request, page)
            place.report("cannot-be-bound", refused.problems[page.number])


def said_size(name: str, reasons: Reasons) -> str:
    """Return the size that the book itself says and from which *name* follows most directly.

    Empty where it follows from none.
    """
    waiting, seen = deque([name]), {name}
    while waiting:
        reason = reasons.by_name.get(waiting.popleft())
        if reason is None:
            continue
        if reason.source == SAYS:
            return reason.name
        new = [other for other in reason.inputs if other not in seen]
        seen.update(new)
        waiting.extend(new)
    return ""


def place_of_size(request: BookRequest, name: str) -> Place:
    """Return where the book says a size: under usual, for the spine, or as the size of all."""
    root = request.document.root
    if name in request.usual.rows and request.usual[name].origin is Origin.BOOK:
        return (root / "usual" / name).called(f"usual: {name}")
    if name == "spine":
        return (root / "spine" / "width").called("spine: width")
    return request.size.place


def place_of_page(request: BookRequest, page: PageRequest) -> Place:
    """Return where the book speaks of a page: its own table, else its entry in the list."""
    if page.place.keys in request.document.positions:
        return page.place
    return Place(request.document, ("pages", _entry_of(request, page)), page.place.label)


def place_of_key(request: BookRequest, page: PageRequest, key: str) -> Place:
    """Return where the book says one of its own keys of a page: for it, or for all of its kind."""
    label = f"page {page.number}: {key}"
    places = [(*page.place.keys, key)]
    for kind in request.document.data.get("every", {}):
        if spoken(kind) == spoken(page.kind):
            places.append(("every", kind, key))
    known = request.document.positions
    found = next((place for place in places if place in known), None)
    if found is None:
        return place_of_page(request, page).called(label)
    return Place(request.document, found, label)


def _entry_of(request: BookRequest, page: PageRequest) -> int:
    """Return which entry of the list of pages stands for *page*."""
    first = 1
    for index, entry in enumerate(request.document.data["pages"]):
        first += times_of(entry)[0]
        if page.number < first:
            return index
    return 0

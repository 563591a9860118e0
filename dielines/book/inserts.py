"""Inserts: what a page holds, where that is something that a template makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from ..bindings.bound import BoundPart
from ..bindings.frame import values_of
from ..documents import Place, Refusal
from ..errors import TemplateError
from ..language.building import ArgumentRefused, build
from ..language.library import Library
from .refusals import place_of_key
from .request import BookRequest, Holds, PageRequest

ROLE = "inserts"


def insert_parts(
    request: BookRequest, library: Library, calipers: Mapping[str, Fraction]
) -> Iterator[BoundPart]:
    """Yield the parts of all inserts, page by page; what cannot be made is reported."""
    for page in request.pages:
        for index, thing in enumerate(page.holds, 1):
            if is_insert(thing, library):
                place = place_of_key(request, page, "holds")
                yield from _insert(page, index, thing, library, calipers, place)


def is_insert(thing: Holds, library: Library) -> bool:
    """Return whether a template makes the thing: a tag is made, a seed packet is bought."""
    name = template_name(thing)
    return name in library.names() and library.find(name).kind == "insert"


def template_name(thing: Holds) -> str:
    """Return the name that a template of the thing would have."""
    return "-".join(thing.what.lower().replace("-", " ").split())


def _insert(
    page: PageRequest,
    index: int,
    thing: Holds,
    library: Library,
    calipers: Mapping[str, Fraction],
    place: Place,
) -> Iterator[BoundPart]:
    template = library.find(template_name(thing))
    sizes = values_of({"width": thing.size.across, "height": thing.size.up})
    try:
        built = build(template, sizes, calipers)
    except ArgumentRefused as refused:
        for name, refusal in refused.refusals:
            _report(place, name, refusal)
        return
    except TemplateError as problem:
        place.report("impossible", f"{thing.what}: {problem.faults[0].message}")
        return
    for number in range(1, thing.count + 1):
        for part in built.parts:
            key = f"insert-{page.number}-{index}-{number}-{part.name.replace('_', '-')}"
            role = "reinforcement" if part.stock == "reinforcing" else ROLE
            yield BoundPart(key, f"{thing.what} for page {page.number}", part, role)


def _report(place: Place, name: str, refusal: Refusal) -> None:
    place.report(refusal.code, f"{name}: {refusal.message}", refusal.remedy)

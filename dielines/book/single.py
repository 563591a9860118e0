"""The parts of one template by themselves, in sizes that a person gives."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NoReturn

from ..bindings.bound import BoundPart
from ..documents import Refusal
from ..errors import UsageError
from ..language.building import ArgumentRefused, Graft, build, build_fragment
from ..language.library import Library
from ..language.parameters import Parameter
from ..language.settings import LENGTH_OF_EDGE
from ..language.taking import given_value
from ..language.template import Template
from ..lengths import Length, Unit, parse_length
from ..part import Part
from ..workshop.roles import ROLE_OF_STOCK
from ..workshop.workshop import Workshop
from .book import BookPart
from .letters import lettered
from .words import TAPE

USUAL_EDGE: Mapping[Unit, str] = {"in": "6 in", "mm": "150 mm"}


def single_parts(
    template: Template,
    given: Mapping[str, str],
    workshop: Workshop,
    units: Unit | None = None,
    fragment: Template | None = None,
) -> tuple[BookPart, ...]:
    """Return the parts of *template*, each as often as it says, with *given* sizes as text.

    Sizes of a *fragment* that is grafted onto its bound edge are called
    ``cover-tab.tab``. A bare number counts in *units*, without them in those of
    the template. Raises UsageError with all sizes that cannot be taken.
    """
    front = f"{fragment.name}." if fragment else "."
    others = {name.removeprefix(front): text for name, text in given.items() if front in name}
    own = {name: text for name, text in given.items() if front not in name}
    try:
        parts = _parts(template, own, fragment, others, workshop, units)
    except ArgumentRefused as refused:
        _refuse(refused.template, refused.refusals)
    return tuple(_entries(template, parts, workshop))


def _parts(
    template: Template,
    own: Mapping[str, str],
    fragment: Template | None,
    others: Mapping[str, str],
    workshop: Workshop,
    units: Unit | None,
) -> Sequence[Part]:
    calipers = {name: workshop.stock_for(role).caliper.mm for name, role in ROLE_OF_STOCK.items()}
    calipers[TAPE] = workshop.tape.thickness.mm
    if template.kind == "fold":
        raise UsageError(f"{template.name} is no part by itself; name it behind --with")
    if template.kind == "edge":
        sizes = {name: text for name, text in own.items() if name != LENGTH_OF_EDGE}
        edge = _edge(own, units or template.units or "mm")
        return build_fragment(Graft(template, _values(template, sizes, units)), edge.mm, calipers)
    graft = Graft(fragment, _values(fragment, others, units)) if fragment else None
    return build(template, _values(template, own, units), calipers, graft).parts


def _edge(own: Mapping[str, str], units: Unit) -> Length:
    """Return the length of the edge that a fragment alone is made for."""
    return parse_length(own.get(LENGTH_OF_EDGE, USUAL_EDGE[units]), units)


def _values(template: Template, given: Mapping[str, str], units: Unit | None) -> dict[str, object]:
    """Return what is given as values; unknown names stay as they are, for the template to refuse."""
    known = {parameter.name: parameter for parameter in template.parameters}
    values: dict[str, object] = {}
    refusals = []
    for name, text in given.items():
        try:
            values[name] = _value(known[name], text, units, template) if name in known else text
        except Refusal as refusal:
            refusals.append((name, refusal))
    if refusals:
        _refuse(template.name, refusals)
    return values


def _value(parameter: Parameter, text: str, units: Unit | None, template: Template) -> object:
    return given_value(parameter, text, units or template.units)


def _refuse(template: str, refusals: Sequence[tuple[str, Refusal]]) -> NoReturn:
    lines = [
        f"{template}: {name}: {refusal.message}" + (f". {refusal.remedy}" if refusal.remedy else "")
        for name, refusal in refusals
    ]
    raise UsageError("\n".join(lines))


def _entries(template: Template, parts: Sequence[Part], workshop: Workshop) -> Iterator[BookPart]:
    bound = [entry for part in parts for entry in _copies(template, part)]
    for entry, letter in zip(bound, lettered(bound), strict=True):
        stock = workshop.stock_for(entry.role)
        yield BookPart(entry.key, entry.title, letter, entry.part, entry.role, stock)


def _copies(template: Template, part: Part) -> Iterator[BoundPart]:
    """Yield a part as often as its template says; it keeps its key where it is alone."""
    role = ROLE_OF_STOCK.get(part.stock, "pages")
    title = f"{template.words}: {part.name.replace('_', ' ')}"
    for number in range(1, part.quantity + 1):
        key = part.name.replace("_", "-") + (f"-{number}" if part.quantity > 1 else "")
        yield BoundPart(key, title, replace(part, quantity=1), role)


def fragment_named(name: str, library: Library) -> Template:
    """Return the template called *name*, which can be grafted onto another; raises UsageError."""
    template = library.find(name)
    if template.kind not in ("edge", "fold"):
        raise UsageError(f"{template.name} is nothing that a binding adds to a page")
    return template

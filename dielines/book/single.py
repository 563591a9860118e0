"""The parts of one template by themselves, in sizes that a person gives."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..bindings.bound import BoundPart
from ..documents import Refusal
from ..errors import UsageError
from ..language.building import ArgumentRefused, Graft, build, build_fragment
from ..language.library import Library
from ..language.settings import LENGTH_OF_EDGE
from ..language.taking import given_value
from ..language.template import Template
from ..lengths import Length, Unit, millimetres, parse_length
from ..part import Part
from ..workshop.roles import ROLE_OF_STOCK
from ..workshop.workshop import Workshop
from .book import BookPart
from .letters import lettered
from .words import TAPE

SHORTEST_EDGE, LONGEST_EDGE = millimetres(5), millimetres(1500)
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
    front = f"{fragment.name}." if fragment else None
    others = {
        n.removeprefix(front): text for n, text in given.items() if front and n.startswith(front)
    }
    own = {n: text for n, text in given.items() if not (front and n.startswith(front))}
    values, refusals = _values(template, own, units)
    graft = None
    if fragment is not None:
        more, refused_more = _values(fragment, others, units)
        graft, refusals = Graft(fragment, more), refusals + refused_more
    try:
        parts = _parts(template, values, graft, workshop, units)
    except ArgumentRefused as refused:
        refusals += [(f"{refused.template}: {name}", why) for name, why in refused.refusals]
        parts = ()
    if refusals:
        raise UsageError("\n".join(_told(name, refusal) for name, refusal in refusals))
    return tuple(_entries(template, parts, workshop))


def _told(name: str, refusal: Refusal) -> str:
    return f"{name}: {refusal.message}" + (f". {refusal.remedy}" if refusal.remedy else "")


def _parts(
    template: Template,
    values: dict[str, object],
    graft: Graft | None,
    workshop: Workshop,
    units: Unit | None,
) -> Sequence[Part]:
    calipers = {name: workshop.stock_for(role).caliper.mm for name, role in ROLE_OF_STOCK.items()}
    calipers[TAPE] = workshop.tape.thickness.mm
    if template.kind == "fold":
        raise UsageError(f"{template.name} is no part by itself; name it behind --with")
    if template.kind == "edge":
        edge = _edge(values.pop(LENGTH_OF_EDGE, None), units or template.units or "mm")
        return build_fragment(Graft(template, values), edge.mm, calipers)
    return build(template, values, calipers, graft).parts


def _edge(given: object, units: Unit) -> Length:
    """Return the length of the edge that a fragment alone is made for."""
    length = parse_length(USUAL_EDGE[units] if given is None else str(given), units)
    if not SHORTEST_EDGE <= length <= LONGEST_EDGE:
        raise UsageError(f"{LENGTH_OF_EDGE}: an edge is from 5 mm to 1500 mm long")
    return length


def _values(
    template: Template, given: Mapping[str, str], units: Unit | None
) -> tuple[dict[str, object], list[tuple[str, Refusal]]]:
    """Return what is given as values, and what cannot be one.

    Names that are unknown stay as they are, for the template to refuse.
    """
    known = {parameter.name: parameter for parameter in template.parameters}
    values: dict[str, object] = {}
    refusals = []
    for name, text in given.items():
        try:
            is_known = name in known
            values[name] = (
                given_value(known[name], text, units or template.units) if is_known else text
            )
        except Refusal as refusal:
            refusals.append((f"{template.name}: {name}", refusal))
    return values, refusals


def _entries(template: Template, parts: Sequence[Part], workshop: Workshop) -> Iterator[BookPart]:
    def title(part: Part) -> str:
        more = f": {part.name.replace('_', ' ')}" if len(parts) > 1 else ""
        return f"{template.words}{more}"

    bound = [entry for part in parts for entry in _copies(title(part), part)]
    for entry, letter in zip(bound, lettered(bound), strict=True):
        stock = workshop.stock_for(entry.role)
        yield BookPart(entry.key, entry.title, letter, entry.part, entry.role, stock)


def _copies(title: str, part: Part) -> Iterator[BoundPart]:
    """Yield a part as often as its template says; it keeps its key where it is alone."""
    role = ROLE_OF_STOCK.get(part.stock, "pages")
    for number in range(1, part.quantity + 1):
        key = part.name.replace("_", "-") + (f"-{number}" if part.quantity > 1 else "")
        yield BoundPart(key, title, replace(part, quantity=1), role)


def fragment_named(name: str, library: Library) -> Template:
    """Return the template called *name*, which can be grafted onto another; raises UsageError."""
    template = library.find(name)
    if template.kind not in ("edge", "fold"):
        raise UsageError(f"{template.name} is nothing that a binding adds to a page")
    return template

"""From a template and sizes to flat parts: every fault at once, every part checked by folding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from ..documents import Document
from ..lengths import Unit
from ..part import Part
from ..part_motion import LEFT_EDGE_TO, at_origin, moved
from .fold_grafts import FoldGraft
from .grafts import bound_length, check_fragment, grafted, renamed_covers
from .joins import TemplateJoin, joins_of
from .parameters import Resolved
from .part_building import parts_of
from .settings import LENGTH_OF_EDGE, fragment_of, told
from .sites import ArgumentRefused, Site, site_of
from .values import length
from .written_template import Template

__all__ = [
    "ArgumentRefused", "Built", "Graft", "build", "build_fragment", "rehearse", "with_graft",
]  # fmt: skip


@dataclass(frozen=True)
class Graft:
    """A fragment with the sizes that a binding gives it."""

    template: Template
    arguments: Mapping[str, object] = field(default_factory=dict)
    units: Unit | None = None  #: in which what is refused is told; None: the template's own


@dataclass(frozen=True)
class Built:
    """What a template makes: its parts, the joins between them, and its values."""

    template: Template
    parts: tuple[Part, ...]
    joins: tuple[TemplateJoin, ...]
    resolved: Resolved

    def part(self, name: str) -> Part:
        """Return the part called *name*; raises KeyError."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)


#: mm; how long the bound edge is taken to be where a fragment is looked at by itself
_EDGE_TO_REHEARSE = Fraction(100)


def build(
    template: Template,
    arguments: Mapping[str, object],
    calipers: Mapping[str, Fraction],
    graft: Graft | None = None,
    argument_units: Unit | None = None,
) -> Built:
    """Return the parts that *template* makes with these *arguments*.

    *calipers* gives the thickness of each stock role, mm; bare numbers among the
    arguments count in *argument_units*. Raises TemplateError
    with all faults of the file, ArgumentRefused for sizes it does not take.
    """
    document = template.fresh_document()
    site = site_of(template, document, arguments, calipers, {}, argument_units)
    parts, joins = _made(site, _fold_graft(graft, calipers))
    site.settle()
    built = Built(template, told(parts, template, site.scope.names), joins, site.resolved)
    return with_graft(built, graft, calipers) if graft and graft.template.kind == "edge" else built


def _made(
    site: Site, fold_graft: FoldGraft | None = None
) -> tuple[tuple[Part, ...], tuple[TemplateJoin, ...]]:
    """Return parts and joins, all checked; faults are left in the site's document."""
    root = site.document.root
    parts = parts_of(site, fold_graft)
    joins: tuple[TemplateJoin, ...] = ()
    if not site.document.faults:
        joins = joins_of(root / "joins", site.template.joins, site.scope, parts, site.work)
    return parts, joins


def _fold_graft(graft: Graft | None, calipers: Mapping[str, Fraction]) -> FoldGraft | None:
    if graft is None or graft.template.kind != "fold":
        return None
    return FoldGraft(graft.template, graft.arguments, calipers, graft.units)


def rehearse(template: Template, document: Document, calipers: Mapping[str, Fraction]) -> None:
    """Add to *document* what building *template* as it is would tell; it has faults already."""
    outer = {} if template.kind == "page" else {LENGTH_OF_EDGE: length(_EDGE_TO_REHEARSE)}
    site = site_of(template, document, {}, calipers, outer)
    _made(site)
    site.settle()


def with_graft(built: Built, graft: Graft, calipers: Mapping[str, Fraction]) -> Built:
    """Return *built* with a fragment grafted onto its bound part; its other parts come last.

    Raises TemplateError where the template has no bound edge or the fragment
    would lie on one of its panels.
    """
    document = built.template.fresh_document()
    page = next((part for part in built.parts if part.bound), None)
    if page is None or page.bound is None or page.bound.side == "fold":
        document.root.report("not-bound", "no part of this template has a bound edge")
        document.settle()
        return built
    fragment = build_fragment(graft, bound_length(page.bound), calipers)
    joined = page
    with (document.root / "parts" / page.name).collecting():
        joined = replace(grafted(page, fragment[0]), graft=fragment_of(fragment[0]))
    document.settle()
    motion = LEFT_EDGE_TO[page.bound.side]
    others = [renamed_covers(at_origin(moved(part, motion)), page) for part in fragment[1:]]
    parts = (*(joined if part is page else part for part in built.parts), *others)
    return replace(built, parts=parts)


def build_fragment(
    graft: Graft, edge_length: Any, calipers: Mapping[str, Fraction]
) -> tuple[Part, ...]:
    """Return the parts of a fragment for an edge of this length, as it was written: at the left.

    The first holds the fragment's place-holder of the page, as high as the edge.
    """
    template = graft.template
    document = template.fresh_document()
    outer = {LENGTH_OF_EDGE: length(Fraction(edge_length))}
    site = site_of(template, document, graft.arguments, calipers, outer, graft.units)
    parts, _ = _made(site)
    if not document.faults:
        check_fragment(document.root / "parts", parts, edge_length)
    site.settle()
    return told(parts, template, site.scope.names)

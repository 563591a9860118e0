"""Where a building stands: the file that it reports to, the values of its names, and its bound."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from ..documents import Document, Refusal
from ..lengths import Unit
from .expressions import Scope
from .parameters import Resolved, choice_words, resolve
from .values import Value, length
from .work import Work
from .written_template import Template


class ArgumentRefused(Exception):
    """Sizes that a template does not take; whoever gave them knows their place."""

    def __init__(self, template: str, refusals: Sequence[tuple[str, Refusal]]) -> None:
        """Keep each parameter's name with why its value is refused."""
        super().__init__("; ".join(f"{name}: {r.message}" for name, r in refusals))
        self.template = template
        self.refusals = tuple(refusals)


@dataclass(frozen=True)
class Site:
    """One building of a template with sizes; its faults gather in *document*."""

    template: Template
    document: Document
    resolved: Resolved
    scope: Scope
    calipers: Mapping[str, Fraction]
    work: Work = field(default_factory=Work)

    def scope_of_stock(self, role: str) -> Scope:
        """Return the scope inside a part of this stock, where ``caliper`` is known."""
        if role not in self.calipers:
            return self.scope
        caliper = {"caliper": length(self.calipers[role])}
        return replace(self.scope, names={**self.scope.names, **caliper})

    def settle(self) -> None:
        """Raise TemplateError when there are faults, without those that only follow from others."""
        failed = _declared(self.document) - self.scope.names.keys()
        unknown = tuple(f"unknown name {name!r}" for name in failed)
        faults = self.document.faults
        self.document.faults = [f for f in faults if not f.message.startswith(unknown)] or faults
        self.document.settle()


def site_of(
    template: Template,
    document: Document,
    arguments: Mapping[str, object],
    calipers: Mapping[str, Fraction],
    outer: Mapping[str, Value],
    argument_units: Unit | None = None,
) -> Site:
    """Return where *template* is built with *arguments*; raises ArgumentRefused.

    *calipers* are thicknesses of stock, mm, by role; *outer* are names that the
    place of a fragment gives. Faults of the template are left in *document*.
    """
    names = {**{f"{role}.caliper": length(mm) for role, mm in calipers.items()}, **outer}
    resolved = resolve(
        template.parameters,
        template.derived,
        arguments,
        names,
        template.units,
        document.root,
        argument_units,
    )
    if resolved.argument_refusals:
        raise ArgumentRefused(template.name, resolved.argument_refusals)
    words = choice_words(template.parameters)
    scope = Scope({**names, **resolved.values}, template.units, words)
    return Site(template, document, resolved, scope, calipers)


def _declared(document: Document) -> set[str]:
    """Return all names that the file means to give, those at fault included."""
    tables = [document.data.get(key) for key in ("parameters", "derived")]
    return {name for table in tables if isinstance(table, dict) for name in table}

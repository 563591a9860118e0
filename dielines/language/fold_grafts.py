"""What a fragment of kind fold does on the bound fold of a page: sewing holes, slots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..lengths import Unit
from ..part import Fragment
from .drafts import Draft, Flat
from .edit_lines import EditLine, done
from .lines import line_named
from .settings import LENGTH_OF_EDGE, settings_of
from .sites import site_of
from .values import length
from .written_template import Template

BOUND = "bound"  #: stands for the bound fold in the fragment's edits


@dataclass(frozen=True)
class FoldGraft:
    """A fragment of kind fold with the sizes that a binding gives it."""

    template: Template
    arguments: Mapping[str, object]
    calipers: Mapping[str, Fraction]
    units: Unit | None = None

    def grafted(self, draft: Draft, fold: str, flat: Flat) -> tuple[Draft, Fragment]:
        """Return *draft* with the fragment's edits done on *fold*, and what is kept of it.

        Raises TemplateError with the faults of the fragment, ArgumentRefused for
        sizes that it does not take, Refusal where *fold* is no straight line.
        """
        document = self.template.fresh_document()
        along = {LENGTH_OF_EDGE: length(Fraction(line_named(draft, flat, fold).length))}
        site = site_of(self.template, document, self.arguments, self.calipers, along, self.units)
        lines = [_on_fold(line, fold) for line in self.template.edits]
        edited = done(draft, document.root / "edits", lines, site.scope, flat)
        site.settle()
        settings = settings_of(self.template, site.scope.names)
        return edited, Fragment(self.template.name, self.template.version, settings)


def _on_fold(line: EditLine, fold: str) -> EditLine:
    fields: dict[str, Any] = {k: fold if v == BOUND else v for k, v in line.fields.items()}
    return replace(line, fields=fields)

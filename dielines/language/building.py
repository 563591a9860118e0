"""From a template and sizes to flat parts: every fault at once, every part checked by folding."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from ..documents import Document, Place, Refusal, beneath
from ..fields import Field, Kind, checked, is_kind, name_of_kind
from ..lengths import Unit
from ..part import Fragment, Part
from ..paths import Number
from .assembly import PartHead, assembled, refuse_loose
from .borders import borders_of
from .cellmap import names_said, read_map, repeat_count, scope_with
from .covers import cover_draft, read_cover
from .custom import read_custom
from .drafts import Draft, Flat, fold_sides, outlines_of
from .editing import apply_edits, holds, numbered_text, side_named
from .expressions import Scope, whole_of
from .folding_keys import parse_key, read_sayings, read_steps, rules_for
from .grafts import bound_length, grafted
from .joins import TemplateJoin, read_joins
from .landing_check import check_landings
from .lines import line_named
from .parameters import Resolved, resolve
from .settings import LENGTH_OF_EDGE, fragment_of, settings_of, told
from .template import Template
from .values import Value, length
from .wraps import read_wrap

_LAYOUTS = ("columns", "outline", "boards", "covers")
PART_FIELDS = (
    Field("stock", Kind.TEXT, help="The role of its material: cardstock, board, ..."),
    Field("grain", Kind.TEXT, words=("spine", "up", "across", "free")),
    Field("quantity", Kind.SIZE),
    Field("repeat", Kind.SIZE),
    Field("when", Kind.ANY),
    Field("bound", Kind.TEXT),
    Field("mouth", Kind.TABLE),
    Field("columns", Kind.LIST),
    Field("rows", Kind.LIST),
    Field("edits", Kind.LIST),
    Field("steps", Kind.LIST),
    Field("folds", Kind.TABLE),
    Field("covers", Kind.LIST),
    Field("lap", Kind.TABLE),
    Field("side", Kind.TEXT, words=("face", "reverse")),
    Field("turn_in", Kind.SIZE),
    Field("mitre", Kind.SIZE),
    Field("boards", Kind.LIST),
    Field("outline", Kind.LIST),
    Field("panels", Kind.TABLE),
    Field("lines", Kind.TABLE),
)


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


class ArgumentRefused(Exception):
    """Sizes that a template does not take; whoever gave them knows their place."""

    def __init__(self, template: str, refusals: Sequence[tuple[str, Refusal]]) -> None:
        """Keep each parameter's name with why its value is refused."""
        super().__init__("; ".join(f"{name}: {r.message}" for name, r in refusals))
        self.template = template
        self.refusals = tuple(refusals)


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
    resolved = _resolved(template, document, arguments, calipers, {}, argument_units)
    scope = _scope(template, resolved, calipers)
    on_fold = graft if graft and graft.template.kind == "fold" else None
    parts = tuple(_parts(template, document, scope, calipers, on_fold))
    document.settle()
    joins = read_joins(document.root / "joins", template.joins, scope, parts)
    document.settle()
    for part in parts:
        check_landings(document.root / "parts" / part.name, part)
    document.settle()
    built = Built(template, told(parts, template, scope.names), joins, resolved)
    return with_graft(built, graft, calipers) if graft and graft.template.kind == "edge" else built


def _resolved(
    template: Template,
    document: Document,
    arguments: Mapping[str, object],
    calipers: Mapping[str, Fraction],
    outer: Mapping[str, Value],
    argument_units: Unit | None = None,
) -> Resolved:
    names = {**_caliper_names(calipers), **outer}
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
    document.settle()
    return resolved


def _caliper_names(calipers: Mapping[str, Fraction]) -> dict[str, Value]:
    return {f"{role}.caliper": length(size) for role, size in calipers.items()}


def _scope(template: Template, resolved: Resolved, calipers: Mapping[str, Fraction]) -> Scope:
    choices = frozenset(word for p in template.parameters for word in p.choices)
    names = {**_caliper_names(calipers), **resolved.values}
    return Scope(names=names, units=template.units, choices=choices)


def _fragment_scope(
    graft: Graft, document: Document, edge_length: Number, calipers: Mapping[str, Fraction]
) -> Scope:
    """Return the names of a fragment for an edge or a fold of this length."""
    outer = {LENGTH_OF_EDGE: length(Fraction(edge_length))}
    resolved = _resolved(graft.template, document, graft.arguments, calipers, outer)
    scope = _scope(graft.template, resolved, calipers)
    return replace(scope, names={**scope.names, **outer})


def _parts(
    template: Template,
    document: Document,
    scope: Scope,
    calipers: Mapping[str, Fraction],
    on_fold: Graft | None,
) -> Iterable[Part]:
    made: list[Part] = []
    for name, table in template.parts.items():
        place = document.root / "parts" / name
        if not isinstance(table, dict):
            place.report("wrong-kind", f"expected a table, got {name_of_kind(table)}")
            continue
        with place.collecting():
            builder = _PartBuilder(template, place, table, calipers, on_fold)
            made.extend(builder.parts(name, scope, made))
    return made


@dataclass(frozen=True)
class _PartBuilder:
    template: Template
    place: Place
    table: Mapping[str, Any]
    calipers: Mapping[str, Fraction]
    on_fold: Graft | None  #: a fragment of kind fold

    def parts(self, name: str, scope: Scope, made: Sequence[Part]) -> list[Part]:
        """Return the part, or all of its repeats; faults are reported."""
        before = len(self.place.document.faults)
        fields = checked(self.place, self.table, PART_FIELDS)
        self._check_layout(fields)
        if len(self.place.document.faults) > before:
            return []
        if "repeat" not in fields:
            return self._one(name, fields, scope, made)
        with beneath("repeat"):
            count = repeat_count(self.place, fields["repeat"], scope)
        turns = [scope_with(scope, i=turn) for turn in range(1, count + 1)]
        return [p for s in turns for p in self._one(numbered_text(name, s), fields, s, made)]

    def _check_layout(self, fields: Mapping[str, Any]) -> None:
        layouts = [key for key in _LAYOUTS if key in fields]
        if len(layouts) != 1:
            told = ", ".join(_LAYOUTS)
            self.place.report_key("which-layout", f"a part has exactly one of {told}")

    def _one(
        self, name: str, fields: Mapping[str, Any], scope: Scope, made: Sequence[Part]
    ) -> list[Part]:
        scope = self._scope_with_caliper(fields, scope)
        if not holds(fields.get("when", True), scope):
            return []
        before = len(self.place.document.faults)
        draft, covered = self._draft(fields, scope, made)
        if draft is None:
            return []
        with self.place.collecting():
            refuse_loose(draft)
            draft = apply_edits(draft, self.place / "edits", fields.get("edits", []), scope)
            head = self._head(name, fields, scope, draft)
            draft, fragment = self._with_fold_edits(draft, head)
            if len(self.place.document.faults) == before:
                return [replace(assembled(draft, head), graft=fragment, **covered)]
        return []

    def _scope_with_caliper(self, fields: Mapping[str, Any], scope: Scope) -> Scope:
        role = fields.get("stock", "cardstock")
        if role not in self.calipers:
            return scope
        return replace(scope, names={**scope.names, "caliper": length(self.calipers[role])})

    def _draft(
        self, fields: Mapping[str, Any], scope: Scope, made: Sequence[Part]
    ) -> tuple[Draft | None, dict[str, Any]]:
        if "covers" in fields:
            if not made:
                raise Refusal("no-parts", "there is no part before this one to cover")
            cover = read_cover(self.place, fields, made[0], self._known(), scope)
            side = fields.get("side", "face")
            return cover_draft(made[0], cover), {
                "covers": cover.panels,
                "covers_side": type(made[0].covers_side)(side),
            }
        if "boards" in fields:
            return read_wrap(self.place, fields, scope), {}
        return self._panel_draft(fields, scope), {}

    def _known(self) -> frozenset[str]:
        """Return the panels that any part of the template speaks of."""
        tables = [table for table in self.template.parts.values() if isinstance(table, dict)]
        return frozenset().union(*(names_said(table.get("rows")) for table in tables))

    def _panel_draft(self, fields: Mapping[str, Any], scope: Scope) -> Draft | None:
        """Return the draft of a cell map or a custom outline, with what is said of its lines."""
        if "columns" in fields:
            cells = read_map(self.place, fields, scope)
            if cells is None:
                return None
            shapes, known = cells.shapes, cells.known
        else:
            custom = read_custom(self.place, fields, scope)
            if custom is None:
                return None
            shapes, known = custom, frozenset(custom)
        contacts = borders_of(outlines_of(shapes)).contacts
        folds = self.place / "folds"
        before = len(self.place.document.faults)
        sayings = read_sayings(folds, fields.get("folds", {}), scope)
        rules = rules_for(folds, sayings, contacts, shapes, known)
        steps = read_steps(self.place / "steps", fields.get("steps", []), rules, scope, known)
        if len(self.place.document.faults) > before:
            return None
        return Draft(shapes, known, rules, contacts, steps)

    def _head(self, name: str, fields: Mapping[str, Any], scope: Scope, draft: Draft) -> PartHead:
        with beneath("quantity"):
            quantity = whole_of(fields.get("quantity", 1), scope)
            if not 0 <= quantity <= 1000:
                raise Refusal("out-of-range", f"{quantity} is outside 0 to 1000")
        return PartHead(
            name=name,
            template=self.template.name,
            version=self.template.version,
            stock=fields.get("stock", "cardstock"),
            grain=fields.get("grain", "spine"),
            quantity=quantity,
            bound=_bound(draft, fields.get("bound", "")),
            mouths=_mouths(draft, fields.get("mouth", {})),
        )

    def _with_fold_edits(self, draft: Draft, head: PartHead) -> tuple[Draft, Fragment | None]:
        """Return *draft* with what a fragment does on its bound fold, and what is kept of that."""
        graft = self.on_fold
        if graft is None or head.bound is None or head.bound[1] != "fold":
            return draft, None
        fold, template = head.bound[0], graft.template
        document = template.fresh_document()
        fold_length = line_named(draft, Flat(draft), fold).length
        scope = _fragment_scope(graft, document, fold_length, self.calipers)
        entries = [_on_bound_fold(entry, fold) for entry in template.edits]
        edited = apply_edits(draft, document.root / "edits", entries, scope)
        document.settle()
        settings = settings_of(template, scope.names)
        return edited, Fragment(template.name, template.version, settings)


def _on_bound_fold(entry: object, fold: str) -> object:
    if not isinstance(entry, dict):
        return entry
    return {key: fold if value == "bound" else value for key, value in entry.items()}


def _bound(draft: Draft, text: str) -> tuple[str, str] | None:
    """Return the bound panel and side, or the bound fold, that ``bound`` names."""
    if not text:
        return None
    with beneath("bound"):
        if any(sign in text for sign in "|/"):
            key = parse_key(text)
            if key not in draft.rules:
                raise Refusal("no-contact", f"{text!r} is no line of this part")
            return str(key), "fold"
        panel, _, side = text.strip().partition(" ")
        draft.shape(panel)
        side_named(side)
        if side in fold_sides(draft, panel):
            raise Refusal("bound-folded", f"the {side} side of {panel!r} is folded, not free")
        return panel, side


def _mouths(draft: Draft, table: Mapping[str, Any]) -> dict[str, str]:
    mouths = {}
    for panel, side in table.items():
        with beneath("mouth", panel):
            if not draft.has_vanished(panel):
                draft.shape(panel)
            if not is_kind(side, Kind.TEXT):
                raise Refusal("wrong-kind", f"expected a side, got {name_of_kind(side)}")
            mouths[panel] = side_named(side)
    return mouths


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
    parts = (*(joined if part is page else part for part in built.parts), *fragment[1:])
    return replace(built, parts=parts)


def build_fragment(
    graft: Graft, edge_length: Any, calipers: Mapping[str, Fraction]
) -> tuple[Part, ...]:
    """Return the parts of a fragment for an edge of this length, as it was written: at the left."""
    template = graft.template
    document = template.fresh_document()
    scope = _fragment_scope(graft, document, edge_length, calipers)
    parts = tuple(_parts(template, document, scope, calipers, None))
    document.settle()
    return told(parts, template, scope.names)

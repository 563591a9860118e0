"""From the table of a part and sizes to flat parts; every fault is reported, with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..documents import Place, Refusal
from ..part import Part, Side
from .assembly import assembled, refuse_giant, refuse_loose
from .cellmap import read_map
from .covers import cover_draft, read_cover
from .custom import read_custom
from .drafts import Draft, Flat, borders_between
from .edit_lines import done
from .expressions import Scope
from .fold_grafts import FoldGraft
from .folding_keys import read_sayings, rules_for
from .landing_check import check_landings
from .part_heads import read_head
from .part_tables import PartTable
from .repeats import scopes_that_hold
from .row_cells import names_said
from .shapes import Shape
from .sites import Site
from .steps import read_steps
from .work import PANEL, PART
from .wraps import read_wrap


def parts_of(site: Site, fold_graft: FoldGraft | None = None) -> tuple[Part, ...]:
    """Return all parts without a fault; the others are told in the site's document."""
    made: list[Part] = []
    for table in site.template.tables:
        if not site.work.is_used_up:
            made.extend(_PartBuilder(site, table, tuple(made), fold_graft).parts())
    names = [part.name for part in made]
    for name in sorted({name for name in names if names.count(name) > 1}):
        told = f"two parts would be called {name!r}"
        (site.document.root / "parts" / name).report_key("twice", told, "Call one otherwise.")
    return tuple(made)


@dataclass(frozen=True)
class _PartBuilder:
    site: Site
    table: PartTable
    made: tuple[Part, ...]  #: those before it in the file
    fold_graft: FoldGraft | None

    @property
    def place(self) -> Place:
        """Where the part stands in the file."""
        return self.site.document.root / "parts" / self.table.name

    def parts(self) -> list[Part]:
        """Return the part, or all of its repeats up to the first with a fault."""
        scopes: list[Scope] = []
        with self.place.collecting():
            stock = self.table.fields.get("stock", "cardstock")
            scopes = scopes_that_hold(self.table.fields, self.site.scope_of_stock(stock))
        parts = []
        for scope in scopes:
            part = self._part(scope)
            if part is None:
                break
            parts.append(part)
        return parts

    def _part(self, scope: Scope) -> Part | None:
        before = len(self.site.document.faults)
        part = None
        with self.place.collecting():
            self.site.work.spend(PART + self.table.weight)
            draft = self._draft(scope)
            if draft is not None:
                part = self._finished(draft, scope, before)
        return part if len(self.site.document.faults) == before else None

    def _draft(self, scope: Scope) -> Draft | None:
        fields = self.table.fields
        match self.table.layout:
            case "covers":
                return self._cover_draft(scope)
            case "boards":
                return read_wrap(self.place, fields, scope, self.site.work)
            case "columns":
                cells = read_map(self.place, fields, scope, self.site.work)
                shapes, known = (cells.shapes, cells.known) if cells else (None, frozenset())
                return self._folded_draft(shapes, known, scope)
            case "outline":
                custom = read_custom(self.place, fields, scope, self.site.work)
                return self._folded_draft(custom, frozenset(custom or ()), scope)
            case _:
                return None

    def _cover_draft(self, scope: Scope) -> Draft | None:
        """Return the draft of a reinforcement of the first part, unless that one is at fault."""
        if self.table is self.site.template.tables[0]:
            raise Refusal("no-parts", "there is no part before this one to cover")
        if not self.made:
            return None
        said = [names_said(table.fields.get("rows")) for table in self.site.template.tables]
        known = frozenset().union(*said)
        cover = read_cover(self.place, self.table.fields, self.made[0], known, scope)
        self.site.work.spend(PANEL * len(cover.panels))
        return cover_draft(self.made[0], cover)

    def _folded_draft(
        self, shapes: Mapping[str, Shape] | None, known: frozenset[str], scope: Scope
    ) -> Draft | None:
        """Return the draft of panels with what is said of the lines between them.

        Where the panels are at fault, what is said is looked at all the same.
        """
        folds = self.place / "folds"
        before = len(self.site.document.faults)
        sayings = read_sayings(folds, self.table.fields.get("folds", {}), scope)
        if shapes is None or not self.table.is_sound:
            return None
        work = self.site.work
        work.spend(PANEL * len(shapes))
        borders = borders_between(shapes)
        rules = rules_for(folds, sayings, borders.contacts, shapes, known, work)
        is_foldable = len(self.site.document.faults) == before
        texts = self.table.fields.get("steps", [])
        work.spend(len(texts) * len(rules) / 20)
        steps = read_steps(self.place / "steps", texts, rules, scope, known)
        return Draft(shapes, known, rules, borders, steps, is_foldable=is_foldable)

    def _finished(self, draft: Draft, scope: Scope, before: int) -> Part | None:
        """Return the part with its edits done, unless there are more faults than *before*."""
        flat = Flat(draft, self.site.work)
        refuse_giant(draft)
        refuse_loose(draft.shapes, draft.rules)
        draft = done(draft, self.place / "edits", self.table.lines, scope, flat)
        fields, name = self.table.fields, self.table.name
        head = read_head(self.place, self.site.template, name, fields, draft, scope)
        if len(self.site.document.faults) > before:
            return None
        fragment = None
        if self.fold_graft and head.bound and head.bound[1] == "fold":
            draft, fragment = self.fold_graft.grafted(draft, head.bound[0], flat)
        part = replace(assembled(draft, head), graft=fragment)
        check_landings(self.place / "edits", part, draft.zone_lines)
        return self._covering(part) if self.table.layout == "covers" else part

    def _covering(self, part: Part) -> Part:
        """Return a reinforcement with what it covers."""
        own = {panel.name for panel in self.made[0].panels}
        covers = tuple(panel.name for panel in part.panels if panel.name in own)
        side = Side(self.table.fields.get("side", Side.FACE.value))
        return replace(part, covers=covers, covers_side=side)

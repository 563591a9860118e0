"""A part on its way: panels that are edited, rules of the lines between them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from ..documents import Refusal, suggestion
from ..part import FoldKey, Lettering, Line, LineKind, Step, Stroke, Zone
from ..paths import Path, Segment, Vertex, reversed_path, signed_area
from ..poses import poses
from ..rigid import Pose
from .borders import Borders, Contact, borders_of, merged_pieces, piece_path
from .folding_keys import Rule, is_counted
from .shapes import Shape
from .work import Work

_SIDES_OF = {"/": ("bottom", "top"), "|": ("right", "left")}


@dataclass(frozen=True)
class Draft:
    """What the edits of a part work on; each edit returns a new draft."""

    shapes: Mapping[str, Shape]
    known: frozenset[str]  #: names of vanished panels too
    rules: Mapping[FoldKey, Rule]
    borders: Borders  #: of the untouched panels
    steps: tuple[Step, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    zones: tuple[Zone, ...] = ()
    zone_lines: Mapping[str, int] = field(default_factory=dict)  #: which edit made each zone
    lettering: tuple[Lettering, ...] = ()
    is_untouched: bool = True  #: no panel was changed yet
    is_foldable: bool = True  #: no rule of a line is at fault

    def shape(self, name: str) -> Shape:
        """Return the panel called *name*; raises Refusal."""
        if self.has_vanished(name):
            raise Refusal("vanished", f"panel {name!r} has no size here: its row or column is 0")
        if name not in self.shapes:
            raise Refusal("no-panel", f"no panel {name!r}{suggestion(name, self.known)}")
        return self.shapes[name]

    def has_vanished(self, name: str) -> bool:
        """Return whether *name* is a panel of the map that these sizes make vanish."""
        if name in self.shapes:
            return False
        return name in self.known or is_counted(name, self.known)

    def with_shape(self, shape: Shape) -> Draft:
        """Return the draft with one panel replaced."""
        return replace(self, shapes={**self.shapes, shape.name: shape}, is_untouched=False)


def names_of(draft: Draft, pattern: str) -> list[str]:
    """Return the panels that *pattern* names: one, or all that begin so; raises Refusal."""
    if "#" in pattern:
        raise Refusal("bad-name", "# counts inside a repeat only")
    if not pattern.endswith("*"):
        return [] if draft.has_vanished(pattern) else [draft.shape(pattern).name]
    found = [name for name in draft.shapes if name.startswith(pattern[:-1])]
    if not found and not any(name.startswith(pattern[:-1]) for name in draft.known):
        raise Refusal("no-panel", f"no panel begins with {pattern[:-1]!r}")
    return found


def fold_sides(draft: Draft, panel: str) -> tuple[str, ...]:
    """Return the sides on which *panel* hangs on another one, in the order top, right, bottom, left."""
    sides = set()
    for contact in draft.borders.contacts:
        rule = draft.rules.get(FoldKey(contact.first, contact.relation, contact.second))
        if contact.relation == "-" or rule is None or rule.kind is LineKind.SLIT:
            continue
        near, far = _SIDES_OF[contact.relation]
        if panel in (contact.first, contact.second):
            sides.add(near if panel == contact.first else far)
    return tuple(side for side in ("top", "right", "bottom", "left") if side in sides)


def borders_between(shapes: Mapping[str, Shape]) -> Borders:
    """Return where the panels touch, and their free edges."""
    return borders_of(_outlines(shapes))


def _outlines(shapes: Mapping[str, Shape]) -> dict[str, list[Path]]:
    """Return each panel's outline and holes, holes turned clockwise."""
    return {
        name: [
            Path(tuple(Vertex(c.x, c.y, c.bulge) for c in shape.ring)),
            *(_clockwise(hole) for hole in shape.holes),
        ]
        for name, shape in shapes.items()
    }


def _clockwise(path: Path) -> Path:
    return reversed_path(path) if signed_area(path) > 0 else path


def remaining_rules(
    contacts: Iterable[Contact], rules: Mapping[FoldKey, Rule]
) -> dict[FoldKey, Rule]:
    """Return the rules of the lines along which panels still touch."""
    keys = {ruled_key(contact, rules) for contact in contacts}
    return {key: rule for key, rule in rules.items() if key in keys}


def lines_of(contacts: Iterable[Contact], rules: Mapping[FoldKey, Rule]) -> tuple[Line, ...]:
    """Return the lines between panels, trimmed to where both remain; 'none' gives no line."""
    pieces: dict[FoldKey, list[Segment]] = {}
    for contact in contacts:
        pieces.setdefault(ruled_key(contact, rules), []).append(contact.piece)
    lines = []
    for key, rule in rules.items():
        if key in pieces and rule.kind is not None:
            paths = tuple(piece_path(piece) for piece in merged_pieces(pieces[key]))
            lines.append(Line(key, rule.kind, rule.angle_deg, paths))
    return tuple(lines)


def ruled_key(contact: Contact, rules: Mapping[FoldKey, Rule]) -> FoldKey:
    """Return the key under which the rules speak of a contact."""
    key = FoldKey(contact.first, contact.relation, contact.second)
    turned = FoldKey(contact.second, contact.relation, contact.first)
    return turned if contact.relation == "-" and turned in rules else key


def rigid_pairs(rules: Mapping[FoldKey, Rule]) -> tuple[tuple[str, str], ...]:
    """Return the pairs of panels that are one face: no line, or a perforation, between them."""
    return tuple(
        (key.first, key.second)
        for key, rule in rules.items()
        if rule.kind is None or rule.kind is LineKind.PERFORATE
    )


def loose_groups(panels: Iterable[str], rules: Mapping[FoldKey, Rule]) -> list[list[str]]:
    """Return the groups of panels that hang together; slits hold nothing."""
    group = {name: name for name in panels}

    def root(name: str) -> str:
        while group[name] != name:
            group[name] = group[group[name]]
            name = group[name]
        return name

    for key, rule in rules.items():
        if rule.kind is not LineKind.SLIT and key.first in group and key.second in group:
            group[root(key.second)] = root(key.first)
    members: dict[str, list[str]] = {}
    for name in group:
        members.setdefault(root(name), []).append(name)
    return list(members.values())


@dataclass(frozen=True)
class Flat:
    """The untouched draft and how it folds, computed when first asked; and what may still be done."""

    draft: Draft
    work: Work

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The lines before any edit; edits trim them but never move them."""
        return lines_of(self.draft.borders.contacts, self.draft.rules)

    @cached_property
    def poses(self) -> dict[str, Pose]:
        """Where each panel lies once all is folded."""
        outlines = {name: shape.outline() for name, shape in self.draft.shapes.items()}
        self.work.spend(len(outlines) * 5)
        return poses(outlines, self.lines, self.draft.steps, rigid=rigid_pairs(self.draft.rules))


def joined_text(words: Sequence[str]) -> str:
    """Return *words* as a list in a sentence: a, b and c."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"

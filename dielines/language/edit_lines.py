"""The lines of ``edits``: read once without any size, then done in order on a draft."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Field, Kind, checked, name_of_kind
from ..part import Zone
from .drafts import Draft, Flat, names_of
from .editing import Edit, Verb
from .expressions import Scope
from .folding_keys import is_line_name, parse_key
from .repeats import numbered, numbered_text, scopes_that_hold
from .soundness import refuse_unsound
from .work import EDIT, weight_of

EVERYWHERE = (
    Field("when", Kind.ANY, help="a condition"),
    Field("repeat", Kind.SIZE, help="how often, with i counting from 1"),
)
DONE_LAST = "tape"  #: a zone of tape is cut to what the other edits leave of its panel


@dataclass(frozen=True)
class EditLine:
    """One line of ``edits``: its verb, and its fields, checked for kind."""

    index: int  #: in the list as the file has it
    verb: Verb
    fields: Mapping[str, Any]
    weight: float  #: what reading its sizes costs


@cache
def verbs() -> Mapping[str, Verb]:
    """Return all edit verbs, by their word: one file each in ``edits/``."""
    from . import edits

    names = sorted(module.name for module in pkgutil.iter_modules(edits.__path__))
    modules: list[Any] = [importlib.import_module(f"{edits.__name__}.{name}") for name in names]
    return {module.VERB: module for module in modules}


def read_lines(place: Place, entries: Sequence[object]) -> tuple[EditLine, ...]:
    """Return the lines in the order in which they are done; faults are reported."""
    lines = [_line(place / index, index, entry) for index, entry in enumerate(entries)]
    return tuple(sorted(filter(None, lines), key=lambda line: line.verb.VERB == DONE_LAST))


def _line(place: Place, index: int, entry: object) -> EditLine | None:
    if not isinstance(entry, dict):
        place.report("wrong-kind", f"expected a table, got {name_of_kind(entry)}")
        return None
    words = [key for key in entry if key in verbs()]
    if len(words) != 1:
        _report_no_verb(place, entry, words)
        return None
    verb = verbs()[words[0]]
    fields = (Field(verb.VERB, Kind.TEXT_OR_LIST), *verb.FIELDS, *EVERYWHERE)
    before = len(place.document.faults)
    good = checked(place, entry, fields)
    if len(place.document.faults) > before:
        return None
    return EditLine(index, verb, good, weight_of(entry))


def _report_no_verb(place: Place, entry: dict[str, Any], words: Sequence[str]) -> None:
    listed = ", ".join(verbs())
    if words:
        told = f"an edit needs exactly one of: {listed}; here are {' and '.join(words)}"
        (place / words[1]).report_key("no-verb", told, "Write two lines.")
        return
    hints = {key: suggestion(key, verbs()) for key in entry}
    key = next((key for key, hint in hints.items() if hint), "")
    told = f"an edit needs exactly one of: {listed}{hints.get(key, '')}"
    if key:
        (place / key).report_key("no-verb", told)
    else:
        place.report("no-verb", told)


def done(draft: Draft, place: Place, lines: Sequence[EditLine], scope: Scope, flat: Flat) -> Draft:
    """Return *draft* with all *lines* done; faults are reported, and their lines left out.

    *place* is that of the list; *flat* is the untouched draft.
    """
    for line in lines:
        if not flat.work.is_used_up:
            draft = _done_line(draft, place / line.index, line, scope, flat)
    return draft


def _done_line(draft: Draft, place: Place, line: EditLine, scope: Scope, flat: Flat) -> Draft:
    with place.collecting():
        edited = draft
        for inner in scopes_that_hold(line.fields, scope):
            for edit in _edits(edited, line, inner, flat):
                flat.work.spend(EDIT + line.weight)
                edited = line.verb.apply(edited, edit)
        refuse_unsound(flat, draft, edited)
        return _with_zone_lines(edited, edited.zones[len(draft.zones) :], line)
    return draft


def _with_zone_lines(draft: Draft, zones: Sequence[Zone], line: EditLine) -> Draft:
    """Return *draft* with what made its new *zones*."""
    made = dict.fromkeys((zone.name for zone in zones), line.index)
    return replace(draft, zone_lines={**draft.zone_lines, **made}) if zones else draft


def _edits(draft: Draft, line: EditLine, scope: Scope, flat: Flat) -> Iterator[Edit]:
    """Yield one edit for each panel that the line names; vanished panels fall silent."""
    raw = line.fields[line.verb.VERB]
    entries = raw if isinstance(raw, list) else [raw]
    fields = numbered(line.fields, scope)
    with beneath(line.verb.VERB):
        for index, name in enumerate(entries):
            if not isinstance(name, str):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(name)}")
            for panel in _panels_named(draft, numbered_text(name, scope)):
                yield Edit(panel, fields, scope, flat, index)


def _panels_named(draft: Draft, name: str) -> list[str]:
    """Return the panels, or the line itself where the verb works on a line."""
    if not is_line_name(name):
        return names_of(draft, name)
    key = parse_key(name)
    has_vanished = draft.has_vanished(key.first) or draft.has_vanished(key.second)
    return [] if has_vanished else [name]

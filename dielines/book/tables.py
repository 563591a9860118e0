"""The small tables of a book file: usual, spine, paper, make and ignore."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from ..documents import Place, suggestion
from ..lengths import Length, Unit, inches, millimetres, show
from ..sizes.usual import UsualSizes, conflicts, usual_override, usual_sizes
from ..sizes.values import choice_of, count_of, size_said, text_of, within
from .entries import BOOK_KEYS, SHOWN, Given, above_headers, check_keys, read, table_of, taken
from .request import Rule
from .words import Words, spoken

MOST_COPIES = 1000
MOST_SPARES = 100
SPINES = {"in": (inches("1/16"), inches(20)), "mm": (millimetres(1), millimetres(500))}


def read_usual(place: Place, value: object, units: Unit) -> UsualSizes:
    """Return the usual sizes with what ``[usual]`` changes."""
    entries = table_of(place, value, "usual")
    overrides: dict[str, Length | str] = {}
    for name, given in entries.items():
        if name in BOOK_KEYS:
            message = f"no usual size is called {name!r}"
            given.place.report_key("unknown-key", message, above_headers(name))
            continue
        changed = read(given.place, usual_override, name, given.value, units)
        if changed is not None:
            overrides[name] = changed
    sizes = usual_sizes(units, overrides)
    for name, other in conflicts(sizes):
        culprit = entries[name if name in overrides else other].place
        said, limit = (show(sizes.length(size), units, 64) for size in (name, other))
        message = f"{name} = {said} has to be less than {other} = {limit}"
        culprit.report("usual-conflict", message)
    return sizes


def read_spine(place: Place, value: object, units: Unit) -> Length | Rule:
    """Return what ``[spine]`` says of its width; by the usual sizes where it says nothing."""
    entries = table_of(place, value, "spine")
    check_keys(entries, ("width",))
    usual: Length | Rule = Rule.USUAL
    return taken(entries, "width", usual, partial(_spine_width, units=units))


def _spine_width(value: object, units: Unit) -> Length | Rule:
    if isinstance(value, str) and not any(sign.isnumeric() for sign in value):
        return choice_of(value, Rule)
    return within(size_said(value, units), *SPINES[units], units)


def read_paper(place: Place, value: object, words: Words) -> dict[str, Given]:
    """Return which material ``[paper]`` names for each role."""
    entries = table_of(place, value, "paper")
    check_keys(entries, words.roles)
    named = {}
    for role, given in entries.items():
        name = read(given.place, text_of, given.value)
        if name is not None and role in words.roles:
            named[role] = Given(name, given.place)
    return named


def read_make(place: Place, value: object) -> tuple[int, int]:
    """Return the number of copies, and of spares of each part, that ``[make]`` says."""
    entries = table_of(place, value, "make")
    check_keys(entries, ("copies", "spares"))
    copies = taken(entries, "copies", 1, partial(count_of, least=1, most=MOST_COPIES))
    return copies, taken(entries, "spares", 0, partial(count_of, least=0, most=MOST_SPARES))


def read_ignore(place: Place, value: object, words: Words) -> Mapping[str, str]:
    """Return the reason that ``[ignore]`` gives for each rule that shall be silent."""
    reasons = {}
    known = {spoken(rule): rule for rule in words.rules or ()}
    for rule, given in table_of(place, value, "ignore").items():
        if rule in BOOK_KEYS:
            message = f"no rule is called {rule!r}"
            given.place.report_key("unknown-rule", message, above_headers(rule))
        elif words.rules is not None and spoken(rule) not in known:
            hint = suggestion(spoken(rule), known)
            given.place.report_key("unknown-rule", f"no rule is called {rule[:SHOWN]!r}{hint}")
        reason = read(given.place, text_of, given.value)
        if reason is not None:
            reasons[known.get(spoken(rule), rule)] = reason
    return reasons

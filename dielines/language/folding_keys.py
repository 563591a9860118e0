"""What is said about the lines between panels: keys, their exactness, and what follows.

A line is named as one reads it in the map: ``upper / lower``, ``left | right``,
``a - b`` where neither holds. A name may be a pattern, ``up*`` or ``*``; the
more exact key wins, and a tie between different values is an error.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, suggestion
from ..fields import Kind, is_kind, name_of_kind
from ..part import FoldKey, LineKind
from ..paths import Number
from .borders import Contact
from .expressions import Scope, angle_of
from .repeats import numbered_text
from .work import Work

ANGLE_WORDS = {"valley": Fraction(180), "mountain": Fraction(-180)}
KIND_WORDS = {"none": None, "slit": LineKind.SLIT, "perforate": LineKind.PERFORATE}
WORDS = (*ANGLE_WORDS, *KIND_WORDS)
RELATION_NAMES = {"/": "above", "|": "left of", "-": "beside"}
_KEY = re.compile(r"\s*([a-z][a-z0-9_]*\*?|\*)\s*([/|-])\s*([a-z][a-z0-9_]*\*?|\*)\s*")


@dataclass(frozen=True, slots=True)
class Rule:
    """What is done along a line: *kind* None is no line at all, one face."""

    kind: LineKind | None
    angle_deg: Number = Fraction(0)


SCORED_FLAT = Rule(LineKind.FOLD)


@dataclass(frozen=True, slots=True)
class Saying:
    """A key of the folds table with its rule."""

    key: FoldKey
    rule: Rule
    place: Place

    @property
    def exactness(self) -> tuple[int, int]:
        """How many names are whole, and how many begin a name."""
        names = (self.key.first, self.key.second)
        return (
            sum("*" not in name for name in names),
            sum(name.endswith("*") and name != "*" for name in names),
        )


def parse_key(text: str) -> FoldKey:
    """Return the key that *text* says; raises Refusal."""
    match = _KEY.fullmatch(text)
    if match is None and "#" in text:
        remedy = "Write name* for all panels that begin so."
        raise Refusal("bad-name", "# counts inside a repeat only", remedy)
    if match is None:
        raise Refusal(
            "bad-key",
            "a fold is named by the panels on its two sides",
            'Write "left | right" or "upper / lower".',
        )
    return FoldKey(match[1], match[2], match[3])


def is_line_name(text: str) -> bool:
    """Return whether *text* names a line between panels, not a panel."""
    return any(sign in text for sign in "|/") or " - " in text


def matches(pattern: FoldKey, key: FoldKey) -> bool:
    """Return whether *pattern* speaks of the line *key*."""
    if pattern.relation != key.relation:
        return False
    if _fits(pattern.first, key.first) and _fits(pattern.second, key.second):
        return True
    turned = _fits(pattern.first, key.second) and _fits(pattern.second, key.first)
    return pattern.relation == "-" and turned


def _fits(pattern: str, name: str) -> bool:
    return name.startswith(pattern[:-1]) if pattern.endswith("*") else name == pattern


def read_sayings(place: Place, table: Mapping[str, Any], scope: Scope) -> list[Saying]:
    """Return what the folds table says; faults are reported on the way."""
    sayings = []
    for text, raw in table.items():
        here = place / text
        try:
            key = parse_key(numbered_text(text, scope))
        except Refusal as refusal:
            _report_bad_key(here, text, raw, refusal)
            continue
        rule = SCORED_FLAT  # until read: a value at fault says something all the same
        with here.collecting():
            rule = read_rule(raw, scope)
        sayings.append(Saying(key, rule, here))
    return sayings


def _report_bad_key(place: Place, text: str, raw: object, refusal: Refusal) -> None:
    if isinstance(raw, list | dict) or text in ("edits", "steps", "mouth", "bound", "grain"):
        place.report_key(
            "key-among-folds",
            f"{text!r} stands under the header of the folds, so it belongs to them",
            "Move it above that header.",
        )
    else:
        place.report_key(refusal.code, refusal.message, refusal.remedy)


def read_rule(raw: object, scope: Scope) -> Rule:
    """Return the rule that a value of the folds table says; raises Refusal."""
    if not is_kind(raw, Kind.SIZE):
        got = f"{raw} is not a finite number" if str(raw).lower() in ("nan", "inf", "-inf") else ""
        raise Refusal("wrong-kind", got or f"expected an angle or a word, got {name_of_kind(raw)}")
    if isinstance(raw, str) and raw.strip() in KIND_WORDS:
        return Rule(KIND_WORDS[raw.strip()])
    return Rule(LineKind.FOLD, read_angle(raw, scope))


def read_angle(raw: object, scope: Scope) -> Fraction:
    """Return an angle from -180 to 180 degrees; raises Refusal."""
    if isinstance(raw, str) and raw.strip() in ANGLE_WORDS:
        return ANGLE_WORDS[raw.strip()]
    if isinstance(raw, str) and re.fullmatch(r"[a-z]+", raw.strip()):
        _refuse_unknown_word(raw.strip(), scope)
    angle = angle_of(raw, scope)  # type: ignore[arg-type]
    if not -180 <= angle <= 180:
        raise Refusal("angle-range", f"{angle} is outside -180 to 180")
    return angle


def _refuse_unknown_word(word: str, scope: Scope) -> None:
    if word not in scope.names:
        hint = suggestion(word, (*WORDS, *scope.names))
        raise Refusal("unknown-word", f"{word!r} says nothing about a line{hint}")


def rules_for(
    place: Place,
    sayings: Sequence[Saying],
    contacts: Iterable[Contact],
    shapes: Iterable[str],
    known: frozenset[str],
    work: Work,
) -> dict[FoldKey, Rule]:
    """Return the rule of every line between two panels; faults are reported.

    A line of which nothing is said counts as scored, so that the rest of the
    part can be looked at as well.
    """
    keys = list(dict.fromkeys(FoldKey(c.first, c.relation, c.second) for c in contacts))
    exact, patterns = _sorted_out(sayings)
    work.spend(len(keys) * (len(patterns) + 2) / 20)
    chosen = {}
    for key in keys:
        turned = FoldKey(key.second, "-", key.first)
        speaking = [*exact[key], *(exact[turned] if key.relation == "-" else ())]
        speaking += [saying for saying in patterns if matches(saying.key, key)]
        chosen[key] = _rule_of(place, speaking, key)
    _report_idle(sayings, keys, frozenset(shapes), known)
    return chosen


def _sorted_out(
    sayings: Sequence[Saying],
) -> tuple[dict[FoldKey, list[Saying]], list[Saying]]:
    """Return the sayings of two whole names by their key, and the other ones."""
    exact: dict[FoldKey, list[Saying]] = defaultdict(list)
    patterns = []
    for saying in sayings:
        if "*" in str(saying.key):
            patterns.append(saying)
        else:
            exact[saying.key].append(saying)
    return exact, patterns


def _rule_of(place: Place, speaking: Sequence[Saying], key: FoldKey) -> Rule:
    if not speaking:
        place.report_key(
            "no-fold-key",
            f"nothing is said about the line between {key.first!r} and {key.second!r}",
            f'Add "{key}" = an angle, "none" or "slit".',
        )
        return SCORED_FLAT
    best = max(saying.exactness for saying in speaking)
    winners = [saying for saying in speaking if saying.exactness == best]
    if len({winner.rule for winner in winners}) > 1:
        winners[-1].place.report_key(
            "fold-tie",
            f"{' and '.join(repr(str(w.key)) for w in winners)} both say something about "
            f"the fold between {key.first!r} and {key.second!r}",
            f'Add "{key}" to say which.',
        )
    return winners[0].rule


def _report_idle(
    sayings: Sequence[Saying], keys: list[FoldKey], shapes: frozenset[str], known: frozenset[str]
) -> None:
    """Report keys of two whole names that speak of no line; those of vanished panels fall silent."""
    for saying in sayings:
        names = [name for name in (saying.key.first, saying.key.second) if "*" not in name]
        try:
            refuse_unknown_panels(names, known)
            if len(names) == 2 and shapes.issuperset(names):
                refuse_no_line(saying.key, keys)
        except Refusal as refusal:
            saying.place.report_key(refusal.code, refusal.message, refusal.remedy)


def is_counted(name: str, known: frozenset[str]) -> bool:
    """Return whether *name* is one of a numbered family such as up1, up2, ..."""
    stem = name.rstrip("0123456789")
    return stem != name and any(
        k.startswith(stem) and (k[len(stem) :].isdigit() or k[len(stem) :] == "#") for k in known
    )


def refuse_unknown_panels(names: Iterable[str], known: frozenset[str]) -> None:
    """Raise Refusal for a name that no panel of the map ever has."""
    for name in names:
        if name not in known and not is_counted(name, known):
            raise Refusal("no-panel", f"no panel {name!r}{suggestion(name, known)}")


def refuse_no_line(key: FoldKey, keys: Iterable[FoldKey]) -> None:
    """Raise Refusal where *key*, of two whole names, is none of *keys*."""
    touching = sorted((k for k in keys if k.panels() == key.panels()), key=str)
    if any(matches(key, k) for k in touching):
        return
    remedy = f'Write "{touching[0]}".' if touching else ""
    if touching and touching[0].relation == key.relation:
        told = f"{key.first!r} is not {RELATION_NAMES[key.relation]} {key.second!r}"
        raise Refusal("fold-turned", f"{told} but the other way round", remedy)
    told = f"{key.first!r} and {key.second!r} do not touch along such a line"
    raise Refusal("no-contact", told, remedy)

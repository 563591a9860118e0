"""What is said about the lines between panels: keys, their exactness, and steps.

A line is named as one reads it in the map: ``upper / lower``, ``left | right``,
``a - b`` where neither holds. A name may be a pattern, ``up*`` or ``*``; the
more exact key wins, and a tie between different values is an error.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, suggestion
from ..fields import Kind, is_kind, name_of_kind
from ..part import FoldKey, LineKind, Step
from ..paths import Number
from .borders import Contact
from .expressions import Scope, angle_of

ANGLE_WORDS = {"valley": Fraction(180), "mountain": Fraction(-180)}
KIND_WORDS = {"none": None, "slit": LineKind.SLIT, "perforate": LineKind.PERFORATE}
WORDS = (*ANGLE_WORDS, *KIND_WORDS)
RELATION_NAMES = {"/": "above", "|": "left of", "-": "beside"}
_KEY = re.compile(r"\s*([a-z][a-z0-9_]*#?\*?|\*)\s*([/|-])\s*([a-z][a-z0-9_]*#?\*?|\*)\s*")
_STEP_ANGLE = re.compile(r"(?P<key>.*\S)\s+to\s+(?P<angle>\S.*)")
_UNDER = re.compile(r"\s*([a-z][a-z0-9_]*)\s+under\s+([a-z][a-z0-9_]*)\s*")


@dataclass(frozen=True, slots=True)
class Rule:
    """What is done along a line: *kind* None is no line at all, one face."""

    kind: LineKind | None
    angle_deg: Number = Fraction(0)


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
    if match is None:
        raise Refusal(
            "bad-key",
            "a fold is named by the panels on its two sides",
            'Write "left | right" or "upper / lower".',
        )
    return FoldKey(match[1], match[2], match[3])


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
            key = parse_key(text)
        except Refusal as refusal:
            _report_bad_key(here, text, raw, refusal)
            continue
        with here.collecting():
            sayings.append(Saying(key, read_rule(raw, scope), here))
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
) -> dict[FoldKey, Rule]:
    """Return the rule of every line between two panels; faults are reported."""
    keys = list(dict.fromkeys(FoldKey(c.first, c.relation, c.second) for c in contacts))
    chosen: dict[FoldKey, Rule] = {}
    for key in keys:
        rule = _rule_for(place, sayings, key)
        if rule:
            chosen[key] = rule
    _report_idle(sayings, keys, frozenset(shapes), known)
    return chosen


def _rule_for(place: Place, sayings: Sequence[Saying], key: FoldKey) -> Rule | None:
    speaking = [saying for saying in sayings if matches(saying.key, key)]
    if not speaking:
        place.report_key(
            "no-fold-key",
            f"nothing is said about the line between {key.first!r} and {key.second!r}",
            f'Add "{key}" = an angle, "none" or "slit".',
        )
        return None
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
    """Report exact keys that speak of no line; keys of vanished panels fall silent."""
    touching = defaultdict(set)
    for key in keys:
        touching[key.panels()].add(key)
    for saying in sayings:
        if any(matches(saying.key, key) for key in keys):
            continue
        names = [name for name in (saying.key.first, saying.key.second) if "*" not in name]
        unknown = [name for name in names if name not in known and not is_counted(name, known)]
        if unknown:
            hint = suggestion(unknown[0], known)
            saying.place.report_key("no-panel", f"no panel {unknown[0]!r}{hint}")
        elif len(names) == 2 and shapes.issuperset(names):
            _report_no_contact(saying, touching[saying.key.panels()])


def is_counted(name: str, known: frozenset[str]) -> bool:
    """Return whether *name* is one of a numbered family such as up1, up2, ..."""
    stem = name.rstrip("0123456789#")
    return stem != name and any(k.startswith(stem) and k[len(stem) :].isdigit() for k in known)


def _report_no_contact(saying: Saying, keys: Iterable[FoldKey]) -> None:
    first, relation, second = saying.key.first, saying.key.relation, saying.key.second
    actual = sorted(keys, key=str)
    if actual and actual[0].relation == relation:
        saying.place.report_key(
            "fold-turned",
            f"{first!r} is not {RELATION_NAMES[relation]} {second!r} but the other way round",
            f'Write "{actual[0]}".',
        )
    else:
        remedy = f'Write "{actual[0]}".' if actual else ""
        saying.place.report_key(
            "no-contact", f"{first!r} and {second!r} do not touch along such a line", remedy
        )


def read_steps(
    place: Place,
    texts: Sequence[object],
    rules: Mapping[FoldKey, Rule],
    scope: Scope,
    known: frozenset[str],
) -> tuple[Step, ...]:
    """Return the declared steps of folding; faults are reported on the way."""
    steps = []
    for index, text in enumerate(texts):
        here = place / index
        with here.collecting():
            if not isinstance(text, str):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(text)}")
            step = _read_step(text, rules, scope, known)
            if step.angles_deg or step.under:
                steps.append(step)
    return tuple(steps)


def _read_step(
    text: str, rules: Mapping[FoldKey, Rule], scope: Scope, known: frozenset[str]
) -> Step:
    angles: dict[FoldKey, Number] = {}
    under = []
    for piece in text.split(","):
        tucked = _UNDER.fullmatch(piece)
        if tucked:
            _refuse_unknown_panels((tucked[1], tucked[2]), known)
            under.append((tucked[1], tucked[2]))
        else:
            angles.update(_step_angles(piece, rules, scope, known))
    return Step(tuple(angles.items()), tuple(under))


def _step_angles(
    piece: str, rules: Mapping[FoldKey, Rule], scope: Scope, known: frozenset[str]
) -> Iterator[tuple[FoldKey, Number]]:
    stop = _STEP_ANGLE.fullmatch(piece)
    pattern = parse_key(stop["key"] if stop else piece)
    found = [k for k, rule in rules.items() if matches(pattern, k) and rule.kind is LineKind.FOLD]
    if not found:
        names = tuple(n for n in (pattern.first, pattern.second) if "*" not in n)
        _refuse_unknown_panels(names, known)
        if any(matches(pattern, k) for k in rules):
            raise Refusal("no-such-fold", f"'{pattern}' is no fold")
    for key in found:
        yield key, read_angle(stop["angle"], scope) if stop else rules[key].angle_deg


def _refuse_unknown_panels(names: Iterable[str], known: frozenset[str]) -> None:
    for name in names:
        if name not in known and not is_counted(name, known):
            raise Refusal("no-panel", f"no panel {name!r}{suggestion(name, known)}")

"""The steps in which a part is folded: one text a step, ``"a / b, c | d to 90, e under f"``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from ..documents import Place, Refusal
from ..fields import name_of_kind
from ..part import FoldKey, LineKind, Step
from ..paths import Number
from .expressions import Scope
from .folding_keys import (
    Rule,
    matches,
    parse_key,
    read_angle,
    refuse_no_line,
    refuse_unknown_panels,
)
from .repeats import numbered_text

_PIECE = re.compile(r"[^,]+")
_STOP = re.compile(r"(?P<key>.*\S)\s+to\s+(?P<angle>\S.*)")
_UNDER = re.compile(r"\s*([a-z][a-z0-9_]*)\s+under\s+([a-z][a-z0-9_]*)\s*")


def read_steps(
    place: Place,
    texts: Sequence[object],
    rules: Mapping[FoldKey, Rule],
    scope: Scope,
    known: frozenset[str],
) -> tuple[Step, ...]:
    """Return the declared steps of folding; faults are reported on the way.

    What is said of vanished panels falls silent, and a step of nothing else with it.
    """
    steps = []
    for index, text in enumerate(texts):
        with (place / index).collecting():
            if not isinstance(text, str):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(text)}")
            step = _read_step(numbered_text(text, scope), rules, scope, known)
            if step.angles_deg or step.under:
                steps.append(step)
    return tuple(steps)


def _read_step(
    text: str, rules: Mapping[FoldKey, Rule], scope: Scope, known: frozenset[str]
) -> Step:
    angles: dict[FoldKey, Number] = {}
    under: list[tuple[str, str]] = []
    for piece in _PIECE.finditer(text):
        try:
            if tucked := _UNDER.fullmatch(piece[0]):
                under.extend(_tucked((tucked[1], tucked[2]), rules, known))
            else:
                angles.update(_angles(piece[0], rules, scope, known))
        except Refusal as refusal:
            refusal.offset += piece.start() + len(piece[0]) - len(piece[0].lstrip())
            raise
    return Step(tuple(angles.items()), tuple(under))


def _tucked(
    names: tuple[str, str], rules: Mapping[FoldKey, Rule], known: frozenset[str]
) -> Iterator[tuple[str, str]]:
    refuse_unknown_panels(names, known)
    present = frozenset().union(*(key.panels() for key in rules))
    if present.issuperset(names):
        yield names


def _angles(
    piece: str, rules: Mapping[FoldKey, Rule], scope: Scope, known: frozenset[str]
) -> Iterator[tuple[FoldKey, Number]]:
    stop = _STOP.fullmatch(piece)
    pattern = parse_key(stop["key"] if stop else piece)
    found = [key for key in rules if matches(pattern, key)]
    folds = [key for key in found if rules[key].kind is LineKind.FOLD]
    if not found:
        _refuse_unknown_line(pattern, rules, known)
    elif not folds:
        raise Refusal("no-such-fold", f"'{pattern}' is no fold")
    reached = _angle_of_stop(stop, scope) if stop else None
    for key in folds:
        yield key, rules[key].angle_deg if reached is None else reached


def _angle_of_stop(stop: re.Match[str], scope: Scope) -> Number:
    try:
        return read_angle(stop["angle"], scope)
    except Refusal as refusal:
        refusal.offset += stop.start("angle") - (len(stop[0]) - len(stop[0].lstrip()))
        raise


def _refuse_unknown_line(
    pattern: FoldKey, rules: Mapping[FoldKey, Rule], known: frozenset[str]
) -> None:
    """Raise Refusal unless what the pattern names has vanished."""
    names = [name for name in (pattern.first, pattern.second) if "*" not in name]
    refuse_unknown_panels(names, known)
    present = frozenset().union(*(key.panels() for key in rules))
    if len(names) == 2 and present.issuperset(names):
        refuse_no_line(pattern, rules)

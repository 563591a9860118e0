"""What repeats, what holds, and the index ``i`` that runs in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from ..documents import Refusal, beneath
from ..fields import Kind, is_kind, name_of_kind
from .expressions import Scope, condition_of, whole_of
from .values import number

MAX_REPEATS = 200
INDEX = "i"


def turn_of(scope: Scope) -> int:
    """Return the index of the repeat that runs in *scope*, from 1; 0 outside of repeats."""
    return int(scope.names[INDEX].amount) if INDEX in scope.names else 0


def scope_of_turn(scope: Scope, turn: int) -> Scope:
    """Return *scope* with the index at *turn*."""
    return replace(scope, names={**scope.names, INDEX: number(Fraction(turn))})


def repeat_count(raw: object, scope: Scope) -> int:
    """Return how often something repeats, 0 to 200; raises Refusal."""
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a count, got {name_of_kind(raw)}")
    count = whole_of(raw, scope)  # type: ignore[arg-type]
    if not 0 <= count <= MAX_REPEATS:
        raise Refusal("too-many", f"repeat = {count} is outside 0 to {MAX_REPEATS}")
    return count


def repeated_scopes(fields: Mapping[str, Any], scope: Scope) -> list[Scope]:
    """Return a scope for each turn of ``repeat``, or *scope* alone; raises Refusal."""
    if "repeat" not in fields:
        return [scope]
    with beneath("repeat"):
        count = repeat_count(fields["repeat"], scope)
    return [scope_of_turn(scope, turn) for turn in range(1, count + 1)]


def scopes_that_hold(fields: Mapping[str, Any], scope: Scope) -> list[Scope]:
    """Return a scope for each turn of ``repeat`` in which ``when`` holds; raises Refusal."""
    return [inner for inner in repeated_scopes(fields, scope) if holds(fields, inner)]


def holds(fields: Mapping[str, Any], scope: Scope) -> bool:
    """Return whether the condition ``when`` holds, if there is one; raises Refusal."""
    raw = fields.get("when", True)
    with beneath("when"):
        if not isinstance(raw, bool | str):
            raise Refusal("wrong-kind", f"expected yes or no, got {name_of_kind(raw)}")
        return condition_of(raw, scope)


def numbered_text(text: str, scope: Scope) -> str:
    """Return *text* with ``#`` replaced by the index of the repeat, if one runs."""
    if "#" not in text or INDEX not in scope.names:
        return text
    return text.replace("#", str(turn_of(scope)))


def numbered(fields: Mapping[str, Any], scope: Scope) -> Mapping[str, Any]:
    """Return *fields* with ``#`` in texts replaced by the index of the repeat, if one runs."""
    if INDEX not in scope.names:
        return fields
    return {key: _numbered_value(value, scope) for key, value in fields.items()}


def _numbered_value(value: Any, scope: Scope) -> Any:
    if isinstance(value, str):
        return numbered_text(value, scope)
    return [_numbered_value(v, scope) for v in value] if isinstance(value, list) else value

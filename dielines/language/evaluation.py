"""What the operations of an expression do: to kinds of value, and to exact amounts.

Each operation has a rule in ``RULES``. The kinds are ruled on first, so that the
branch of an ``if`` that is not taken is held to its kind without being calculated.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Refusal, suggestion
from ..lengths import MM_PER_UNIT, Unit
from .syntax import Literal, Name, Node, Operation, names_in
from .values import DIMENSIONS, Value, ValueKind, flag

MAX_BITS = 96
_SHOWN_NAMES = 3


@dataclass(frozen=True)
class Scope:
    """What names mean where an expression stands.

    *names* may hold dots (``board.caliper``); *units* are those of a bare number;
    *choices* are the words that can be chosen, which stand bare.
    """

    names: Mapping[str, Value]
    units: Unit | None = None
    choices: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Kinds:
    """The kind that all operands are brought to first (none: as they are), and the result's."""

    operands: ValueKind | None
    result: ValueKind


@dataclass(frozen=True, slots=True)
class Rule:
    """An operation: which kinds it takes and gives, and its result from their payloads."""

    kinds: Callable[[Operation, Sequence[ValueKind]], Kinds]
    result: Callable[..., Any]


def value_of(node: Node, scope: Scope) -> Value:
    """Return the value of the tree; raises Refusal at the culprit."""
    if isinstance(node, Literal):
        return node.value
    if isinstance(node, Name):
        return _named(node, scope)
    if node.word in _LAZY:
        return _LAZY[node.word](node, scope)
    return _calculated(node, [value_of(operand, scope) for operand in node.operands], scope)


def kind_of(node: Node, scope: Scope) -> ValueKind:
    """Return the kind that the tree's value would have, without calculating it."""
    if isinstance(node, Literal):
        return node.value.kind
    if isinstance(node, Name):
        return _named(node, scope).kind
    kinds = [kind_of(operand, scope) for operand in node.operands]
    return RULES[node.word].kinds(node, kinds).result


def unknown_name(name: Name, known: Sequence[str]) -> Refusal:
    """Return the refusal of a name that is none of *known*."""
    calipers = sorted(word for word in known if word.endswith(".caliper"))
    if name.name == "caliper":
        example = (
            "cardstock.caliper" if "cardstock.caliper" in calipers or not calipers else calipers[0]
        )
        remedy = f"Which stock is meant is clear inside a part only: write {example}."
        return Refusal("unknown-name", "unknown name 'caliper'", remedy, name.offset)
    message = f"unknown name {name.name[:40]!r}{suggestion(name.name, known)}"
    return Refusal("unknown-name", message, offset=name.offset)


def to_length(value: Value, scope: Scope, offset: int) -> Fraction:
    """Return a length's mm; a bare number counts in the scope's units. Raises Refusal."""
    if value.kind is ValueKind.BARE:
        if scope.units is None:
            message = "a bare number, but the file declares no units"
            remedy = 'Add units = "in" or units = "mm", or write the unit behind the number.'
            raise Refusal("no-units", message, remedy, offset)
        return bounded(value.amount * MM_PER_UNIT[scope.units], offset)
    if value.kind is not ValueKind.LENGTH:
        raise Refusal("wrong-kind", f"expected a length, got {value.kind.value}", offset=offset)
    return value.amount


def bounded(amount: Fraction, offset: int) -> Fraction:
    """Return *amount*, or raise Refusal where it has grown beyond any use."""
    if max(amount.numerator.bit_length(), amount.denominator.bit_length()) > MAX_BITS:
        raise Refusal("out-of-bounds", "number out of bounds", offset=offset)
    return amount


def _named(name: Name, scope: Scope) -> Value:
    if name.name in scope.names:
        return scope.names[name.name]
    if name.name in scope.choices:
        return Value(ValueKind.WORD, name.name)
    raise unknown_name(name, sorted({*scope.names, *scope.choices}))


def _calculated(node: Operation, values: Sequence[Value], scope: Scope) -> Value:
    rule = RULES[node.word]
    kinds = rule.kinds(node, [value.kind for value in values])
    payloads = [
        _brought_to(kinds.operands, value, scope, operand.offset)
        for value, operand in zip(values, node.operands, strict=True)
    ]
    try:
        result = rule.result(*payloads)
    except ZeroDivisionError:
        raise _zero_division(node, scope) from None
    if isinstance(result, Fraction):
        result = bounded(result, node.offset)
    return Value(kinds.result, result)


def _brought_to(
    kind: ValueKind | None, value: Value, scope: Scope, offset: int
) -> Fraction | bool | str:
    return to_length(value, scope, offset) if kind is ValueKind.LENGTH else value.payload


def _zero_division(node: Operation, scope: Scope) -> Refusal:
    """Return the refusal of an operation whose last operand came out as zero."""
    names = list(dict.fromkeys(name.name for name in names_in(node.operands[-1])))
    here = ", ".join(
        f"{name} = {scope.names[name].shown(scope.units)}"
        for name in names[:_SHOWN_NAMES]
        if name in scope.names
    )
    where = f" (here {here})" if here else ""
    return Refusal("zero-division", f"division by zero{where}", offset=node.offset)


# The kinds that operations take and give


def _wrong_kinds(node: Operation, kinds: Sequence[ValueKind]) -> Refusal:
    listed = " and ".join(dict.fromkeys(kind.value for kind in kinds))
    sign = "-" if node.word == "negative" else node.word
    return Refusal("wrong-kind", f"{sign!r} does not take {listed}", offset=node.offset)


def _joint(node: Operation, kinds: Sequence[ValueKind]) -> ValueKind:
    """Return the one kind among *kinds*, beside bare numbers, which turn into it."""
    definite = set(kinds) - {ValueKind.BARE}
    if not definite:
        return ValueKind.BARE
    joint = definite.pop()
    takes_bare = joint in (ValueKind.NUMBER, ValueKind.LENGTH)
    if definite or (ValueKind.BARE in kinds and not takes_bare):
        raise _wrong_kinds(node, kinds)
    return joint


def _alike(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    joint = _joint(node, kinds)
    if joint not in DIMENSIONS:
        raise _wrong_kinds(node, kinds)
    return Kinds(joint, joint)


def _compared(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    return Kinds(_alike(node, kinds).operands, ValueKind.FLAG)


def _equated(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    return Kinds(_joint(node, kinds), ValueKind.FLAG)


def _connected(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    for kind, operand in zip(kinds, node.operands, strict=True):
        _must_be_flag(kind, operand)
    return Kinds(None, ValueKind.FLAG)


def _either(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    _must_be_flag(kinds[0], node.operands[0])
    joint = _joint(node, kinds[1:])
    return Kinds(joint, joint)


def _must_be_flag(kind: ValueKind, node: Node) -> None:
    if kind is not ValueKind.FLAG:
        message = f"expected yes or no (a flag or a comparison), got {kind.value}"
        raise Refusal("wrong-kind", message, offset=node.offset)


def _multiplied(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    return Kinds(None, _of_dimension(node, kinds, 1))


def _divided(node: Operation, kinds: Sequence[ValueKind]) -> Kinds:
    if tuple(kinds) == (ValueKind.BARE, ValueKind.LENGTH):
        remedy = "Write the unit behind the number that is divided."
        raise Refusal("wrong-kind", "a bare number divided by a length", remedy, node.offset)
    return Kinds(None, _of_dimension(node, kinds, -1))


def _of_dimension(node: Operation, kinds: Sequence[ValueKind], sign: int) -> ValueKind:
    if any(kind not in DIMENSIONS for kind in kinds):
        raise _wrong_kinds(node, kinds)
    if set(kinds) == {ValueKind.BARE}:
        return ValueKind.BARE
    dimension = DIMENSIONS[kinds[0]] + sign * DIMENSIONS[kinds[1]]
    results = {0: ValueKind.NUMBER, 1: ValueKind.LENGTH, 2: ValueKind.AREA}
    if dimension not in results:
        raise _wrong_kinds(node, kinds)
    return results[dimension]


# What comes out


def _rounding(
    to_whole: Callable[[Fraction], int],
) -> Callable[[Fraction, Fraction], Fraction]:
    return lambda size, step: to_whole(size / step) * step


def _half_up(amount: Fraction) -> int:
    """Return the nearest whole number; a half goes away from zero, as taught in school."""
    nearest = math.floor(abs(amount) + Fraction(1, 2))
    return -nearest if amount < 0 else nearest


RULES: dict[str, Rule] = {
    "negative": Rule(_alike, lambda a: -a),
    "+": Rule(_alike, lambda a, b: a + b),
    "-": Rule(_alike, lambda a, b: a - b),
    "*": Rule(_multiplied, lambda a, b: a * b),
    "/": Rule(_divided, lambda a, b: a / b),
    "<": Rule(_compared, lambda a, b: a < b),
    ">": Rule(_compared, lambda a, b: a > b),
    "<=": Rule(_compared, lambda a, b: a <= b),
    ">=": Rule(_compared, lambda a, b: a >= b),
    "==": Rule(_equated, lambda a, b: a == b),
    "!=": Rule(_equated, lambda a, b: a != b),
    "min": Rule(_alike, lambda *amounts: min(amounts)),
    "max": Rule(_alike, lambda *amounts: max(amounts)),
    "sum": Rule(_alike, lambda *amounts: sum(amounts, Fraction(0))),
    "round": Rule(_alike, _rounding(_half_up)),
    "round_up": Rule(_alike, _rounding(math.ceil)),
    "round_down": Rule(_alike, _rounding(math.floor)),
    "mod": Rule(_alike, lambda size, step: size - math.floor(size / step) * step),
    "not": Rule(_connected, lambda a: not a),
    "and": Rule(_connected, lambda a, b: a and b),
    "or": Rule(_connected, lambda a, b: a or b),
    "if": Rule(_either, lambda a, b, c: b if a else c),
}


# Operations that calculate only what they need


def _chosen(node: Operation, scope: Scope) -> Value:
    condition, then, otherwise = node.operands
    is_met = _condition(condition, scope)
    taken, left_out = (then, otherwise) if is_met else (otherwise, then)
    value = value_of(taken, scope)
    kinds = _either(node, [ValueKind.FLAG, value.kind, kind_of(left_out, scope)])
    return Value(kinds.result, _brought_to(kinds.operands, value, scope, taken.offset))


def _connected_value(node: Operation, scope: Scope) -> Value:
    """Return the first operand where it decides, else the second, held to its kind anyway."""
    first, second = node.operands
    is_met = _condition(first, scope)
    if is_met == (node.word == "or"):
        _must_be_flag(kind_of(second, scope), second)
        return flag(is_met)
    return flag(_condition(second, scope))


def _condition(node: Node, scope: Scope) -> bool:
    value = value_of(node, scope)
    _must_be_flag(value.kind, node)
    return bool(value.payload)


_LAZY: dict[str, Callable[[Operation, Scope], Value]] = {
    "if": _chosen,
    "and": _connected_value,
    "or": _connected_value,
}

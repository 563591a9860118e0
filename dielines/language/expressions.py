"""Expressions: sizes, counts, angles and conditions as the fields of a template say them.

    4 7/8          one number; counts in the units of the file
    3 mm, 1/16 in  a length; the unit binds to the number before it
    width - (i - 1) * 2 * caliper
    if(lip == arched, max(1/2, depth * 2), round_up(width / 3, 1/16))

Exact, without powers, and bounded in length, depth and size of numbers. Three
kinds of number are kept apart: *bare* (turns into what its place needs),
*length* and *number*. All failures are Refusals with the place in the text.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from ..documents import Refusal
from ..fields import name_of_kind
from ..lengths import MAX_DIGITS
from .evaluation import Scope, to_length, unknown_name, value_of
from .syntax import Expression, names_in, parse
from .values import Value, ValueKind, bare, flag

__all__ = [
    "Expression", "Scope", "angle_of", "check_names", "condition_of", "evaluate", "number_of",
    "parse", "size_of", "value_said", "whole_of",
]  # fmt: skip


def evaluate(expression: Expression, scope: Scope) -> Value:
    """Return the value of *expression*; raises Refusal at the culprit.

    >>> from .values import length
    >>> scope = Scope({"depth": length(Fraction(127, 40))}, "in")
    >>> evaluate(parse("4 7/8 + depth * 2"), scope).shown("in")
    '5 1/8 in'
    """
    return value_of(expression.root, scope)


def check_names(expression: Expression, known: Iterable[str]) -> None:
    """Raise Refusal at the first name that is none of *known*."""
    words = sorted(known)
    for name in names_in(expression.root):
        if name.name not in words:
            raise unknown_name(name, words)


def size_of(raw: int | Decimal | str, scope: Scope) -> Fraction:
    """Return a size, mm, which may be negative; raises Refusal."""
    value, offset = _said(raw, scope, "a size")
    return to_length(value, scope, offset)


def number_of(raw: int | Decimal | str, scope: Scope) -> Fraction:
    """Return a plain number; raises Refusal."""
    return _plain(raw, scope, "a plain number")


def whole_of(raw: int | Decimal | str, scope: Scope) -> int:
    """Return a whole number, which may be negative; raises Refusal."""
    amount = number_of(raw, scope)
    if amount.denominator != 1:
        raise Refusal("not-whole", f"expected a whole number, got {amount}")
    return amount.numerator


def angle_of(raw: int | Decimal | str, scope: Scope) -> Fraction:
    """Return an angle, degrees; raises Refusal."""
    return _plain(raw, scope, "an angle (a plain number of degrees)")


def condition_of(raw: bool | str, scope: Scope) -> bool:
    """Return whether a flag or a comparison holds; raises Refusal."""
    value, offset = _said(raw, scope, "yes or no")
    if value.kind is not ValueKind.FLAG:
        message = f"expected yes or no (a flag or a comparison), got {value.kind.value}"
        raise Refusal("wrong-kind", message, offset=offset)
    return bool(value.payload)


def value_said(raw: object, scope: Scope) -> Value:
    """Return the value of a TOML number, of true or false, or of an expression."""
    return _said(raw, scope, "a value")[0]


def _plain(raw: object, scope: Scope, expected: str) -> Fraction:
    value, offset = _said(raw, scope, expected)
    if value.kind not in (ValueKind.BARE, ValueKind.NUMBER):
        raise Refusal("wrong-kind", f"expected {expected}, got {value.kind.value}", offset=offset)
    return value.amount


def _said(raw: object, scope: Scope, expected: str) -> tuple[Value, int]:
    """Return the value that *raw* says, and the place in its text."""
    if isinstance(raw, bool):
        return flag(raw), 0
    if isinstance(raw, int):
        return bare(_whole_in_bounds(raw)), 0
    if isinstance(raw, Decimal):
        return bare(_decimal_in_bounds(raw)), 0
    if isinstance(raw, str):
        expression = parse(raw)
        return evaluate(expression, scope), expression.root.offset
    raise Refusal("wrong-kind", f"expected {expected}, got {name_of_kind(raw)}")


def _whole_in_bounds(raw: int) -> int:
    if abs(raw) >= 10**MAX_DIGITS:
        raise _too_many_digits()
    return raw


def _decimal_in_bounds(raw: Decimal) -> Fraction:
    """Return the fraction that a TOML decimal says; its exponent is looked at first."""
    _, digits, exponent = raw.as_tuple()
    if not isinstance(exponent, int):
        raise Refusal("not-finite", f"{raw} is not a finite number")
    if len(digits) + max(exponent, 0) > 2 * MAX_DIGITS or abs(exponent) > MAX_DIGITS:
        raise _too_many_digits()
    return Fraction(raw)


def _too_many_digits() -> Refusal:
    return Refusal("digits", f"a number of more than {MAX_DIGITS} digits")

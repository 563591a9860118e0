"""What a parameter takes: a value brought to the parameter's type, or why it cannot be."""

from __future__ import annotations

from ..documents import Refusal, suggestion
from ..errors import LengthError
from ..lengths import Length, Unit, parse_length
from .declarations import Parameter, ParameterType
from .evaluation import Scope, to_length
from .expressions import value_said
from .tokens import MAX_CHARACTERS
from .values import Value, ValueKind, flag, length, number, word

_YES_OR_NO = {"yes": True, "true": True, "no": False, "false": False}


def as_type(value: Value, parameter: Parameter, scope: Scope) -> Value:
    """Return *value* as the parameter holds it; raises Refusal.

    A bare number of a length counts in the scope's units.
    """
    match parameter.type:
        case ParameterType.LENGTH:
            return length(to_length(value, scope, 0))
        case ParameterType.COUNT:
            return _count(value)
        case ParameterType.ANGLE:
            return _number(value, "an angle (a plain number of degrees)")
        case ParameterType.CHOICE:
            return _choice(value, parameter.choices)
        case ParameterType.FLAG:
            return _flag(value)


def given_value(parameter: Parameter, raw: object, units: Unit | None) -> Value:
    """Return what is given for a parameter from outside; raises Refusal.

    *raw* is a Value, a Length, a TOML number, true or false, or text: a size as
    people write it (``4-7/8 in``), a number, yes or no, a word. A bare number
    of a length counts in *units*.
    """
    scope = Scope({}, units)
    if isinstance(raw, Value):
        return as_type(raw, parameter, scope)
    if isinstance(raw, Length):
        return as_type(length(raw.mm), parameter, scope)
    if isinstance(raw, str):
        return as_type(_text_value(raw, parameter.type, scope), parameter, scope)
    return as_type(value_said(raw, scope), parameter, scope)


def _text_value(text: str, kind: ParameterType, scope: Scope) -> Value:
    if len(text) > MAX_CHARACTERS:
        raise Refusal("too-long", f"a text of more than {MAX_CHARACTERS} characters")
    if kind is ParameterType.CHOICE:
        return word(text.strip())
    if kind is ParameterType.FLAG and text.strip() in _YES_OR_NO:
        return flag(_YES_OR_NO[text.strip()])
    if kind is ParameterType.LENGTH:
        return _length_written(text, scope.units)
    return value_said(text, scope)


def _length_written(text: str, units: Unit | None) -> Value:
    try:
        return length(parse_length(text, units).mm)
    except LengthError as problem:
        raise Refusal("not-a-length", problem.message, offset=problem.offset) from None


def _number(value: Value, expected: str) -> Value:
    if value.kind not in (ValueKind.BARE, ValueKind.NUMBER):
        raise Refusal("wrong-kind", f"expected {expected}, got {value.kind.value}")
    return number(value.amount)


def _count(value: Value) -> Value:
    count = _number(value, "a whole number")
    if count.amount.denominator != 1:
        raise Refusal("not-whole", f"expected a whole number, got {count.amount}")
    if count.amount < 0:
        raise Refusal("negative", f"a count cannot be below zero, got {count.amount}")
    return count


def _choice(value: Value, choices: tuple[str, ...]) -> Value:
    if value.kind is not ValueKind.WORD:
        listed = ", ".join(choices)
        raise Refusal("wrong-kind", f"expected one of {listed}, got {value.kind.value}")
    refuse_unknown_choice(str(value.payload), choices)
    return value


def refuse_unknown_choice(said: str, choices: tuple[str, ...]) -> None:
    """Raise Refusal unless *said* is one of *choices*."""
    if said not in choices:
        message = f"{said[:40]!r} is none of {', '.join(choices)}{suggestion(said, choices)}"
        raise Refusal("unknown-word", message)


def _flag(value: Value) -> Value:
    if value.kind is not ValueKind.FLAG:
        message = f"expected yes or no (a flag or a comparison), got {value.kind.value}"
        raise Refusal("wrong-kind", message)
    return value

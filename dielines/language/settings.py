"""What a part was made with, kept on the part, so that it can be told and made again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from ..lengths import Length
from ..part import Fragment, Part
from .values import Value, ValueKind, flag, length, number, word
from .written_template import Template

LENGTH_OF_EDGE = "length"  #: of the edge that a fragment is made for; no parameter is called so

Setting = Length | Fraction | bool | str


def told(parts: Iterable[Part], template: Template, names: Mapping[str, Value]) -> tuple[Part, ...]:
    """Return *parts* of *template* with the value that each of its parameters has in *names*."""
    settings = settings_of(template, names)
    return tuple(replace(part, parameters=settings) for part in parts)


def settings_of(template: Template, names: Mapping[str, Value]) -> dict[str, Setting]:
    """Return the value of each parameter of *template*, and the edge's length for a fragment."""
    known = [parameter.name for parameter in template.parameters]
    if template.kind == "edge":
        known.append(LENGTH_OF_EDGE)
    return {name: setting_of(names[name]) for name in known}


def fragment_of(part: Part) -> Fragment:
    """Return what is kept of a fragment on the part that it is grafted onto."""
    settings = {name: value for name, value in part.parameters.items() if name != LENGTH_OF_EDGE}
    return Fragment(part.template, part.version, settings)


def setting_of(value: Value) -> Setting:
    """Return *value* as a plain length, number, yes or no, or word."""
    if value.kind is ValueKind.LENGTH:
        return Length(value.amount)
    return value.payload


def value_of(setting: object) -> Value:
    """Return the value that *setting* was.

    >>> value_of(setting_of(length(Fraction(10, 3)))) == length(Fraction(10, 3))
    True
    """
    if isinstance(setting, Length):
        return length(setting.mm)
    if isinstance(setting, bool):
        return flag(setting)
    if isinstance(setting, int | Fraction):
        return number(setting)
    return word(str(setting))

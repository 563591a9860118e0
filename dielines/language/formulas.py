"""Defaults, limits and derived values as formulas: what they need, and in which order they stand."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import Any

from ..documents import Place
from .declarations import Derived, Parameter, ParameterType
from .expressions import check_names, parse
from .syntax import NAME
from .taking import refuse_unknown_choice

_SHOWN_OF_CIRCLE = 8


@dataclass(frozen=True)
class Formula:
    """What a file says for one value, and the names that it needs."""

    raw: Any
    place: Place
    needs: frozenset[str]

    @property
    def written(self) -> str:
        """The formula as the file says it."""
        return " ".join(str(self.raw).split())


def value_formulas(
    parameters: Sequence[Parameter],
    derived: Sequence[Derived],
    place: Place,
    known: Collection[str],
) -> dict[str, Formula]:
    """Return the defaults and derived values that read well; the others are reported.

    *known* are all names and words that a formula may use.
    """
    formulas: dict[str, Formula] = {}
    for parameter in parameters:
        here = place / "parameters" / parameter.name / "default"
        with here.collecting():
            if parameter.type is ParameterType.CHOICE:
                _check_word(parameter, known)
            formulas[parameter.name] = formula_of(parameter.default, here, known)
    for entry in derived:
        here = place / "derived" / entry.name
        with here.collecting():
            formulas[entry.name] = formula_of(entry.formula, here, known)
    return formulas


def formula_of(raw: Any, place: Place, known: Collection[str]) -> Formula:
    """Return what a file says for a value; raises Refusal for unknown names and bad texts."""
    if not isinstance(raw, str):
        return Formula(raw, place, frozenset())
    expression = parse(raw)
    check_names(expression, known)
    return Formula(raw, place, expression.names())


def _check_word(parameter: Parameter, known: Collection[str]) -> None:
    """Raise Refusal for a default such as ``wavy`` that is neither a choice nor a name."""
    text = str(parameter.default).strip()
    if NAME.fullmatch(text) and text not in known:
        refuse_unknown_choice(text, parameter.choices)


def in_order(formulas: Mapping[str, Formula]) -> tuple[list[str], list[list[str]]]:
    """Return the names, each behind those it needs, and the circles; a circle's names are left out.

    A circle begins and ends with the one of its names that stands first in the file.
    """
    waiting = dict(formulas)
    circles: list[list[str]] = []
    while True:
        needs = {name: sorted(waiting[name].needs & waiting.keys()) for name in waiting}
        try:
            return list(TopologicalSorter(needs).static_order()), circles
        except CycleError as error:
            circle = _from_the_first(error.args[1][:0:-1], list(formulas))
        circles.append(circle)
        for name in circle[:-1]:
            del waiting[name]


def _from_the_first(names: list[str], file_order: list[str]) -> list[str]:
    start = names.index(min(names, key=file_order.index))
    return [*names[start:], *names[: start + 1]]


def report_circle(circle: Sequence[str], formulas: Mapping[str, Formula]) -> None:
    """Report names that need one another, at the first of them."""
    shown = circle[:-1][:_SHOWN_OF_CIRCLE]
    way = " -> ".join([*shown, *(["..."] if len(circle) - 1 > len(shown) else []), circle[-1]])
    formulas[circle[0]].place.report("circle", f"goes round in a circle: {way}")

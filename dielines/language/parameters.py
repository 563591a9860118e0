"""From declared names to values: defaults, given sizes, derived values, limits and reasons.

Defaults, limits and derived values are expressions over one another. What is
given from outside goes first, then each name is worked out behind those it
needs; limits are checked last, when all values stand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field

from ..documents import Place, Refusal, suggestion
from ..lengths import Unit
from .declarations import (
    Derived,
    Parameter,
    ParameterType,
    choice_words,
    read_derived,
    read_parameters,
)
from .expressions import Scope, number_of, size_of, value_said
from .formulas import Formula, formula_of, in_order, report_circle, value_formulas
from .taking import as_type, given_value
from .values import Value, length, number

__all__ = [
    "Derived", "Parameter", "ParameterType", "Resolved", "choice_words", "read_derived",
    "read_parameters", "resolve",
]  # fmt: skip

#: Faults of a formula that other values might not have caused.
_CAUSED_BY_VALUES = ("zero-division", "out-of-bounds", "not-whole", "negative")


@dataclass(frozen=True)
class Resolved:
    """The value of every name that could be worked out, why, and what was refused.

    *argument_refusals* are faults of what was given, not of the template: the name
    of the argument at fault with the Refusal, for whoever gave it to report.
    """

    values: Mapping[str, Value]
    argument_refusals: tuple[tuple[str, Refusal], ...]
    reasons: Mapping[str, str]


@dataclass
class _Work:
    """A template's values while they are worked out."""

    parameters: Mapping[str, Parameter]
    formulas: Mapping[str, Formula]
    known: frozenset[str] | set[str]  #: names and words that a formula may use
    scope: Scope  #: its names are *names*, which grow
    names: dict[str, Value]
    units_shown: Unit | None  #: those of whoever gives the arguments
    given: dict[str, Value] = field(default_factory=dict)
    refusals: list[tuple[str, Refusal]] = field(default_factory=list)
    consequences: list[tuple[frozenset[str], Refusal]] = field(default_factory=list)
    origins: dict[str, frozenset[str]] = field(default_factory=dict)  #: given names behind each


def resolve(
    parameters: Sequence[Parameter],
    derived: Sequence[Derived],
    arguments: Mapping[str, object],
    outer: Mapping[str, Value],
    units: Unit | None,
    place: Place,
    argument_units: Unit | None = None,
) -> Resolved:
    """Return the values of all names of a template; faults of the template are reported.

    *arguments* are given from outside, their bare numbers in *argument_units*
    (without: the template's *units*); *outer* are names that are no parameters,
    such as ``board.caliper``; *place* is the template file's root.
    """
    parameters = [entry for entry in parameters if _is_free(entry, place / "parameters", outer)]
    derived = [entry for entry in derived if _is_free(entry, place / "derived", outer)]
    words = choice_words(parameters)
    declared = {*(entry.name for entry in parameters), *(entry.name for entry in derived)}
    known = declared | outer.keys() | words
    names = dict(outer)
    work = _Work(
        {parameter.name: parameter for parameter in parameters},
        value_formulas(parameters, derived, place, known),
        known,
        Scope(names, units, words),
        names,
        argument_units or units,
    )
    _take_arguments(work, arguments, derived)
    order, circles = in_order(work.formulas)
    for circle in circles:
        report_circle(circle, work.formulas)
    for name in order:
        _work_out(work, name)
    _check_limits(work, place)
    values = {name: names[name] for name in work.formulas if name in names}
    reasons = {name: _reason(work, name) for name in values}
    return Resolved(values, _all_refusals(work), reasons)


def _is_free(entry: Parameter | Derived, place: Place, outer: Mapping[str, Value]) -> bool:
    """Return whether the name is not one that is set from outside, or report it."""
    if entry.name in outer:
        message = f"{entry.name!r} has a meaning of its own in this kind of template"
        (place / entry.name).report_key("taken", message, "Call it otherwise.")
    return entry.name not in outer


def _take_arguments(
    work: _Work, arguments: Mapping[str, object], derived: Sequence[Derived]
) -> None:
    derived_names = {entry.name for entry in derived}
    for name, raw in arguments.items():
        try:
            if name not in work.parameters:
                raise _no_parameter(name, work.parameters, derived_names)
            work.given[name] = given_value(work.parameters[name], raw, work.units_shown)
        except Refusal as refusal:
            work.refusals.append((name, refusal))


def _no_parameter(name: str, parameters: Mapping[str, Parameter], derived: set[str]) -> Refusal:
    if name in derived:
        return Refusal("derived", f"{name!r} follows from other sizes and cannot be given")
    known = ", ".join(parameters)
    hint = suggestion(name, parameters)
    remedy = f"There are {known}." if parameters and not hint else ""
    return Refusal("unknown-parameter", f"there is no parameter {name[:40]!r}{hint}", remedy)


def _work_out(work: _Work, name: str) -> None:
    """Add the value of *name*, unless something that it needs has failed and was told."""
    if name in {refused for refused, _ in work.refusals}:
        return
    if name in work.given:
        work.names[name] = work.given[name]
        work.origins[name] = frozenset({name})
        return
    formula = work.formulas[name]
    if not _stands(work, formula):
        return
    with _telling(work, name, formula):
        value = value_said(formula.raw, work.scope)
        if name in work.parameters:
            value = as_type(value, work.parameters[name], work.scope)
        work.names[name] = value
        work.origins[name] = _origins(work, formula.needs)


def _origins(work: _Work, names: Iterable[str]) -> frozenset[str]:
    """Return the given names that *names* follow from."""
    return frozenset().union(*(work.origins.get(name, frozenset()) for name in names))


@contextmanager
def _telling(work: _Work, name: str, formula: Formula) -> Iterator[None]:
    """Tell a Refusal raised inside: to who gave the value that caused it, else to the author."""
    try:
        yield
    except Refusal as refusal:
        origins = _origins(work, formula.needs)
        if origins and refusal.code in _CAUSED_BY_VALUES:
            message = f"{name}: {refusal.message}"
            work.consequences.append((origins, Refusal(refusal.code, message, refusal.remedy)))
        else:
            with formula.place.collecting():
                raise


def _all_refusals(work: _Work) -> tuple[tuple[str, Refusal], ...]:
    """Return what was refused, and what else went wrong because of what was given.

    A consequence is told at the first of the names behind it, and not at all
    where one of them is refused anyway.
    """
    refused = {name for name, _ in work.refusals}
    consequences = [
        (next(name for name in work.parameters if name in origins), refusal)
        for origins, refusal in work.consequences
        if not origins & refused
    ]
    return (*work.refusals, *consequences)


def _stands(work: _Work, formula: Formula) -> bool:
    """Return whether all that the formula needs has its value."""
    return formula.needs <= work.names.keys() | work.scope.choices


def _check_limits(work: _Work, place: Place) -> None:
    for parameter in work.parameters.values():
        for key, raw in (("min", parameter.min), ("max", parameter.max)):
            here = place / "parameters" / parameter.name / key
            with here.collecting():
                if raw is not None:
                    _check_limit(work, parameter, key, formula_of(raw, here, work.known))


def _check_limit(work: _Work, parameter: Parameter, key: str, formula: Formula) -> None:
    if parameter.name not in work.names or not _stands(work, formula):
        return
    with _telling(work, parameter.name, formula):
        value = work.names[parameter.name]
        limit = _limit_value(parameter, formula, work.scope)
        if value.amount < limit.amount if key == "min" else value.amount > limit.amount:
            _tell_limit(work, parameter, key, formula, limit)


def _limit_value(parameter: Parameter, formula: Formula, scope: Scope) -> Value:
    if parameter.type is ParameterType.LENGTH:
        return length(size_of(formula.raw, scope))
    return number(number_of(formula.raw, scope))


def _tell_limit(
    work: _Work, parameter: Parameter, key: str, formula: Formula, limit: Value
) -> None:
    """Tell that a value is out of bounds: to who gave it or what it follows from, else the author."""
    name = parameter.name
    origins = _origins(work, {name, *formula.needs})
    units = work.units_shown if origins else work.scope.units
    value = work.names[name].shown(units)
    bound = "at least" if key == "min" else "at most"
    source = f" ({formula.written})" if formula.needs else ""
    message = f"{name} = {value}, but it must be {bound} {limit.shown(units)}{source}"
    if name in work.given:
        work.refusals.append((name, Refusal("out-of-range", message)))
    elif origins:
        refusal = Refusal("out-of-range", message, f"Give {name} as well.")
        work.consequences.append((origins, refusal))
    else:
        work.formulas[name].place.report("out-of-range", message)


def _reason(work: _Work, name: str) -> str:
    """Return why *name* has its value: given, usual, or the formula with its numbers."""
    units = work.units_shown
    shown = work.names[name].shown(units)
    formula = work.formulas[name]
    if name in work.given:
        return f"{shown}, given"
    needs = [need for need in work.names if need in formula.needs]
    if not needs:
        return f"{shown}, usual"
    numbers = ", ".join(f"{need} = {work.names[need].shown(units)}" for need in needs)
    return f"{formula.written} = {shown}, where {numbers}"

"""The tables ``[parameters]`` and ``[derived]``: which names a template has, and what they take."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ..documents import Place
from ..fields import Field, Kind, checked, name_of_kind, take
from .folding_keys import WORDS as FOLD_WORDS
from .syntax import LANGUAGE_WORDS, NAME

MAX_NAMES = 200  #: parameters and derived values together
MAX_CHOICES = 50
RESERVED = LANGUAGE_WORDS | {"i", "caliper", "middle", *FOLD_WORDS}


class ParameterType(StrEnum):
    """What a parameter takes."""

    LENGTH = "length"
    COUNT = "count"  # a whole number, 0 or more
    ANGLE = "angle"  # degrees
    CHOICE = "choice"
    FLAG = "flag"


@dataclass(frozen=True)
class Parameter:
    """A name that may be set from outside; *default*, *min* and *max* as the file says them."""

    name: str
    type: ParameterType
    default: Any
    help: str = ""
    min: Any = None
    max: Any = None
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Derived:
    """A name that follows from others."""

    name: str
    formula: Any


PARAMETER_FIELDS = (
    Field(
        "type",
        Kind.TEXT,
        True,
        words=tuple(kind.value for kind in ParameterType),
        help="length, count, angle, ...",
    ),
    Field("default", Kind.ANY, True, help="A value or a formula, so that it can be made as it is."),
    Field("help", Kind.TEXT),
    Field("min", Kind.SIZE),
    Field("max", Kind.SIZE),
    Field("choices", Kind.LIST),
)
_LIMITED = (ParameterType.LENGTH, ParameterType.COUNT, ParameterType.ANGLE)
_DEFAULT_KINDS: dict[ParameterType, tuple[Kind, ...]] = {
    ParameterType.LENGTH: (Kind.SIZE,),
    ParameterType.COUNT: (Kind.SIZE,),
    ParameterType.ANGLE: (Kind.SIZE,),
    ParameterType.CHOICE: (Kind.TEXT,),
    ParameterType.FLAG: (Kind.FLAG, Kind.TEXT),
}


def read_parameters(place: Place, table: Mapping[str, Any]) -> tuple[Parameter, ...]:
    """Return the parameters that *table* declares; all faults are reported."""
    _check_number(place, len(table))
    entries = [(place / name, name, entry) for name, entry in table.items()]
    parameters = tuple(_parameters(entries))
    words = choice_words(parameters)
    for name in table:
        _check_no_choice(place / name, name, words)
    return parameters


def read_derived(
    place: Place, table: Mapping[str, Any], parameters: Sequence[Parameter]
) -> tuple[Derived, ...]:
    """Return the derived values that *table* declares; all faults are reported."""
    _check_number(place, len(table) + len(parameters))
    words = choice_words(parameters)
    taken = {parameter.name for parameter in parameters}
    derived = []
    for name, formula in table.items():
        here = place / name
        _check_no_choice(here, name, words)
        if name in taken:
            here.report_key("taken", f"{name!r} is also a parameter", "Call one of them otherwise.")
        elif _is_name(here, name) and _is_formula(here, formula):
            derived.append(Derived(name, formula))
    return tuple(derived)


def choice_words(parameters: Iterable[Parameter]) -> frozenset[str]:
    """Return all words that can be chosen; they stand bare in expressions."""
    return frozenset(word for parameter in parameters for word in parameter.choices)


def _check_number(place: Place, count: int) -> None:
    if count > MAX_NAMES:
        place.report_key("too-many", f"{count} parameters and derived values; {MAX_NAMES} at most")


def _check_no_choice(place: Place, name: str, words: Collection[str]) -> None:
    if name in words:
        message = f"{name!r} is also a word that can be chosen"
        place.report_key("also-a-choice", message, "Call one of them otherwise.")


def _parameters(entries: Iterable[tuple[Place, str, object]]) -> Iterable[Parameter]:
    for place, name, entry in entries:
        is_named = _is_name(place, name)
        if not isinstance(entry, dict):
            remedy = 'Write { type = "length", default = 1 }.'
            place.report("wrong-kind", f"expected a table, got {name_of_kind(entry)}", remedy)
            continue
        fields = checked(place, entry, PARAMETER_FIELDS)
        if is_named and "type" in fields and "default" in fields:
            yield _parameter(place, name, fields)
            if fields["type"] == ParameterType.CHOICE and "choices" not in entry:
                remedy = 'Write choices = ["plain", "arched"].'
                place.report_key("missing", "'choices' is missing", remedy)


def _parameter(place: Place, name: str, fields: dict[str, Any]) -> Parameter:
    kind = ParameterType(fields["type"])
    _check_default(place / "default", fields["default"], kind)
    if kind not in _LIMITED:
        for key in ("min", "max"):
            _check_absent(place, fields, key, "has no limits")
    return Parameter(
        name,
        kind,
        fields["default"],
        fields.get("help", ""),
        fields.get("min"),
        fields.get("max"),
        _choices(place, fields, kind),
    )


def _check_default(place: Place, default: object, kind: ParameterType) -> None:
    wanted = _DEFAULT_KINDS[kind]
    if len(wanted) == 1 or not isinstance(default, bool | str):
        take(place, default, wanted[0])


def _check_absent(place: Place, fields: Mapping[str, Any], key: str, why: str) -> None:
    if key in fields:
        (place / key).report_key("not-here", f"a parameter of type {fields['type']} {why}")


def _choices(place: Place, fields: Mapping[str, Any], kind: ParameterType) -> tuple[str, ...]:
    if kind is not ParameterType.CHOICE:
        _check_absent(place, fields, "choices", "has no choices")
        return ()
    if "choices" not in fields:
        return ()
    entries = fields["choices"]
    if not 1 <= len(entries) <= MAX_CHOICES:
        message = f"expected 1 to {MAX_CHOICES} words, got {len(entries)}"
        (place / "choices").report("list-length", message)
    return tuple(_words(place / "choices", entries[:MAX_CHOICES]))


def _words(place: Place, entries: Sequence[object]) -> Iterable[str]:
    seen: set[str] = set()
    for index, entry in enumerate(entries):
        here = place / index
        if not isinstance(entry, str):
            take(here, entry, Kind.TEXT)
        elif entry in seen:
            here.report("twice", f"{entry!r} stands here twice")
        elif _is_word(here, entry):
            seen.add(entry)
            yield entry


def _is_name(place: Place, name: str) -> bool:
    if not NAME.fullmatch(name):
        remedy = "Begin with a small letter; small letters, digits and _ may follow."
        place.report_key("bad-name", f"{name[:40]!r} is not a name", remedy)
    elif name in RESERVED:
        place.report_key("reserved", f"{name!r} is a word of the language", "Call it otherwise.")
    return bool(NAME.fullmatch(name)) and name not in RESERVED


def _is_word(place: Place, word: str) -> bool:
    if not NAME.fullmatch(word):
        remedy = "Begin with a small letter; small letters, digits and _ may follow."
        place.report("bad-name", f"{word[:40]!r} is not a word that can be chosen", remedy)
    elif word in RESERVED:
        place.report("reserved", f"{word!r} is a word of the language", "Call it otherwise.")
    return bool(NAME.fullmatch(word)) and word not in RESERVED


def _is_formula(place: Place, formula: object) -> bool:
    return isinstance(formula, bool) or take(place, formula, Kind.SIZE) is not None

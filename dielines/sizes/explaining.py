"""Reasons as text: the formula in words, with its numbers, and the same for all in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from ..language.tokens import Token, TokenKind, tokens_of
from ..lengths import Length, Unit, show
from .exact import FINEST_FRACTION, exact_words, mixed_words
from .naming import grouped_names, names_of_sizes
from .reasons import Amount, Reason, Reasons

MOST_TERMS = 6  #: of a sum; a longer one is shown by its first and last
_LISTED = 3  #: names that are listed; more are shown as first .. last
_SPOKEN = {"*": "x"}


def why(reasons: Reasons, name: str) -> str:
    """Return why the sizes that *name* means are what they are, a line for each that they come from.

    Raises UsageError, with all names, where no size is called so.
    """
    asked = [reasons[known] for known in names_of_sizes(reasons, name)]
    lines: list[str] = []
    seen = {reason.name for reason in asked}
    waiting = [(0, group) for group in reversed(_grouped(asked))]
    while waiting:
        depth, alike = waiting.pop()
        lines.append("  " * depth + line_of(reasons, alike))
        inputs = [reasons[name] for name in alike[0].inputs if name not in seen]
        seen.update(reason.name for reason in inputs)
        waiting.extend((depth + 1, group) for group in reversed(_grouped(inputs)))
    return "\n".join(lines)


def reasons_behind(reasons: Reasons, name: str) -> dict[str, Reason]:
    """Return the reasons for the sizes that *name* means and for all that they come from.

    Raises UsageError where no size is called so.
    """
    found: dict[str, Reason] = {}
    waiting = list(names_of_sizes(reasons, name))
    while waiting:
        reason = reasons[waiting.pop(0)]
        if reason.name not in found:
            found[reason.name] = reason
            waiting.extend(reason.inputs)
    return found


def value_lines(reasons: Reasons) -> Iterator[str]:
    """Yield every size by its name, those of one group together."""
    width = max(map(len, reasons.by_name), default=0)
    for heading, names in grouped_names(reasons):
        yield f"{heading}:"
        for name in names:
            yield f"  {name:<{width}}  {_result(reasons[name].value, reasons.units)}"


def _grouped(inputs: Iterable[Reason]) -> list[list[Reason]]:
    """Return *inputs* with neighbours together that differ in nothing but their names."""
    return [list(group) for _, group in groupby(inputs, key=_but_for_name)]


def _but_for_name(reason: Reason) -> tuple[object, ...]:
    return (reason.value, reason.formula, reason.source, reason.note)


def line_of(reasons: Reasons, alike: Sequence[Reason]) -> str:
    """Return the line for sizes that have one reason: "spine = 4 x channel = 4 x 1/4 = 1 in"."""
    reason = alike[0]
    result = (_result if reason.formula else _with_unit)(reason.value, reasons.units)
    pieces = [_listed([each.name for each in alike])]
    if reason.formula:
        pieces += [_in_words(reason), _in_numbers(reason, reasons)]
    if pieces[-1] == _bare(reason.value, reasons):
        pieces.pop()
    remarks = "; ".join(remark for remark in (reason.source, reason.note) if remark)
    return " = ".join([*pieces, result]) + (f" ({remarks})" if remarks else "")


def formula_words(reason: Reason) -> str:
    """Return the formula as people read it: "photo_width + 2 x margin"."""
    return _in_words(reason) if reason.formula else ""


def _in_words(reason: Reason) -> str:
    if reason.is_sum:
        return " + ".join(_shortened(reason.inputs))
    return _spoken(reason.formula, {})


def _shortened(names: Sequence[str]) -> list[str]:
    return list(names) if len(names) <= MOST_TERMS else [*names[:2], "..", names[-1]]


def _in_numbers(reason: Reason, reasons: Reasons) -> str:
    """Return the formula with numbers for names; a sum with equal neighbours counted."""
    numbers = {name: _bare(reasons[name].value, reasons) for name in reason.inputs}
    if not reason.is_sum:
        return _spoken(reason.formula, numbers)
    counted = [
        (number, len(list(same))) for number, same in groupby(map(numbers.get, reason.inputs))
    ]
    return " + ".join(
        f"{times} x {number}" if times > 1 else str(number) for number, times in counted
    )


def _spoken(formula: str, numbers: dict[str, str]) -> str:
    """Return *formula* with its names replaced and its signs as people write them."""
    pieces, end = [], 0
    for token in tokens_of(formula):
        pieces.append(formula[end : token.offset])
        pieces.append(_piece(token, numbers))
        end = token.offset + len(token.text)
    return "".join(pieces)


def _piece(token: Token, numbers: dict[str, str]) -> str:
    if token.kind is TokenKind.WORD and token.text in numbers:
        number = numbers[token.text]
        return f"({number})" if number.startswith("-") else number
    return _SPOKEN.get(token.text, token.text)


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names) if len(names) <= _LISTED else f"{names[0]} .. {names[-1]}"


def _result(value: Amount, units: Unit) -> str:
    """Return *value* exactly and, where no ruler shows that, what to look for on one."""
    exact = _with_unit(value, units)
    if not isinstance(value, Length):
        return exact
    shown = show(value, units, FINEST_FRACTION)
    return exact if shown.removeprefix("≈ ") == shown else f"{exact} {shown}"


def _with_unit(value: Amount, units: Unit) -> str:
    return exact_words(value, units) if isinstance(value, Length) else mixed_words(value)


def _bare(value: Amount, reasons: Reasons) -> str:
    """Return *value* without its unit, where that is the unit of the book."""
    return _with_unit(value, reasons.units).removesuffix(f" {reasons.units}")

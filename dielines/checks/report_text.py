"""The report of the checks as lines for a terminal and as data for a program."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..book.book import Book
from ..book.join_words import listed
from ..lengths import Length, inches, show
from .checking import Found, Report
from .finding import Finding, Severity, Spot
from .registry import Rule
from .words import panel_words, part_words

#: Finest fraction of an inch in advice; half of it is less than a hand can cut.
DENOMINATOR = 64


def report_lines(book: Book, report: Report) -> Iterator[str]:
    """Yield the findings, the worst first, each with where, what and what to do.

    What is told in the same words of several parts is told once, with their names.
    """
    for alike in alike_but_for_parts(book, report.found):
        found, finding = alike[0], alike[0].finding
        where = spot_words(book, finding.spot)
        yield f"{finding.severity.value}: {found.rule}{where and f': {where}'}"
        yield f"  {sentence(finding.message)}"
        yield f"  {sentence(finding.remedy)}"
        if len(alike) > 1:
            yield f"  The same: {listed(_parts_words(book, alike[1:]))}."
        settings = (text for other in alike for text in settings_of(book, other.finding))
        yield from (f"  --set {text}" for text in dict.fromkeys(settings))
        yield ""
    for rule, reason, count in report.silenced:
        often = "" if count == 1 else f" ({count or 'no'} findings)"
        yield f"ignored: {rule}{often}: {reason}"


def alike_but_for_parts(book: Book, found: Sequence[Found]) -> list[list[Found]]:
    """Return the findings in their order, those together that differ in nothing but their part."""
    groups: dict[tuple[object, ...], list[Found]] = {}
    for one in found:
        finding, part = one.finding, one.finding.spot.part
        message = finding.message.replace(part_words(book, part), "") if part else finding.message
        key = (one.rule, finding.severity, finding.spot.panel, message, finding.remedy)
        number = 0
        while any(other.finding.spot.part == part for other in groups.get((*key, number), ())):
            number += 1  # twice on one part: each is told by itself
        groups.setdefault((*key, number), []).append(one)
    return list(groups.values())


def _parts_words(book: Book, found: Sequence[Found]) -> list[str]:
    return [part_words(book, other.finding.spot.part) for other in found]


def summary(report: Report) -> str:
    """Return how many findings there are of each severity, in a line.

    >>> summary(Report((), ()))
    'nothing was found'
    """
    counts = [(len(report.of(severity)), severity.value) for severity in Severity]
    told = [f"{count} {word}{'s' if count > 1 else ''}" for count, word in counts if count]
    return ", ".join(told) or "nothing was found"


def sentence(text: str) -> str:
    """Return *text* with a capital first and a full stop last.

    >>> sentence("the back is too long")
    'The back is too long.'
    """
    end = "" if text.endswith((".", "?", "!")) else "."
    return f"{text[:1].upper()}{text[1:]}{end}"


def spot_words(book: Book, spot: Spot) -> str:
    """Return where something is: the letter and title of a part, its panel; empty for the book."""
    if not spot.part:
        return ""
    entry = book.part(spot.part)
    words = f"{entry.letter} {entry.title}"
    return f"{words}, {panel_words(book, spot.part, spot.panel)}" if spot.panel else words


def settings_of(book: Book, finding: Finding) -> list[str]:
    """Return the advice of a finding as ``--set`` takes it, quoted where a space needs it."""
    return [
        f'"{text}"' if " " in text else text
        for text in (f"{a.setting}={value_text(book, a.value)}" for a in finding.advice)
    ]


def value_text(book: Book, value: Length | str) -> str:
    """Return a value as a person would write it into the book file.

    A length that no fraction of an inch gives exactly is written in mm, so that
    what was advised is what is set.
    """
    if isinstance(value, str):
        return value
    if book.units == "in" and (value / inches(1) * DENOMINATOR).denominator == 1:
        return show(value, "in", DENOMINATOR).removesuffix(" in")
    exact = float(value.mm)
    text = f"{exact:.4f}".rstrip("0").rstrip(".")
    return text if book.units == "mm" else f"{text} mm"


def as_data(book: Book, report: Report) -> dict[str, Any]:
    """Return the report as plain tables and lists; lengths and places in mm."""
    return {
        "title": book.title,
        "holds": report.holds,
        "findings": [_found_data(book, found) for found in report.found],
        "ignored": [
            {"rule": rule, "reason": reason, "findings": count}
            for rule, reason, count in report.silenced
        ],
    }


def _found_data(book: Book, found: Found) -> dict[str, Any]:
    finding, spot = found.finding, found.finding.spot
    amount = finding.amount
    return {
        "rule": found.rule,
        "severity": finding.severity.value,
        "part": spot.part or None,
        "letter": book.part(spot.part).letter if spot.part else None,
        "panel": spot.panel or None,
        "point": [float(spot.point.x), float(spot.point.y)] if spot.point else None,
        "amount": {"value": float(amount.value), "unit": amount.unit} if amount else None,
        "message": finding.message,
        "remedy": finding.remedy,
        "set": {a.setting: value_text(book, a.value) for a in finding.advice},
    }


def rule_rows(rules: Mapping[str, Rule]) -> list[Sequence[str]]:
    """Return a row for each rule: its name, its worst severity, why, and its source."""
    return [(r.NAME, r.WORST.value, r.WHY, r.SOURCE) for r in rules.values()]

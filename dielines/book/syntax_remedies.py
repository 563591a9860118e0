"""What is wrong with a book file that is no TOML, and what to do, for the commonest slips."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from ..errors import Fault

_SLIPS: tuple[tuple[str, str], ...] = (
    (r"[“”„‘’]", 'Use plain quotes: ".'),
    (r"^\s*\[\s*every\s*\.\s*[^\"\]]*[\s][^\"\]]*\]", 'Put quotes round the kind: [every."top pocket"].'),
    (r"^[^=]*=\s*\"[^\"]*\d\s*\"[^,\]]", "A quote ends the text; write in instead of an inch sign."),
    (r"^\s*[\w-]+\s*=\s*[^\"'\[{\s][^\"']*$", 'Put quotes round words and fractions: flap = "2 1/2".'),
    (r"^\s*[\w-]+(\s+[\w-]+)+\s*=", "A key is one word; join its words with _ ."),
    (r"^\s*[\w-]+\s*:", 'Write = between a key and its value: flap = "2 1/2".'),
)  # fmt: skip
_BETWEEN = 'Write a comma between two entries, and each in quotes: ["flap", "plain leaf"].'
_TWICE = "overwrite"
_NO_QUOTE = (
    "illegal character '\\n'",
    "illegal character '\\r",
    "unterminated string",
    'expected "\'"',
)
_NO_BRACKET = "unclosed array"
_BEGINS = re.compile(r"\s*(?:$|#|\[|[\w.\"-]+\s*=)")  #: a line that begins something new
_OPENS = re.compile(r"=\s*\[")


def with_remedies(faults: Iterable[Fault], path: FilePath) -> tuple[Fault, ...]:
    """Return *faults* of the file at *path*; those that say it is no TOML in words, with what to do."""
    lines: list[str] = []
    told = []
    for fault in faults:
        if fault.code == "not-toml":
            lines = lines or path.read_text("utf-8-sig").splitlines()
            fault = _told(fault, lines)
        told.append(fault)
    return tuple(told)


def _told(fault: Fault, lines: Sequence[str]) -> Fault:
    if _TWICE in fault.message or "twice" in fault.message:
        return replace(fault, remedy="The same key or header stands in the file twice; keep one.")
    line = _line(lines, fault.line)
    remedy = next((remedy for slip, remedy in _SLIPS if re.search(slip, line)), fault.remedy)
    if any(words in fault.message for words in _NO_QUOTE):
        remedy = remedy or "Close the text with the sign that opens it."
        line_number = fault.line if fault.column else _odd_line(lines) or fault.line
        message = "a quote is missing on this line"
        return replace(fault, line=line_number, message=message, remedy=remedy)
    if _NO_BRACKET in fault.message:
        return _unclosed_list(fault, lines, remedy)
    return replace(fault, remedy=remedy)


def _line(lines: Sequence[str], number: int) -> str:
    """Return a line by its number; the last one that holds something behind the end."""
    if number <= len(lines) and lines[number - 1].strip():
        return lines[number - 1]
    return next((line for line in reversed(lines) if line.strip()), "")


def _odd_line(lines: Sequence[str]) -> int:
    """Return the number of the first line where a quote has no other, or 0."""
    odd = (n for n, line in enumerate(lines, 1) if line.count('"') % 2 or line.count("'") % 2)
    return next(odd, 0)


def _unclosed_list(fault: Fault, lines: Sequence[str], remedy: str) -> Fault:
    """Return what a list lacks: its end, or a sign between its entries."""
    rest = lines[fault.line - 1][fault.column - 1 :] if 0 < fault.line <= len(lines) else ""
    if fault.column and fault.column > 1 and not _BEGINS.fullmatch(rest):
        message = "a comma or a quote is missing in this list"
        return replace(fault, message=message, remedy=remedy or _BETWEEN)
    start = max(
        (n for n, line in enumerate(lines[: fault.line], 1) if _OPENS.search(line)), default=0
    )
    remedy = (
        f"Close the list that begins in line {start} with ]." if start else "Close the list with ]."
    )
    return replace(fault, message="a ] is missing", remedy=remedy)

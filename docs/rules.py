"""The page of all rules, made of what each rule says of itself; run by ``make pictures``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path as FilePath

from dielines.checks.finding import Severity
from dielines.checks.registry import Rule, rules
from dielines.files import write_all

FOLDER = FilePath(__file__).parent
PAGE = "rules.md"
HEADINGS = {
    Severity.ERROR: "What cannot be made, or does not hold",
    Severity.WARNING: "What can be made, and will disappoint",
    Severity.REMARK: "Matters of taste, custom and handbooks",
}
HEAD = """# The rules

`dielines check` holds a book to these rules, and so does `dielines make` before it writes a file.
This page is made from the rules themselves (`make pictures`). [Checking a book](checks.md) tells
how to read what they find, and how to silence one.
"""


def page_text(all_rules: Iterable[Rule]) -> str:
    """Return the page of *all_rules*, under the worst that each can say."""
    listed = list(all_rules)
    return "\n".join([HEAD, *(line for s in Severity for line in _section(s, listed))])


def _section(severity: Severity, listed: Iterable[Rule]) -> Iterator[str]:
    rows = [_row(rule) for rule in listed if rule.WORST is severity]
    if rows:
        yield from [f"## {HEADINGS[severity]}", "", "| rule | why | source |", "|---|---|---|"]
        yield from [*sorted(rows), ""]


def _row(rule: Rule) -> str:
    cells = (rule.NAME, rule.WHY, rule.SOURCE)
    return f"| {' | '.join(' '.join(cell.split()).replace('|', '/') for cell in cells)} |"


if __name__ == "__main__":
    write_all(FOLDER, {PAGE: page_text(rules().values()).encode()})

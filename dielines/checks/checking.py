"""All rules held against one book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from ..book.words import spoken
from ..folding.folded_book import FoldedBook
from .finding import Finding, Severity
from .registry import Rule, rules


@dataclass(frozen=True, slots=True)
class Found:
    """A finding with the name of the rule that found it."""

    rule: str
    finding: Finding


@dataclass(frozen=True)
class Report:
    """What all rules found, the worst first; *silenced* counts what the book bade to ignore.

    *silenced* has the name of the rule, the reason that the book gives, and how
    often the rule would have spoken.
    """

    found: tuple[Found, ...]
    silenced: tuple[tuple[str, str, int], ...]

    def of(self, severity: Severity) -> tuple[Found, ...]:
        """Return the findings of this severity."""
        return tuple(found for found in self.found if found.finding.severity is severity)

    @property
    def holds(self) -> bool:
        """Whether there is no error among the findings."""
        return not self.of(Severity.ERROR)


def check_book(folded: FoldedBook, chosen: Mapping[str, Rule] | None = None) -> Report:
    """Return what the *chosen* rules (all of them by default) find in the book."""
    ignored = {spoken(name): reason for name, reason in folded.book.request.ignored.items()}
    found: list[Found] = []
    silenced: list[tuple[str, str, int]] = []
    for name, rule in (rules() if chosen is None else chosen).items():
        findings = list(_distinct(rule.check(folded)))
        if spoken(name) in ignored:
            silenced.append((name, ignored[spoken(name)], len(findings)))
        else:
            found += [Found(name, finding) for finding in findings]
    return Report(tuple(sorted(found, key=_rank)), tuple(silenced))


def _distinct(findings: Iterable[Finding]) -> Iterator[Finding]:
    seen = set()
    for finding in findings:
        if finding not in seen:
            seen.add(finding)
            yield finding


def _rank(found: Found) -> int:
    return list(Severity).index(found.finding.severity)

"""Why each size is what it is: its formula over other sizes, or who says it.

A derived size is calculated from the very text that is shown as its reason, so
that formula and number cannot disagree.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from ..documents import Refusal
from ..errors import Defect
from ..language.expressions import Scope, number_of, parse, size_of
from ..language.syntax import names_in
from ..language.values import Value
from ..language.values import length as length_value
from ..language.values import number as number_value
from ..lengths import ZERO, Length, Unit
from .usual import Origin, UsualSizes

Amount = Length | Fraction  #: a size, or a plain number such as how many openings there are

MOST_COMPARED = 6  #: sizes that one formula compares

SOURCES = {Origin.USUAL: "usual", Origin.BOOK: "this book"}


@dataclass(frozen=True)
class Reason:
    """One size and why."""

    name: str  #: small letters, digits and _; a dot after the thing it is of: ``page_2.depth``
    value: Amount
    formula: str = ""  #: an expression of the template language; empty where it was given
    inputs: tuple[str, ...] = ()  #: the names in the formula
    is_sum: bool = False  #: whether the formula is a sum of the inputs and nothing else
    source: str = ""  #: who says it: "usual", "page 2: flap"
    note: str = ""  #: what governed, or what else a person should know


@dataclass(frozen=True)
class Reasons:
    """All sizes of a book, in the order in which they were found."""

    units: Unit
    by_name: Mapping[str, Reason]

    def __getitem__(self, name: str) -> Reason:
        return self.by_name[name]

    def length(self, name: str) -> Length:
        """Return the size called *name*; raises KeyError where it is none."""
        value = self.by_name[name].value
        if not isinstance(value, Length):
            raise KeyError(f"{name} is a number, no size")
        return value


class Sizes:
    """Sizes of one book while they are being found; each is found once.

    >>> from dielines.sizes.usual import usual_sizes
    >>> sizes = Sizes("in")
    >>> sizes.take_usual(usual_sizes("in"))
    >>> sizes.derive("page_width", "5 in + 2 * margin").mm == Fraction(254, 10) * Fraction(21, 4)
    True
    """

    def __init__(self, units: Unit) -> None:
        """Begin with no sizes; bare numbers in formulas count in *units*."""
        self.units = units
        self._reasons: dict[str, Reason] = {}
        self._values: dict[str, Value] = {}

    def __contains__(self, name: str) -> bool:
        return name in self._reasons

    def length(self, name: str) -> Length:
        """Return a size found before; raises KeyError."""
        value = self._reasons[name].value
        if not isinstance(value, Length):
            raise KeyError(f"{name} is a number, no size")
        return value

    def take(self, name: str, value: Length, source: str, note: str = "") -> Length:
        """Record the size *name* that *source* says, and return it."""
        self._add(Reason(name, value, source=source, note=note))
        return value

    def count(self, name: str, value: int, source: str, note: str = "") -> Fraction:
        """Record the plain number *name* that *source* says, and return it."""
        self._add(Reason(name, Fraction(value), source=source, note=note))
        return Fraction(value)

    def take_usual(self, usual: UsualSizes) -> None:
        """Record all usual sizes that are lengths."""
        for name, value in usual.lengths().items():
            self.take(name, value, SOURCES[usual[name].origin])

    def derive(self, name: str, formula: str, note: str = "") -> Length:
        """Record the size *name* that *formula* gives from sizes found before, and return it.

        The result may be negative: what that means is known to whoever asks.
        """
        value = Length(self._calculated(name, formula, size_of))
        self._add(Reason(name, value, formula, _inputs(formula), note=note))
        return value

    def derive_number(self, name: str, formula: str, note: str = "") -> Fraction:
        """Record the plain number *name* that *formula* gives, and return it."""
        value = self._calculated(name, formula, number_of)
        self._add(Reason(name, value, formula, _inputs(formula), note=note))
        return value

    def total(self, name: str, terms: Sequence[str], note: str = "") -> Length:
        """Record the size *name*, the sum of any number of sizes found before; return it."""
        value = sum((self.length(term) for term in terms), ZERO)
        formula = " + ".join(terms) or "0"
        self._add(Reason(name, value, formula, tuple(terms), is_sum=bool(terms), note=note))
        return value

    def largest(self, name: str, candidates: Sequence[str]) -> Length:
        """Record the size *name*, the largest of sizes found before, and which governs.

        Of many candidates the formula names only the largest ones.
        """
        governing = max(candidates, key=self.length)
        note = f"{governing} governs" if len(candidates) > 1 else ""
        if len(candidates) > MOST_COMPARED:
            largest = sorted(candidates, key=self.length, reverse=True)[:MOST_COMPARED]
            note = f"{governing} governs, the first of the largest of {len(candidates)}"
            candidates = [candidate for candidate in candidates if candidate in largest]
        return self.derive(name, f"max({', '.join(candidates)})", note)

    def reasons(self) -> Reasons:
        """Return what was found so far."""
        return Reasons(self.units, MappingProxyType(dict(self._reasons)))

    def _calculated(
        self, name: str, formula: str, reader: Callable[[str, Scope], Fraction]
    ) -> Fraction:
        try:
            return reader(formula, Scope(self._values, self.units))
        except Refusal as problem:
            raise Defect(f"{name} = {formula}: {problem.message}") from problem

    def _add(self, reason: Reason) -> None:
        if reason.name in self._reasons:
            raise Defect(f"{reason.name!r} has a reason already")
        self._reasons[reason.name] = reason
        self._values[reason.name] = _as_value(reason.value)


def _inputs(formula: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name.name for name in names_in(parse(formula).root)))


def _as_value(amount: Amount) -> Value:
    return length_value(amount.mm) if isinstance(amount, Length) else number_value(amount)

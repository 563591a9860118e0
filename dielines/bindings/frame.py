"""What a binding is given beside the pages: sizes, materials, templates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction

from ..documents import Refusal
from ..language.building import ArgumentRefused, Built, Graft, build, with_graft
from ..language.library import Library
from ..language.template import Template
from ..language.values import Value, flag, length, number, word
from ..lengths import Length
from ..sizes.reasons import Sizes
from ..sizes.usual import UsualSizes


class SpineRule(Enum):
    """How the width of the spine is found when the book gives no number."""

    USUAL = "usual"
    TO_FIT = "to fit"


class SizesRefused(Exception):
    """Sizes of the book that a part of the binding or the case cannot have."""

    def __init__(self, words: str, refusals: Sequence[tuple[str, Refusal]]) -> None:
        """Keep what the part is called, and the name of each size with why it is refused."""
        super().__init__(f"{words}: " + "; ".join(refusal.message for _, refusal in refusals))
        self.words = words
        self.refusals = tuple(refusals)


@contextmanager
def _refusing(template: Template, sizes: Mapping[str, str]) -> Iterator[None]:
    """Say what a template refuses by the names that the book has for its sizes."""
    try:
        yield
    except ArgumentRefused as refused:
        named = [(sizes.get(name, name), refusal) for name, refusal in refused.refusals]
        raise SizesRefused(template.words, named) from None


@dataclass(frozen=True)
class Frame:
    """The sizes found so far and what everything is made of.

    *calipers* gives the thickness of each stock as templates call it (cardstock,
    board, reinforcing, covering), mm.
    """

    sizes: Sizes
    usual: UsualSizes
    library: Library
    calipers: Mapping[str, Fraction]
    spine: Length | SpineRule
    extra_page_in_back: bool  #: of an odd book; usually in the front half
    longest_strip: Length | None  #: as high as a page, of the pages' stock; None: no sheet is known
    #: Pages with their edges; each with the page it was made of, whose id then stays its own.
    _bound: dict[object, tuple[Built, Built]] = field(
        default_factory=dict, repr=False, compare=False
    )

    def built(self, template: str, sizes: Mapping[str, str], **settings: object) -> Built:
        """Return what *template* makes; raises SizesRefused.

        *sizes* gives for each parameter the name of the size that it takes.
        """
        found = self.library.find(template)
        with _refusing(found, sizes):
            values = self._values(sizes, settings)
            return build(found, values, self.calipers, argument_units=self.sizes.units)

    def with_edge(
        self, page: Built, template: str, sizes: Mapping[str, str], **settings: object
    ) -> Built:
        """Return *page* with the fragment *template* at its bound edge; raises SizesRefused.

        Raises TemplateError where there is no place for it. Pages that are alike,
        which are one object, are bound once: half the time of a large book.
        """
        found = self.library.find(template)
        values = self._values(sizes, settings)
        key = (id(page), template, *sorted((name, repr(value)) for name, value in values.items()))
        if key not in self._bound:
            with _refusing(found, sizes):
                graft = Graft(found, values, self.sizes.units)
                self._bound[key] = page, with_graft(page, graft, self.calipers)
        return self._bound[key][1]

    def _values(self, sizes: Mapping[str, str], settings: Mapping[str, object]) -> dict[str, Value]:
        lengths = {name: self.sizes.length(size) for name, size in sizes.items()}
        return values_of({**lengths, **settings})

    def caliper(self, stock: str) -> Length:
        """Return the thickness of a stock as templates call it."""
        return Length(self.calipers[stock])


def values_of(arguments: Mapping[str, object]) -> dict[str, Value]:
    """Return Python values as values of the template language."""
    return {name: _value(argument) for name, argument in arguments.items()}


def _value(argument: object) -> Value:
    if isinstance(argument, Value):
        return argument
    if isinstance(argument, Length):
        return length(argument.mm)
    if isinstance(argument, bool):
        return flag(argument)
    if isinstance(argument, int | Fraction):
        return number(argument)
    return word(str(argument))

"""What a binding is given beside the pages: sizes, materials, templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..language.building import Built, Graft, build
from ..language.library import Library
from ..language.values import Value, flag, length, number, word
from ..lengths import Length
from ..sizes.reasons import Sizes
from ..sizes.usual import UsualSizes


class SpineRule(Enum):
    """How the width of the spine is found when the book gives no number."""

    USUAL = "usual"
    TO_FIT = "to fit"


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

    def built(self, template: str, **arguments: object) -> Built:
        """Return what the built-in *template* makes with these sizes."""
        return build(self.library.find(template), values_of(arguments), self.calipers)

    def graft(self, template: str, **arguments: object) -> Graft:
        """Return the fragment *template* with these sizes."""
        return Graft(self.library.find(template), values_of(arguments))

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

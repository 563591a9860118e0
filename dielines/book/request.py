"""What a book file asks for, as plain values: the book, its pages, what they hold.

Everything here is as the person wrote it, checked one entry at a time; nothing
is composed yet. Parameters of page kinds keep their place in the file, so that
what a template says against them later is told at the right line.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from ..documents import Document, Place
from ..lengths import Length, Unit
from ..sizes.usual import UsualSizes
from ..workshop.sizes import Size
from .entries import Given


class SizeKind(Enum):
    """What the size of the book is the size of."""

    PHOTO = "photo"
    PAGE = "page"
    BOARD = "board"
    SHEET = "sheet"


class PageEdge(Enum):
    """An edge of a page; left and right change places in the middle of a book."""

    HEAD = "head"
    TAIL = "tail"
    SPINE = "spine"
    FORE_EDGE = "fore-edge"


class Mats(Enum):
    """Which sides of a page get a decorative mat."""

    NONE = "none"
    INNER = "inner side"
    OUTER = "outer side"
    BOTH = "both sides"


class Looks(Enum):
    """Where the inner side of a page looks: its flaps fold that way, its pockets the other."""

    MIDDLE = "middle"
    COVER = "cover"


class Half(Enum):
    """One of the halves of a book, before and behind its middle opening."""

    FRONT = "front half"
    BACK = "back half"


class Rule(Enum):
    """How a size is found that the book gives no number for."""

    TO_FIT = "to fit"  #: from paper and contents
    USUAL = "usual"  #: from the usual sizes


@dataclass(frozen=True)
class SizeRule:
    """The one size that drives all others."""

    kind: SizeKind
    sides: Size
    place: Place = field(compare=False, repr=False)


@dataclass(frozen=True)
class Holds:
    """Something that goes into a pocket, behind a flap or onto a page."""

    what: str
    size: Size
    thick: Length | None  #: of one; None where the book does not say
    count: int


@dataclass(frozen=True)
class PageRequest:
    """One page; *given* holds the parameters of its template that the book sets."""

    number: int  #: from 1, from the front cover to the back cover
    kind: str  #: name of a template
    given: Mapping[str, Given]
    photo: Size | None  #: where it differs from the book's
    mats: Mats
    holds: tuple[Holds, ...]
    bound: PageEdge
    looks: Looks
    note: str
    place: Place = field(compare=False, repr=False)


@dataclass(frozen=True)
class BookRequest:
    """A book file, read and checked.

    *document* takes what is found against it later; ``document.settle()`` then
    raises all of it at once.
    """

    title: str
    units: Unit
    size: SizeRule
    binding: str  #: name of a binding
    pages: tuple[PageRequest, ...]
    usual: UsualSizes
    spine: Length | Rule
    extra_page: Half  #: the half that has one page more, where their number is odd
    paper: Mapping[str, Given]  #: role -> name of a material of the workshop
    copies: int
    spares: int  #: of each part, per book
    ignored: Mapping[str, str]  #: rule -> why it shall be silent
    document: Document = field(compare=False, repr=False)

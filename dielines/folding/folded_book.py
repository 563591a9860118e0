"""A book with all that folding and binding make of it, each worked out when it is first asked for.

The frame of the book is that of a closed book that lies before its reader, front
cover up: x runs from the spine to the fore-edge (0 at the binding edge of the
pages, where channels begin), y from tail to head (0 at the tail of the pages),
z from the back cover to the front cover. Millimetres; 0 of z is the inside of
the back board when the channels stand upright.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ..book.book import Book
from ..workshop.workshop import Workshop
from .folded_part import FoldedPart

if TYPE_CHECKING:
    from .assembly import Assembly
    from .thickness import Thickness


@dataclass(frozen=True)
class FoldedBook:
    """A composed book, folded and bound; what checks and pictures look at."""

    book: Book
    workshop: Workshop

    @cached_property
    def parts(self) -> Mapping[str, FoldedPart]:
        """Every part folded, by the key of its `BookPart`; equal parts are folded once."""
        from .folded_parts import folded_parts

        return folded_parts(self.book)

    @cached_property
    def assembly(self) -> Assembly:
        """The closed book: where every panel of every part is."""
        from .assembly import assembled

        return assembled(self.book, self.parts)

    @cached_property
    def thickness(self) -> Thickness:
        """How thick the closed book is, upright and pressed, and what is too narrow for that."""
        from .thickness import thickness_of

        return thickness_of(self.book, self.parts, self.assembly)

"""A page with what its binding added to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from ..errors import TemplateError
from ..language.building import Built
from ..part import Part, Side
from ..part_motion import mirrored
from ..paths import Number
from ..workshop.roles import ROLE_OF_STOCK
from .bound import Body, BoundPart, Join, Towards
from .joining import own_joins, template_join


@dataclass(frozen=True)
class BoundPage:
    """A page with what the binding added; *key* names its bound part in files."""

    body: Body
    key: str
    parts: tuple[BoundPart, ...]
    names: Mapping[str, str]  #: the template's name of each part -> its key
    half: Towards

    @property
    def page(self) -> Part:
        """The bound part, as it lies in the book."""
        return self.parts[0].part

    def own_joins(self) -> Iterator[Join]:
        """Yield the joins inside the page: seams first, then what its template declares."""
        for entry in self.parts:
            yield from own_joins(entry.key, entry.part)
        parts = {name: self._part(key) for name, key in self.names.items()}
        for join in self.body.built.joins:
            yield template_join(join, self.names, parts)

    def _part(self, key: str) -> Part:
        return next(entry.part for entry in self.parts if entry.key == key)

    @property
    def bound_panel(self) -> str:
        """The panel at whose edge the page is bound."""
        return self.body.bound_panel

    @property
    def is_bound_at_left(self) -> bool:
        """Whether the bound edge is the left one of its panel, as the part lies in the book."""
        assert self.page.bound is not None
        return self.page.bound.side == "left"

    @property
    def towards(self) -> str:
        """The side of the page that looks to its own cover: outer as usual, or inner."""
        return "inner" if self.body.looks is self.half else "outer"

    def bound_x(self) -> Number:
        """Return where the bound edge stands across the part, mm."""
        assert self.page.bound is not None
        return self.page.bound.start.x

    def bottom(self) -> Number:
        """Return the lower end of the bound edge, mm."""
        assert self.page.bound is not None
        return min(self.page.bound.start.y, self.page.bound.end.y)

    def side_towards(self, cover: Towards) -> Side:
        """Return the side of its paper that looks to *cover*."""
        return Side.FACE if self.body.looks is cover else Side.REVERSE


class PagesRefused(Exception):
    """Pages that the binding cannot hold."""

    def __init__(self, problems: Mapping[int, str]) -> None:
        """Keep why, by the number of each page."""
        super().__init__("; ".join(f"page {n}: {text}" for n, text in problems.items()))
        self.problems = dict(problems)


def bound_pages(bodies: Iterable[Body], bind: Callable[[Body], BoundPage]) -> list[BoundPage]:
    """Return all pages as *bind* makes them; raises PagesRefused with all that cannot be held."""
    pages, problems = [], {}
    for body in bodies:
        try:
            pages.append(bind(body))
        except TemplateError as problem:
            problems[body.number] = "; ".join(fault.message for fault in problem.faults[:3])
    if problems:
        raise PagesRefused(problems)
    return pages


def bound_page(body: Body, built: Built, half: Towards) -> BoundPage:
    """Return the page that *built* makes, as it lies in the book; its bound part comes first.

    Who sees its inner side has the spine at the left in the back half, where that
    side looks to the front, and at the right in the front half. A map that is
    drawn for the other half is mirrored, with all that the binding added to it.
    """
    is_left = body.looks is Towards.FRONT
    assert body.page.bound is not None
    is_drawn_so = (body.page.bound.side == "left") == is_left
    names: dict[str, str] = {}
    parts = []
    for part in sorted(built.parts, key=lambda part: part.bound is None):
        words = body.words if part.bound else part.name.replace("_", " ")
        key = _key(body.number, part, names)
        names.setdefault(part.name, key)
        lying = part if is_drawn_so else mirrored(part)
        role = ROLE_OF_STOCK.get(part.stock, "pages")
        parts.append(BoundPart(key, f"page {body.number}: {words}", lying, role))
    return BoundPage(body, f"page-{body.number}", tuple(parts), names, half)


def _key(number: int, part: Part, names: Mapping[str, str]) -> str:
    """Return the name of a part in files; the page itself goes by its number alone.

    *names* are those of the parts before it: what a binding adds may be called
    like a part of the page.
    """
    if part.bound:
        return f"page-{number}"
    words = part.name.replace("_", "-")
    return f"page-{number}-binding-{words}" if part.name in names else f"page-{number}-{words}"

"""How thick the closed book is, and what would be right.

Two thicknesses: *upright*, with channels and gussets standing as wide as they are
scored, and *pressed*, with materials alone. All lengths are millimetres (floats).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ..book.book import Book
from .bends import Bend, bends_of
from .columns import Columns, TwoThicknesses, columns_of
from .depths import (
    overs,
    pressed_heights,
    sorted_layers,
    upright_heights,
)
from .folded_part import FoldedPart
from .layer_order import LayerOrder
from .levels import BOARDS, LEVEL, Box, PanelKey, Places
from .pockets import Pocket, pockets_of
from .stack import Stack, stack_of, without_contents
from .standing import standing_heights
from .walls import Wall, walls_of

if TYPE_CHECKING:
    from .assembly import Assembly

#: How far from an edge still is at that edge: the narrowest tab that a page may hang by, mm.
EDGE = 6.0


@dataclass(frozen=True, slots=True)
class PocketDepth:
    """How much room a pocket has from face to face when the book is upright and it is empty."""

    part: str
    panels: Pocket
    depth: float  #: from crease to crease, as scored
    clear: float  #: between the faces of front and back
    under_seam: float  #: the same where its seam lies between; as *clear* where there is none


@dataclass(frozen=True, slots=True)
class RightSizes:
    """Sizes that would be right for the layers and contents there are, mm, not rounded.

    *walls* are the least widths of gussets and channels; *spine* holds the channels as
    they are with the play that the book wants; *joint* is at least two boards thick
    (common practice).
    """

    walls: Mapping[PanelKey, float]
    spine: float
    joint: float


@dataclass(frozen=True)
class Thickness:
    """All that is known of the thickness of a closed book."""

    stack: Stack
    upright: Mapping[
        PanelKey, float
    ]  #: heights of panels' middles over the inside of the back board
    pressed: Mapping[PanelKey, float]
    columns: Columns
    at_binding: TwoThicknesses  #: upright it is what the spine must hold, with nothing in the pages
    at_fore_edge: TwoThicknesses  #: in the middle between head and tail
    at_seams: TwoThicknesses  #: along the fore-edge where it is thickest
    thickest: TwoThicknesses
    spine: float  #: the distance of the boards' insides: the width of the spine board
    gape: float  #: outer half pressed less binding upright: below 0 the book closes to a wedge
    walls: tuple[Wall, ...]
    pockets: tuple[PocketDepth, ...]
    right: RightSizes
    bends: tuple[Bend, ...]
    circles: tuple[tuple[PanelKey, ...], ...]  #: panels each of which lies over the one before

    @property
    def play(self) -> float:
        """What the spine has more than the pages need; below 0 they do not fit."""
        return self.spine - self.at_binding.upright

    @cached_property
    def walls_by_panel(self) -> Mapping[PanelKey, Wall]:
        """The gussets and channels by their part and panel."""
        return {(wall.part, wall.panel): wall for wall in self.walls}


def thickness_of(book: Book, parts: Mapping[str, FoldedPart], assembly: Assembly) -> Thickness:
    """Return the two thicknesses of a closed book, and what follows from them."""
    stack = stack_of(book, parts, assembly.places)
    bends = tuple(_bends(book))
    if not stack.levels:
        return _nothing(book, stack, spine_of(book, assembly.places), bends)
    ground = stack.boards[0] if stack.boards else _lowest(stack)
    empty = without_contents(stack)
    standing = standing_heights(empty, ground)
    order = LayerOrder(stack, standing)
    pairs = list(order.pairs())
    layers = sorted_layers(stack.levels, overs(stack, pairs))
    upright = upright_heights(layers.overs, stack.links, standing, ground)
    hollow, at_rest = layers, upright
    if empty is not stack:
        hollow = sorted_layers(stack.levels, overs(empty, pairs))
        at_rest = upright_heights(hollow.overs, stack.links, standing, ground)
    columns = columns_of(stack, upright.heights)
    binding = TwoThicknesses(
        _block(stack, at_rest.heights), columns.most(_strip(columns, 0)).pressed
    )
    fore_edge = columns.most(_middle(_strip(columns, 1)))
    walls = tuple(walls_of(order, layers, hollow, upright.short))
    return Thickness(
        stack=stack,
        upright=upright.heights,
        pressed=pressed_heights(layers, _lowest_places(stack, ground)),
        columns=columns,
        at_binding=binding,
        at_fore_edge=fore_edge,
        at_seams=columns.most(_strip(columns, 1)),
        thickest=columns.most(columns.whole),
        spine=spine_of(book, assembly.places),
        gape=columns.most(_outer_half(columns)).pressed - binding.upright,
        walls=walls,
        pockets=tuple(_pockets(empty, at_rest.heights)),
        right=_right_sizes(book, walls, binding.upright),
        bends=bends,
        circles=layers.circles,
    )


def _nothing(book: Book, stack: Stack, spine: float, bends: tuple[Bend, ...]) -> Thickness:
    """Return the thickness of a book of which nothing lies in its place."""
    none, right = TwoThicknesses(0.0, 0.0), _right_sizes(book, (), 0.0)
    columns = columns_of(stack, {})
    return Thickness(
        stack, {}, {}, columns, none, none, none, none, spine, 0.0, (), (), right, bends, ()
    )


def _right_sizes(book: Book, walls: tuple[Wall, ...], block: float) -> RightSizes:
    boards = [float(entry.stock.caliper.mm) for entry in book.parts if entry.role == BOARDS]
    return RightSizes(
        walls={(wall.part, wall.panel): wall.wanted for wall in walls},
        spine=block + wanted_play(book),
        joint=2 * max(boards, default=0.0),
    )


def wanted_play(book: Book) -> float:
    """Return the play that the book wants on its spine, mm; 0 where no size says it."""
    return float(book.reasons.length("play").mm) if "play" in book.reasons.by_name else 0.0


def _lowest(stack: Stack) -> PanelKey:
    return min(stack.levels, key=lambda key: stack.levels[key].rigid)


def _lowest_places(stack: Stack, ground: PanelKey) -> Mapping[PanelKey, float]:
    """Return where each panel lies with nothing under it: on the ground, which lies under all."""
    places = {key: level.caliper / 2 for key, level in stack.levels.items()}
    return {**places, ground: -stack.levels[ground].caliper / 2}


def spine_of(book: Book, places: Places) -> float:
    """Return the distance of the boards' insides: the extent of what stands between them."""
    for entry in book.parts:
        if entry.role != BOARDS:
            continue
        for name, pose in places.get(entry.key, {}).items():
            if abs(float(pose.normal[2])) < LEVEL:
                points = entry.part.panel(name).outline.points
                heights = [float(pose.at(point)[2]) for point in points]
                return max(heights) - min(heights)
    return float(book.reasons.length("spine").mm)


def _block(stack: Stack, heights: Mapping[PanelKey, float]) -> float:
    """Return the distance of the boards, or of the outermost panels of a book without boards."""
    if len(stack.boards) > 1:
        back, front = stack.boards[0], stack.boards[-1]
        half = (stack.levels[back].caliper + stack.levels[front].caliper) / 2
        return heights[front] - heights[back] - half
    halves = {key: level.caliper / 2 for key, level in stack.levels.items()}
    return max(heights[k] + halves[k] for k in halves) - min(heights[k] - halves[k] for k in halves)


def _pockets(stack: Stack, heights: Mapping[PanelKey, float]) -> Iterator[PocketDepth]:
    """Yield the depth of each pocket whose panels lie parallel to the pages."""
    alike: dict[int, list[Pocket]] = {}
    for part in stack.of_part:
        folded = stack.parts[part]
        if id(folded) not in alike:
            alike[id(folded)] = list(pockets_of(folded))
        for pocket in alike[id(folded)]:
            front, back = (part, pocket.front), (part, pocket.back)
            if front in stack.levels and back in stack.levels:
                depth = abs(stack.levels[front].rigid - stack.levels[back].rigid)
                clear = _clear(stack, heights, front, back)
                seams = [key for name in pocket.seams if (key := (part, name)) in stack.levels]
                under = [_clear(stack, heights, front, seam) for seam in seams]
                yield PocketDepth(part, pocket, depth, clear, min([clear, *under]))


def _clear(stack: Stack, heights: Mapping[PanelKey, float], a: PanelKey, b: PanelKey) -> float:
    """Return the distance of the facing sides of two panels, what is stuck on them left out."""
    apart = abs(heights[a] - heights[b])
    lower, upper = (a, b) if heights[a] <= heights[b] else (b, a)
    return max(0.0, apart - stack.gap(lower, upper))


def _strip(columns: Columns, end: int) -> Box:
    """Return the strip of the pages along the binding edge (0) or the fore-edge (1)."""
    whole = columns.whole
    if end:
        return whole._replace(left=whole.right - EDGE)
    return whole._replace(left=max(whole.left, 0.0), right=max(whole.left, 0.0) + EDGE)


def _outer_half(columns: Columns) -> Box:
    whole = columns.whole
    return whole._replace(left=(max(whole.left, 0.0) + whole.right) / 2)


def _middle(strip: Box) -> Box:
    half = (strip.bottom + strip.top) / 2
    return strip._replace(bottom=half - EDGE / 2, top=half + EDGE / 2)


def _bends(book: Book) -> Iterator[Bend]:
    for entry in book.parts:
        yield from bends_of(entry.key, entry.part, float(entry.stock.caliper.mm))

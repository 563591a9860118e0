"""Where what a page holds lies: in its pocket, behind its flap, or on its inner side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..book.book import Book
from ..book.request import PageRequest
from ..part import Side
from .folded_part import FoldedPart
from .levels import Box, Coat, Level, PanelKey, is_above
from .pockets import GRAFTED, Pocket, pockets_of

CONTENTS = "contents"


def contents_coats(
    book: Book, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> Iterator[tuple[PanelKey, Coat]]:
    """Yield what each page holds, as a layer on the panel that carries it.

    Things in a pocket stand on its tail, in the middle between its sides, all in
    the first pocket; others lie in the middle of the page.
    """
    for page in book.request.pages:
        carrier = _carrier(page, parts, levels)
        if carrier is None:
            continue
        key, side, is_pocket = carrier
        level = levels[key]
        for thing in page.holds:
            thickness = float(thing.thick.mm) * thing.count if thing.thick else 0.0
            across, up = float(thing.size.across.mm), float(thing.size.up.mm)
            box = _lying(level.box, across, up, is_pocket)
            yield key, Coat(is_above(level, side), box, thickness, CONTENTS)


def _lying(frame: Box, across: float, up: float, is_pocket: bool) -> Box:
    """Return where a thing lies on a panel; what is larger than the panel ends at its edges."""
    x, y = (frame.left + frame.right) / 2, (frame.bottom + frame.top) / 2
    low = frame.bottom if is_pocket else max(frame.bottom, y - up / 2)
    return Box(
        max(frame.left, x - across / 2),
        low,
        min(frame.right, x + across / 2),
        min(frame.top, low + up),
    )


def page_keys(parts: Mapping[str, FoldedPart], number: int) -> list[str]:
    """Return the keys of the parts of a page, the bound one first."""
    key = f"page-{number}"
    return [k for k in parts if k == key] + [k for k in parts if k.startswith(f"{key}-")]


def page_pockets(parts: Mapping[str, FoldedPart], number: int) -> Iterator[tuple[str, Pocket]]:
    """Yield the pockets of a page with the key of the part that each is in."""
    for key in page_keys(parts, number):
        for pocket in pockets_of(parts[key]):
            yield key, pocket


def _carrier(
    page: PageRequest, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> tuple[PanelKey, Side, bool] | None:
    """Return the panel that carries what the page holds, on which side, and if in a pocket."""
    if not page.holds:
        return None
    for key, pocket in page_pockets(parts, page.number):
        if (key, pocket.front) in levels:
            return (key, pocket.front), pocket.inside, True
    key = f"page-{page.number}"
    bound = parts[key].part.bound if key in parts else None
    panel = (key, bound.panel.split(" ")[0]) if bound else ("", "")
    if panel not in levels:
        return None
    return panel, _open_side(parts[key], panel[1]), False


def _open_side(folded: FoldedPart, panel: str) -> Side:
    """Return the side of a page over which its flaps fold: the face, unless they only do at its back."""
    own = [name for name in folded.outlines if name != panel and not name.startswith(GRAFTED)]
    sides = {folded.side_of(panel, other) for other in own}
    return Side.REVERSE if sides & {1, -1} == {-1} else Side.FACE

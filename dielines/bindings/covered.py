"""What lies under whatever a binding glues over the binding edge of a page."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from ..lengths import show
from ..part import Part, Purpose
from ..paths import Bounds, Path, bounds_of
from .bound import Note
from .frame import Frame
from .pages import BoundPage

#: parameter and size: how far what a binding glues over the binding edge covers each page
COVERED = "covered"
_THROUGH = (Purpose.CUT, Purpose.PERFORATE)


def find_covered(frame: Frame, size: str) -> None:
    """Find how far each page is covered at its binding edge: as wide as the size that covers it."""
    frame.sizes.derive(COVERED, size, "glued over the binding edge of each page")


def covered_notes(pages: Iterable[BoundPage], frame: Frame) -> Iterator[Note]:
    """Yield a note for each kind of page with a slit or a window that is covered."""
    numbers: dict[str, list[int]] = defaultdict(list)
    for page in pages:
        strip = _covered(page, frame)
        if any(_meets(bounds_of([path]), strip) for path in _cuts(page.page, page.bound_panel)):
            numbers[page.body.words].append(page.body.number)
    width = show(frame.sizes.length(COVERED), frame.sizes.units)
    for words, found in numbers.items():
        text = (
            f"a slit or window lies within {width} of the binding edge, under what is glued there;"
            " make what it is for narrower, or cut it after gluing"
        )
        yield Note("covered-cut", f"{words}, {_listed(found)}", text)


def _covered(page: BoundPage, frame: Frame) -> Bounds:
    box, width = page.page.panel(page.bound_panel).bounds(), frame.sizes.length(COVERED).mm
    if page.is_bound_at_left:
        return box._replace(right=box.left + width)
    return box._replace(left=box.right - width)


def _cuts(part: Part, panel: str) -> Iterator[Path]:
    yield from part.panel(panel).holes
    for stroke in part.strokes:
        if stroke.panel == panel and stroke.purpose in _THROUGH:
            yield stroke.path


def _meets(box: Bounds, other: Bounds) -> bool:
    across = box.left < other.right and other.left < box.right
    return across and box.bottom < other.top and other.bottom < box.top


def _listed(numbers: list[int]) -> str:
    word = "page" if len(numbers) == 1 else "pages"
    return f"{word} {', '.join(map(str, numbers))}"

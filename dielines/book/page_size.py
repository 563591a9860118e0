"""The size of the page, from whichever of photo, page, board or sheet drives the book."""

from __future__ import annotations

from ..lengths import ZERO, Length, millimetres, show
from ..sizes.reasons import Sizes
from .request import BookRequest, SizeKind

LEAST_PAGE = millimetres(40)  #: smaller pages cannot be bound (from memory)
SAYS = "this book"
ROUNDING = "rounding"  #: the step to which panels are rounded, where a book wants that


def find_page_size(request: BookRequest, sizes: Sizes) -> bool:
    """Find page, photo and, where boards drive them, board sizes; report a size too small.

    A sheet drives nothing here: the page that fills it is searched for.
    """
    across, up = request.size.sides
    kind = request.size.kind
    if kind is SizeKind.PHOTO:
        _take(sizes, "photo", across, up)
        sizes.derive("page_width", _rounded(sizes, "photo_width + 2 * margin"))
        sizes.derive("page_height", _rounded(sizes, "photo_height + 2 * margin"))
    elif kind is SizeKind.PAGE:
        _take(sizes, "page", across, up)
        _photo_from_page(sizes)
    elif kind is SizeKind.BOARD:
        _take(sizes, "board", across, up)
        sizes.derive("page_width", _rounded(sizes, "board_width - fore_edge"))
        sizes.derive("page_height", _rounded(sizes, "board_height - 2 * square"))
        _photo_from_page(sizes)
    return _is_large_enough(request, sizes) and _has_room_for_photo(request, sizes)


def _rounded(sizes: Sizes, formula: str) -> str:
    """Return *formula*, rounded where the book wants panels rounded."""
    return f"round({formula}, {ROUNDING})" if ROUNDING in sizes else formula


def _take(sizes: Sizes, name: str, across: Length, up: Length) -> None:
    sizes.take(f"{name}_width", across, SAYS)
    sizes.take(f"{name}_height", up, SAYS)


def _photo_from_page(sizes: Sizes) -> None:
    sizes.derive("photo_width", "page_width - 2 * margin")
    sizes.derive("photo_height", "page_height - 2 * margin")


def _has_room_for_photo(request: BookRequest, sizes: Sizes) -> bool:
    smallest = min(sizes.length("photo_width"), sizes.length("photo_height"))
    if smallest > ZERO:
        return True
    request.size.place.report(
        "out-of-range",
        f"a page of this size has no room for a photo between margins of {show(sizes.length('margin'), request.units)}",
        "Choose a smaller margin under [usual], or a larger size.",
    )
    return False


def _is_large_enough(request: BookRequest, sizes: Sizes) -> bool:
    smallest = min(sizes.length("page_width"), sizes.length("page_height"))
    if smallest >= LEAST_PAGE:
        return True
    request.size.place.report(
        "out-of-range",
        f"a side of the page comes out as {show(smallest, request.units)}",
        f"Choose at least {show(LEAST_PAGE, request.units)}.",
    )
    return False

"""Which small change would save a sheet; nothing is changed, it is only told."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..book.book import Book
from ..book.composing import compose
from ..book.from_file import book_source
from ..documents import Document
from ..errors import DielinesError
from ..lengths import Length
from ..packing.order import Work
from ..workshop.workshop import Workshop
from .changes import Change, changes_of
from .laying_out import stock_layout
from .layout import BookLayout, StockLayout
from .prices import prices_of
from .wanted import Wanted, stocks_of, wanted_from
from .way_of_cutting import By, Terms, terms_for

MOST = 5  #: savings told
WORK = 40_000  #: steps for one stock of one changed book

Sound = Callable[[Book, Workshop], bool]


@dataclass(frozen=True)
class Saving:
    """What one change does to the number of sheets of all stocks, and to what they cost.

    *price_saved* is in the smallest steps of prices, 0 where there are none.
    """

    change: Change
    before: int
    after: int
    price_saved: int
    stocks: tuple[str, ...]  #: of which fewer sheets are needed

    @property
    def saved(self) -> int:
        """How many sheets are saved."""
        return self.before - self.after


@dataclass(frozen=True)
class Cut:
    """A book as it would be cut: composed, with the workshop, and the gap that is asked for."""

    book: Book
    workshop: Workshop
    wish: By
    gap: Length | None

    def terms(self, stock_name: str) -> Terms:
        """Return the terms on which the stock of that name is cut."""
        stock = next(s for s in stocks_of(self.book) if s.name == stock_name)
        return terms_for(stock, self.workshop, self.wish, self.gap)


def savings(
    document: Document,
    settings: Sequence[str],
    cut: Cut,
    layout: BookLayout,
    is_sound: Sound,
) -> tuple[Saving, ...]:
    """Return the best changes that save a sheet, the most saved by the least change first.

    *document* with *settings* is the book of *cut*, *layout* its sheets. A change after
    which the book does not hold, by *is_sound*, is no advice and is left out.
    """
    found = []
    for changed, change in _changed_books(document, settings, cut):
        saving = _saving(changed, change, layout)
        if saving is not None:
            found.append((saving, changed))
    found.sort(key=lambda pair: (-pair[0].price_saved, -pair[0].saved, pair[0].change.step))
    kept: list[Saving] = []
    for saving, changed in found:
        if (
            len(kept) < MOST
            and not _is_told(saving, kept)
            and is_sound(changed.book, changed.workshop)
        ):
            kept.append(saving)
    return tuple(kept)


def _is_told(saving: Saving, kept: Sequence[Saving]) -> bool:
    """Return whether a smaller step of the same change is told, and saves as much."""
    name = saving.change.typed.partition("=")[0]
    return any(
        other.change.typed.partition("=")[0] == name and other.saved >= saving.saved
        for other in kept
        if "size=" not in saving.change.typed or _side(other) == _side(saving)
    )


def _side(saving: Saving) -> str:
    return saving.change.words.rsplit(" ", 1)[-1]


def _changed_books(
    document: Document, settings: Sequence[str], cut: Cut
) -> Iterator[tuple[Cut, Change]]:
    pages = cut.terms(cut.book.parts[0].stock.name)
    for change in changes_of(cut.book, pages):
        if change.setting:
            try:
                source = book_source(document, [*settings, change.setting])
                book = compose(source.request, cut.workshop, source.library)
            except DielinesError:
                continue  # what cannot be made saves nothing
            yield replace(cut, book=book), change
        elif change.gap is not None:
            yield replace(cut, gap=change.gap), change
        elif change.margin is not None:
            yield replace(cut, workshop=_with_margin(cut, change.margin)), change


def _with_margin(cut: Cut, margin: Length) -> Workshop:
    shop = cut.workshop
    if cut.wish is By.TRIMMER:
        return replace(shop, trimmer=replace(shop.trimmer, margin=margin))
    return replace(shop, machine=replace(shop.machine, margin=margin))


def _saving(changed: Cut, change: Change, layout: BookLayout) -> Saving | None:
    """Return what *change* saves, or None where it saves nothing."""
    before = {stock.stock.name: stock for stock in layout.stocks}
    fewer, sheets, price = [], 0, 0
    for stock in stocks_of(changed.book):
        old = before.get(stock.name)
        if old is None:
            return None
        new = _layout_again(changed, old)
        if len(new.too_large) > len(old.too_large):
            return None
        sheets += new.count
        price += _money(old) - _money(new)
        if new.count < old.count:
            fewer.append(stock.name)
    all_before = sum(stock.count for stock in layout.stocks)
    if price < 0 or (sheets >= all_before and price <= 0):
        return None
    return Saving(change, all_before, sheets, price, tuple(fewer))


def _layout_again(changed: Cut, old: StockLayout) -> StockLayout:
    """Return the layout of the changed parts; the old one where they are cut as before, or from less.

    An old layout is still right where no part has grown, so that there are never more
    sheets than before.
    """
    stock, terms = old.stock, changed.terms(old.stock.name)
    wanted = wanted_from(changed.book, stock)
    if terms == old.terms and [_shape(one) for one in wanted] == [_shape(one) for one in _all(old)]:
        return old
    new = stock_layout(wanted, stock, terms, lambda: Work(WORK))
    return old if _is_dearer(new, old) and _is_within(wanted, terms, old) else new


def _all(layout: StockLayout) -> tuple[Wanted, ...]:
    return (*layout.wanted, *layout.too_large)


def _shape(one: Wanted) -> tuple[object, ...]:
    return one.size, one.count, one.quarters, one.may_turn, one.part.outline


def _is_dearer(new: StockLayout, old: StockLayout) -> bool:
    return (_money(new), new.count) > (_money(old), old.count)


def _is_within(wanted: Sequence[Wanted], terms: Terms, old: StockLayout) -> bool:
    """Return whether everything still lies where it lay: no part larger, no more of it, no less room."""
    before = {one.letter: one for one in _all(old)}
    room = old.terms.gap >= terms.gap and old.terms.reach.margin >= terms.reach.margin
    return room and all(
        one.letter in before
        and one.count <= before[one.letter].count
        and all(a <= b for a, b in zip(one.size, before[one.letter].size, strict=True))
        for one in wanted
    )


def _money(stock: StockLayout) -> int:
    if not stock.rooms or not prices_of(stock.rooms).is_money:
        return 0
    return stock.plan.price(stock.order.beds)

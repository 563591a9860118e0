"""Which small change would save a sheet; nothing is changed, it is only told."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from ..book.composing import compose
from ..book.from_file import book_source
from ..documents import Document
from ..errors import DielinesError
from ..lengths import ZERO, Length
from ..workshop.workshop import Workshop
from .again import AsCut, Need, need_of, needed_again
from .changes import USUAL, Change, Ladder, ladders_of
from .layout import BookLayout
from .wanted import stocks_of
from .way_of_cutting import By, Terms

MOST = 5  #: savings told
MOST_ASKED = 12  #: of which it is asked whether the book still holds
TOGETHER = 6  #: usual sizes that are first tried all at once

Rank = tuple[Decimal, int, Fraction]
Sound = Callable[[AsCut], bool]


@dataclass(frozen=True)
class Saving:
    """What one change does to the number of sheets of all stocks, and to what they cost.

    The costs are of those stocks whose price is known before and after; None where
    there is none.
    """

    change: Change
    before: int
    after: int
    cost_before: Decimal | None
    cost_after: Decimal | None
    copies: int
    stocks: tuple[str, ...]  #: of which fewer sheets are needed, or cheaper ones

    @property
    def saved(self) -> int:
        """How many sheets are saved."""
        return self.before - self.after

    @property
    def money_saved(self) -> Decimal:
        """How much less they cost, as far as prices are known."""
        return (self.cost_before or Decimal(0)) - (self.cost_after or Decimal(0))

    @property
    def rank(self) -> Rank:
        """Its place: most money first, then most sheets, then the least change beside what there is."""
        return -self.money_saved, -self.saved, self.change.share


@dataclass(frozen=True)
class _Trial:
    """A change with the book after it; *saving* is None where it saves nothing."""

    changed: AsCut
    saving: Saving | None

    @property
    def rank(self) -> Rank:
        """Its place among others; what saves nothing comes last."""
        return self.saving.rank if self.saving else (Decimal(0), 0, Fraction(1))


@dataclass(frozen=True)
class _Top:
    """The largest step of a ladder that can be made, None where none can, and those below it."""

    trial: _Trial | None
    below: Ladder

    @property
    def saving(self) -> Saving | None:
        """What it saves."""
        return self.trial.saving if self.trial else None

    @property
    def rank(self) -> Rank:
        """Its place among others."""
        return self.trial.rank if self.trial else (Decimal(0), 0, Fraction(1))


@dataclass(frozen=True)
class _Trials:
    """The book as it is, and whatever is needed to try another."""

    document: Document
    settings: Sequence[str]
    cut: AsCut
    layout: BookLayout

    def after(self, change: Change) -> _Trial | None:
        """Return what comes of a change; None where the book cannot be made so."""
        changed = self._changed(change)
        return None if changed is None else _Trial(changed, _saving(changed, change, self.layout))

    def _changed(self, change: Change) -> AsCut | None:
        if change.gap is not None:
            return replace(self.cut, gap=change.gap)
        if change.margin is not None:
            return replace(self.cut, workshop=_with_margin(self.cut, change.margin))
        return self._composed([change.setting])

    def _composed(self, settings: Sequence[str]) -> AsCut | None:
        try:
            source = book_source(self.document, [*self.settings, *settings])
            book = compose(source.request, self.cut.workshop, source.library)
        except DielinesError:
            return None  # what cannot be made saves nothing
        return replace(self.cut, book=book)

    def can_save(self, changes: Sequence[Change]) -> bool:
        """Return whether several usual sizes changed at once save anything, or cannot be so."""
        changed = self._composed([change.setting for change in changes])
        return changed is None or _saving(changed, changes[0], self.layout) is not None


def savings(
    document: Document,
    settings: Sequence[str],
    cut: AsCut,
    layout: BookLayout,
    is_sound: Sound,
) -> tuple[Saving, ...]:
    """Return the best changes that save a sheet or money, at most one of each kind.

    *document* with *settings* is the book of *cut*, *layout* its sheets. A change after
    which the book does not hold, by *is_sound*, is no advice and is left out; that is
    only asked of what would be told.
    """
    trials = _Trials(document, settings, cut, layout)
    ladders = _worth_a_trial(tuple(ladders_of(cut.book, *_pages_terms(cut))), trials)
    tops = [top for ladder in ladders if (top := _top(ladder, trials)).saving]
    tops.sort(key=lambda top: top.rank)
    return tuple(sorted(_told(tops, trials, is_sound), key=lambda saving: saving.rank))


def _pages_terms(cut: AsCut) -> tuple[Terms, Length]:
    """Return on which terms the pages are cut, and the least gap between parts."""
    terms = cut.terms(cut.book.parts[0].stock.name)
    return terms, cut.workshop.machine.kerf if terms.by is By.MACHINE else ZERO


def _worth_a_trial(ladders: Sequence[Ladder], trials: _Trials) -> Iterator[Ladder]:
    """Yield the ladders of which one can save something.

    What saves nothing with several usual sizes changed as far as they go, hardly does with
    one of them. Neighbours in the table of usual sizes are those of the same parts.
    """
    usual = [ladder for ladder in ladders if ladder[-1].kind.startswith(USUAL)]
    yield from (ladder for ladder in ladders if ladder not in usual)
    for start in range(0, len(usual), TOGETHER):
        group = usual[start : start + TOGETHER]
        if trials.can_save([ladder[-1] for ladder in group]):
            yield from group


def _top(ladder: Ladder, trials: _Trials) -> _Top:
    """Return the largest step of a ladder with which the book can be made.

    Where that saves nothing, a smaller one hardly can: it leaves every part larger.
    """
    below = list(ladder)
    while below:
        trial = trials.after(below.pop())
        if trial is not None:
            return _Top(trial, tuple(below))
    return _Top(None, ())


def _told(tops: Sequence[_Top], trials: _Trials, is_sound: Sound) -> Iterator[Saving]:
    """Yield the best step of each ladder after which the book holds."""
    told, asked = 0, 0
    for top in tops:
        for trial in sorted(_climbed(top, trials), key=lambda trial: trial.rank):
            if told == MOST or asked == MOST_ASKED:
                return
            asked += 1
            if trial.saving and is_sound(trial.changed):
                told += 1
                yield trial.saving
                break


def _climbed(top: _Top, trials: _Trials) -> Iterator[_Trial]:
    """Yield the top of a ladder, and its steps from below up to the first that saves as much."""
    if top.trial is None:
        return
    yield top.trial
    for change in top.below:
        trial = trials.after(change)
        if trial is not None and trial.saving:
            yield trial
            if trial.rank[:2] == top.rank[:2]:
                return


def _with_margin(cut: AsCut, margin: Length) -> Workshop:
    shop = cut.workshop
    if cut.wish is By.TRIMMER:
        return replace(shop, trimmer=replace(shop.trimmer, margin=margin))
    return replace(shop, machine=replace(shop.machine, margin=margin))


def _saving(changed: AsCut, change: Change, layout: BookLayout) -> Saving | None:
    """Return what *change* saves, or None where it saves nothing."""
    pairs = []
    for old in layout.stocks:
        new = needed_again(changed, old) if old.stock in stocks_of(changed.book) else None
        if new is None:
            return None
        pairs.append((old.stock.name, need_of(old.rooms, old.plan), new))
    if len(pairs) < len(stocks_of(changed.book)):
        return None
    saving = _summed(change, pairs, changed.book.request.copies)
    is_less = saving.money_saved > 0 or (saving.money_saved == 0 and saving.saved > 0)
    return saving if is_less else None


def _summed(change: Change, needs: Sequence[tuple[str, Need, Need]], copies: int) -> Saving:
    costs = [(old.cost, new.cost) for _, old, new in needs]
    known = [(a, b) for a, b in costs if a is not None and b is not None]
    return Saving(
        change,
        before=sum(old.count for _, old, _ in needs),
        after=sum(new.count for _, _, new in needs),
        cost_before=sum((a for a, _ in known), Decimal(0)) if known else None,
        cost_after=sum((b for _, b in known), Decimal(0)) if known else None,
        copies=copies,
        stocks=tuple(name for name, old, new in needs if new.rank < old.rank),
    )

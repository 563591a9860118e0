"""Which of two level panels lies over the other, and which pairs need looking at.

Within a part the order of its layers says so. Between parts, what is taped on a
panel lies over the same things as that panel; all else goes by the order of the
pages at the spine, not by heights: a flap that is deeper than its channel still
lies before the next page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, combinations, groupby, islice

from .levels import Box, PanelKey
from .stack import Stack

NEAR = 1e-6  #: mm; heights closer than this are the same


@dataclass(frozen=True)
class LayerOrder:
    """The order of all level panels; *standing* are their heights with channels upright."""

    stack: Stack
    standing: Mapping[PanelKey, float]

    def over(self, a: PanelKey, b: PanelKey) -> int:
        """Return +1 where *b* lies over *a*, -1 where it lies under it, 0 where nothing says."""
        if a[0] == b[0]:
            return self._within(a, b)
        taped = self._taped
        if b in taped.get(a, ()):
            return self._in_one_pack(a, b)
        for c in taped.get(a, ()):
            if c[0] == b[0] and (side := self._within(c, b)):
                return side
        for d in taped.get(b, ()):
            if d[0] == a[0] and (side := self._within(a, d)):
                return side
        return _sign(self.rank(b) - self.rank(a)) or _sign(self.standing[b] - self.standing[a])

    def pack(self, key: PanelKey) -> Sequence[PanelKey]:
        """Return the panels that hang together with one by tape, itself included."""
        return self._taped.get(key, (key,))

    def _in_one_pack(self, a: PanelKey, b: PanelKey) -> int:
        """Return the order of two panels that hang together by tape, from what lies between them."""
        pack = self._taped[a]
        if self._reaches(a, b, pack):
            return 1
        return -1 if self._reaches(b, a, pack) else 0

    def _reaches(self, low: PanelKey, high: PanelKey, pack: Sequence[PanelKey]) -> bool:
        """Return whether one comes upwards from *low* to *high*, from panel to panel of a pack."""
        seen, waiting = {low}, [low]
        while waiting:
            here = waiting.pop()
            for there in pack:
                if there not in seen and self._is_next_over(here, there):
                    seen.add(there)
                    waiting.append(there)
        return high in seen

    def _is_next_over(self, low: PanelKey, high: PanelKey) -> bool:
        if low[0] == high[0]:
            return self._within(low, high) > 0
        return (low, high) in self._direct

    def _within(self, a: PanelKey, b: PanelKey) -> int:
        levels = self.stack.levels
        return (
            self._beside_tab(a, b)
            or self.stack.side(a, b)
            or _sign(levels[b].rigid - levels[a].rigid)
            or _sign(self.standing[b] - self.standing[a])
        )

    def _beside_tab(self, a: PanelKey, b: PanelKey) -> int:
        """Return the order of a tab and the rest of its page: the tab lies where its page hangs.

        The heights of folded paper would have a pocket that is deeper than its channel reach
        through its own tab.
        """
        hung = self.stack.hung
        if (a in hung) == (b in hung):
            return 0
        if a in hung:
            return _sign(self.rank(a) - self.rank(hung[a]))
        return _sign(self.rank(hung[b]) - self.rank(b))

    def rank(self, key: PanelKey) -> float:
        """Return where a panel's part comes in the book: the height of its bound panel.

        A part that is taped to one panel alone goes with the part of that panel; a
        panel of a part that is not bound goes by its own height.
        """
        part = key[0]
        holder = self._holders.get(part)
        if holder is not None:
            part = holder[0]
        bound = self.stack.parts[part].part.bound
        place = (part, bound.panel.split(" ")[0]) if bound else holder or key
        return self.standing.get(place, self.standing[key])

    @cached_property
    def _holders(self) -> Mapping[str, PanelKey]:
        """The panel that a part is taped to, where it is taped to one and to nothing else."""
        found: dict[str, set[PanelKey]] = {}
        for a, b in self.stack.glued:
            if a[0] != b[0]:
                found.setdefault(a[0], set()).add(b)
                found.setdefault(b[0], set()).add(a)
        return {
            part: next(iter(panels))
            for part, panels in found.items()
            if len(panels) == 1 and self._is_loose(part)
        }

    def _is_bound(self, part: str) -> bool:
        return self.stack.parts[part].part.bound is not None

    def _is_loose(self, part: str) -> bool:
        return not self._is_bound(part) and not self.stack.is_board(part)

    @cached_property
    def _direct(self) -> frozenset[tuple[PanelKey, PanelKey]]:
        """Pairs that are taped, and pairs taped over each other onto one side: the later outside."""
        found = set(self.stack.glued)
        on_top: dict[PanelKey, list[PanelKey]] = {}
        beneath: dict[PanelKey, list[PanelKey]] = {}
        for lower, upper in self.stack.glued:
            on_top.setdefault(lower, []).append(upper)
            beneath.setdefault(upper, []).append(lower)
        for packs, outwards in ((on_top, 1), (beneath, -1)):
            for pack in packs.values():
                for pair in combinations(pack, 2):
                    if self._share(*pair):
                        found.add(pair if outwards > 0 else (pair[1], pair[0]))
        return frozenset(found)

    def _share(self, a: PanelKey, b: PanelKey) -> bool:
        levels = self.stack.levels
        return levels[a].box.shared(levels[b].box) is not None

    @cached_property
    def _taped(self) -> Mapping[PanelKey, Sequence[PanelKey]]:
        """All panels that hang together with a panel by tape, in the order of the book."""
        groups: dict[PanelKey, list[PanelKey]] = {}
        for a, b in self._all_glued():
            one, other = groups.setdefault(a, [a]), groups.setdefault(b, [b])
            if one is not other:
                one.extend(other)
                groups.update(dict.fromkeys(other, one))
        return groups

    def _all_glued(self) -> Iterator[tuple[PanelKey, PanelKey]]:
        yield from self.stack.glued
        for part, holder in self._holders.items():
            for key in self.stack.of_part[part]:
                yield key, holder

    # -------------------------------------------------------------- pairs

    def pairs(self) -> Iterator[tuple[PanelKey, PanelKey]]:
        """Yield pairs that overlap, the lower one first: those within a part, and with the next.

        From each panel upwards until all of it is covered by later parts: what lies
        beyond is kept off by these. So the number of pairs is linear in the pages.
        """
        found = dict.fromkeys(pair for pair in self.stack.glued)
        ranked = sorted(self.stack.levels, key=lambda key: (self.rank(key), self.standing[key]))
        groups = [list(group) for _, group in groupby(ranked, key=self.rank)]
        for index, group in enumerate(groups):
            for place, key in enumerate(group):
                above = chain([group[place + 1 :]], islice(groups, index + 1, None))
                found.update(dict.fromkeys(self._upwards(key, above)))
        yield from found

    def _upwards(
        self, key: PanelKey, groups: Iterable[Sequence[PanelKey]]
    ) -> Iterator[tuple[PanelKey, PanelKey]]:
        """Yield the pairs of a panel with those of its own group, then group after group.

        What is taped to the panel covers nothing: its page may have flaps on either side of both.
        Nor does a strip or a fin, which the flaps of later pages reach under.
        """
        levels, taped = self.stack.levels, self._taped.get(key, ())
        bare: list[Box] = [levels[key].box]
        for number, group in enumerate(groups):
            for other in group:
                shared = levels[key].box.shared(levels[other].box)
                if shared is None or not (side := self.over(key, other)):
                    continue
                yield (key, other) if side > 0 else (other, key)
                if number and side > 0 and other not in taped and self._is_bound(other[0]):
                    bare = [piece for box in bare for piece in box.without(shared)]
            if not bare:
                return


def _sign(value: float) -> int:
    if abs(value) < NEAR:
        return 0
    return 1 if value > 0 else -1

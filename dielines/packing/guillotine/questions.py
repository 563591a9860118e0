"""Whether these boxes can be cut from one sheet: asked often, answered once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..order import Order, Pattern, Work
from .blocks import block_of, pattern_of
from .filling import Cutting, Lying, fill, lying, whole
from .fronts import Bag, Fronts
from .shelves import MANNERS, counted

#: Up to so many boxes the answer is exact; beyond, "no" means that no filler found a way.
FEW = 6


@dataclass(frozen=True)
class Recipe:
    """How a filler got the boxes onto the sheet: in this order, in this manner."""

    ranked: tuple[int, ...]
    manner: int


@dataclass
class Answers:
    """What is known about one kind of sheet."""

    bed: int
    area: int
    lie: dict[int, tuple[Lying, ...]]
    fronts: Fronts
    known: dict[Bag, Recipe | Pattern | bool] = field(default_factory=dict)


class Questions:
    """Questions about the sheets of an order, and the answers so far."""

    def __init__(self, order: Order, stages: int | None) -> None:
        self.order, self.stages = order, stages
        self.areas = [box.area for box in order.boxes]
        self._answers = [
            Answers(
                bed, sheet.area, lying(order, bed, range(len(order.boxes))),
                Fronts(order, bed, stages),
            )
            for bed, sheet in enumerate(order.beds)
        ]  # fmt: skip

    def learn(self, pattern: Pattern) -> Bag:
        """Take a sheet as one that is known to be cut; return its boxes."""
        bag = tuple(sorted(box.kind for box in pattern.placed))
        self._answers[pattern.bed].known.setdefault(bag, pattern)
        return bag

    def area(self, bag: Sequence[int]) -> int:
        """Return the area of boxes."""
        areas = self.areas
        return sum([areas[kind] for kind in bag])

    def room(self, bag: Sequence[int], bed: int) -> int:
        """Return the area of a sheet that boxes leave, below 0 where they are more than it."""
        return self._answers[bed].area - self.area(bag)

    def fits(self, bag: Bag, bed: int, work: Work) -> bool:
        """Return whether boxes can be cut from a sheet; of many boxes, whether a way was found."""
        work.spend(1)
        answers = self._answers[bed]
        known = answers.known.get(bag)
        if known is None:
            known = self.room(bag, bed) >= 0 and self._found(bag, answers, work)
            answers.known[bag] = known
        return known is not False

    def _found(self, bag: Bag, answers: Answers, work: Work) -> Recipe | bool:
        ranked = tuple(sorted(bag, key=lambda kind: (-self.areas[kind], kind)))
        for manner in range(len(MANNERS)):
            if not self._fill(ranked, answers, manner, work)[1]:
                return Recipe(ranked, manner)
        return len(bag) <= FEW and answers.fronts.block(bag, work) is not None

    def _fill(
        self, ranked: Sequence[int], answers: Answers, manner: int, work: Work
    ) -> tuple[Cutting, dict[int, int]]:
        remaining = counted(ranked)
        cutting = whole(self.order, answers.bed, self.stages)
        fill(cutting, remaining, answers.lie, MANNERS[manner], work)
        return cutting, remaining

    def left(self, ranked: Sequence[int], bed: int, work: Work) -> list[int]:
        """Return the boxes that find no room when the first of the list come first.

        Of all manners the one that leaves the least area. What was placed is known to fit.
        """
        answers = self._answers[bed]
        best: tuple[int, int, dict[int, int]] | None = None
        for manner in range(len(MANNERS)):
            remaining = self._fill(ranked, answers, manner, work)[1]
            rest = sum(self.areas[kind] * count for kind, count in remaining.items())
            if best is None or rest < best[0]:
                best = (rest, manner, remaining)
            if not rest:
                break
        assert best is not None
        placed = counted(ranked)
        for kind, count in best[2].items():
            placed[kind] -= count
        bag = tuple(sorted(kind for kind, count in placed.items() for _ in range(count)))
        answers.known[bag] = Recipe(tuple(ranked), best[1])
        return [kind for kind, count in best[2].items() for _ in range(count)]

    def pattern(self, bag: Bag, bed: int) -> Pattern:
        """Return the sheet from which boxes are cut, which are known to fit."""
        answers, work = self._answers[bed], Work(0)
        known = answers.known[bag]
        if isinstance(known, Pattern):
            return known
        if isinstance(known, Recipe):
            cutting, _ = self._fill(known.ranked, answers, known.manner, work)
            block = block_of(cutting.tree(), self.order)
        else:
            block = answers.fronts.block(bag, work)
        return pattern_of(block, self.order, bed, self.stages)

"""Two folds that cross inside the paper, and whether one is made through the layers of the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..part import Part
from ..poses import Angles, angles_after
from .vertices import ANGLE_NEAR, Ray, Vertex, inner_vertices


@dataclass(frozen=True, slots=True)
class Crossing:
    """A kept block of two by two cells all of whose four edges fold."""

    vertex: Vertex
    is_straight: bool  #: one fold runs straight on at one angle, three of four share a sign
    is_in_order: bool  #: that one is finished before the other begins

    @property
    def can_be_made(self) -> bool:
        """Whether the second fold can be made through the layers of the first."""
        return self.is_straight and self.is_in_order


def crossings(part: Part) -> Iterator[Crossing]:
    """Yield where folds of *part* cross each other inside the paper.

    One fold is made through the layers of the other where three of the four share
    a sign, all are half turns, and the straight fold is finished before the other
    begins (the trade's rule of crossing folds).
    """
    reached = angles_after(part.lines, part.steps)
    for vertex in inner_vertices(part):
        if len(vertex.rays) == 4 and _is_cross(vertex):
            first, second = vertex.rays[::2], vertex.rays[1::2]
            straight = next(
                (pair for pair in (first, second) if pair[0].angle_deg == pair[1].angle_deg), None
            )
            other = second if straight is first else first
            is_three = straight is not None and vertex.is_flat and abs(vertex.surplus) == 2
            in_order = straight is not None and _is_before(straight, other, reached)
            yield Crossing(vertex, is_three, in_order)


def _is_cross(vertex: Vertex) -> bool:
    """Return whether two straight lines cross here."""
    directions = [ray.direction_deg for ray in vertex.rays]
    return all(abs(directions[n + 2] - directions[n] - 180) <= ANGLE_NEAR for n in (0, 1))


def _is_before(first: tuple[Ray, ...], second: tuple[Ray, ...], reached: Sequence[Angles]) -> bool:
    """Return whether the folds of *first* have stopped moving before those of *second* start."""
    ends = [number for ray in first for number in _moving(ray, reached)]
    starts = [number for ray in second for number in _moving(ray, reached)]
    return max(ends, default=0) < min(starts, default=len(reached))


def _moving(ray: Ray, reached: Sequence[Angles]) -> list[int]:
    """Return the steps, counted from 1, in which the fold of *ray* moves."""
    return [
        number
        for number, (before, after) in enumerate(pairwise(reached), 1)
        if before[ray.key] != after[ray.key]
    ]

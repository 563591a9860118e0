"""The paths of a sheet in the order in which a machine works them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..drawing import Caption, Drawing, Group, Item, Layer
from .entries import Place, Way, run_from, ways_of
from .fields import fields
from .precedence import ORDER, stages
from .short_tours import short_tour
from .steps import Steps

STEPS_PER_PATH = 2_000


def in_cutting_order(drawing: Drawing, steps_per_path: int = STEPS_PER_PATH) -> Drawing:
    """Return *drawing* with one group for each layer, its paths in the order of work.

    What is drawn comes first, then scores and perforations, then cuts: lines inside
    parts, and outlines, the small ones first. Where the order is free the tool travels
    little; for that an open line may be run from its other end, and a closed one starts
    at another of its vertices. More *steps_per_path* travel less. The same drawing and
    number give the same order on every machine. Names tell the part of each path.
    """
    layers = {layer: _named(drawing, layer) for layer in ORDER}
    batches = [batch for layer, items in layers.items() for batch in _batches(layer, items)]
    ordered = iter(_in_order(batches, steps_per_path))
    done = {layer: tuple(next(ordered) for _ in items) for layer, items in layers.items()}
    groups = (_group(drawing, layer, items) for layer, items in done.items())
    return replace(drawing, groups=tuple(g for g in groups if g.items or g.captions))


def _named(drawing: Drawing, layer: Layer) -> list[Item]:
    """Return the paths on *layer*, each with the name of its part before its own."""
    return [
        replace(item, name=": ".join(filter(None, (group.title, item.name))))
        for group in drawing.groups
        for item in group.items
        if item.layer is layer and item.path.vertices
    ]


def _batches(layer: Layer, items: Sequence[Item]) -> Iterator[list[Item]]:
    """Yield the paths in rows that have no order of their own, but come one after the other."""
    for stage in stages(items) if layer is Layer.CUT else [list(range(len(items)))]:
        yield from fields([items[i] for i in stage])


def _in_order(batches: Sequence[Sequence[Item]], steps_per_path: int) -> Iterator[Item]:
    """Yield the paths of all batches; each batch starts near where the last one ended."""
    ways = [[ways_of(item.path) for item in batch] for batch in batches]
    here: Place | None = None
    for number, batch in enumerate(batches):
        steps = Steps(steps_per_path * len(batch))
        found = short_tour(ways[number], here, _first_places(ways[number + 1 : number + 2]), steps)
        for stop, way in found:
            yield replace(batch[stop], path=run_from(batch[stop].path, way))
            here = ways[number][stop][way].out


def _first_places(batches: Sequence[Sequence[Sequence[Way]]]) -> list[Place]:
    """Return where the paths of the next batch may be entered, if there is one."""
    return [way.into for batch in batches for ways in batch for way in ways]


def _group(drawing: Drawing, layer: Layer, items: tuple[Item, ...]) -> Group:
    word = layer.value.lower().replace("_", " ")
    return Group(f"step.{layer.value}", word.capitalize(), items, _captions(drawing, layer))


def _captions(drawing: Drawing, layer: Layer) -> tuple[Caption, ...]:
    return tuple(text for group in drawing.groups for text in group.captions if text.layer is layer)

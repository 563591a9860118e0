"""The paths of a sheet in the order in which a machine works them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..drawing import Caption, Drawing, Group, Item, Layer
from .entries import Place, Way
from .fields import fields
from .precedence import ORDER, stages
from .short_tours import short_tour
from .steps import Steps
from .strands import Strand, run_along, strands_of, ways_along

#: About 0.3 s for the hundred paths of a full sheet, and 1.03 times a long run at most.
STEPS_PER_PATH = 5_000


def in_cutting_order(drawing: Drawing, steps_per_path: int = STEPS_PER_PATH) -> Drawing:
    """Return *drawing* with one group for each layer, its paths in the order of work.

    What is drawn comes first, then scores and perforations, then cuts: lines inside
    parts, and outlines, the small ones first. Where the order is free the tool travels
    little; for that an open line may be run from its other end, and a closed one starts
    at another of its vertices. More *steps_per_path* travel less. The same drawing and
    number give the same order on every machine. Names tell the part of each path.
    """
    parts = [_with_names(group) for group in drawing.groups]
    steps = {layer: [s for part in parts for s in strands_of(part, layer)] for layer in ORDER}
    batches = [batch for layer, strands in steps.items() for batch in _batches(layer, strands)]
    done: dict[Layer, list[Item]] = {layer: [] for layer in ORDER}
    for item in _in_order(batches, steps_per_path):
        done[item.layer].append(item)
    groups = (_group(drawing, layer, tuple(items)) for layer, items in done.items())
    return replace(drawing, groups=tuple(g for g in groups if g.items or g.captions))


def _with_names(group: Group) -> Group:
    """Return *group* with its title before the name of each path."""
    names = (": ".join(filter(None, (group.title, item.name))) for item in group.items)
    items = (replace(item, name=name) for item, name in zip(group.items, names, strict=True))
    return replace(group, items=tuple(items))


def _batches(layer: Layer, strands: Sequence[Strand]) -> Iterator[list[Strand]]:
    """Yield strands in rows that have no order of their own, but come one after the other."""
    if layer is not Layer.CUT:
        yield from fields(strands)
        return
    for stage in stages([item for strand in strands for item in strand]):
        yield from fields([strands[i] for i in stage])


def _in_order(batches: Sequence[Sequence[Strand]], steps_per_path: int) -> Iterator[Item]:
    """Yield the paths of all batches; each batch starts near where the last one ended."""
    ways = [[ways_along(strand) for strand in batch] for batch in batches]
    here: Place | None = None
    for number, batch in enumerate(batches):
        steps = Steps(steps_per_path * len(batch))
        goes_to = _first_places(ways[number + 1 : number + 2])
        for stop, way in short_tour(ways[number], here, goes_to, steps):
            yield from run_along(batch[stop], way)
            here = ways[number][stop][way].out


def _first_places(batches: Sequence[Sequence[Sequence[Way]]]) -> list[Place]:
    """Return where the paths of the next batch may be entered, if there is one."""
    return [way.into for batch in batches for ways in batch for way in ways]


def _group(drawing: Drawing, layer: Layer, items: tuple[Item, ...]) -> Group:
    word = layer.value.lower().replace("_", " ")
    return Group(f"step.{layer.value}", word.capitalize(), items, _captions(drawing, layer))


def _captions(drawing: Drawing, layer: Layer) -> tuple[Caption, ...]:
    return tuple(text for group in drawing.groups for text in group.captions if text.layer is layer)

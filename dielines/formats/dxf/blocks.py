"""Inserted blocks, taken apart within bounds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .library import Entity

MAX_DEPTH = 16
MAX_ENTITIES = 100_000  #: that may come out of blocks, empty copies counted


class Unbounded(Exception):
    """Blocks that hold each other too deep or too often; the text is "deep" or "many"."""


@dataclass(slots=True)
class _Work:
    """How many more entities may come, and what kinds could not be taken out of a block."""

    skipped: Counter[str]
    left: int

    def skip(self, entity: Entity, _reason: str) -> None:
        self.skipped[entity.dxftype()] += 1

    def count(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise Unbounded("many")


def taken_apart(entities: Iterable[Entity], skipped: Counter[str]) -> Iterator[tuple[Entity, str]]:
    """Yield each entity with its layer, blocks as the entities that they hold.

    What lies on layer 0 of a block lies on the layer of the insertion (DXF
    Reference, BLOCK). Kinds that cannot be taken out are counted in *skipped*.
    Raises Unbounded.
    """
    work = _Work(skipped, MAX_ENTITIES)
    for entity in entities:
        if entity.dxftype() == "INSERT":
            yield from _inserted(entity, layer_name(entity), 1, work)
        else:
            yield entity, layer_name(entity)


def layer_name(entity: Entity) -> str:
    """Return the name of the entity's layer; 0 for kinds that the library does not know."""
    return str(entity.dxf.layer) if entity.dxf.is_supported("layer") else "0"


def _inserted(insert: Entity, layer: str, depth: int, work: _Work) -> Iterator[tuple[Entity, str]]:
    if depth > MAX_DEPTH:
        raise Unbounded("deep")
    for copy in insert.multi_insert() if insert.mcount > 1 else (insert,):
        work.count()
        for entity in copy.virtual_entities(skipped_entity_callback=work.skip):
            work.count()
            own = layer_name(entity)
            own = layer if own == "0" else own
            if entity.dxftype() == "INSERT":
                yield from _inserted(entity, own, depth + 1, work)
            else:
                yield entity, own

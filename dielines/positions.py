"""Line and column of every key and value in a TOML text that is known to be well formed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Key = str | int


@dataclass(frozen=True, slots=True)
class Position:
    """Line and column (from 1) of a key and of its value."""

    key: tuple[int, int]
    value: tuple[int, int]


_KEYS = {"bare_key", "quoted_key", "dotted_key"}


def positions_of(text: str) -> dict[tuple[Key, ...], Position]:
    """Return the positions of all keys and values, by path; list entries by index."""
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    content = text.encode("utf-8", "surrogatepass")
    tree = Parser(Language(tree_sitter_toml.language())).parse(content)
    return dict(_Walk(content).tables(tree.root_node))


class _Walk:
    """Walks a syntax tree; counts how often each list of tables has begun."""

    def __init__(self, content: bytes) -> None:
        self.lines = content.split(b"\n")
        self.counts: dict[tuple[Key, ...], int] = {}

    def tables(self, root: Any) -> Iterator[tuple[tuple[Key, ...], Position]]:
        for node in root.children:
            if node.type == "pair":
                yield from self.pair(node, ())
            elif node.type in ("table", "table_array_element"):
                yield from self.table(node)

    def table(self, node: Any) -> Iterator[tuple[tuple[Key, ...], Position]]:
        header = next(child for child in node.children if child.type in _KEYS)
        path = self.resolved(self.key_path(header))
        if node.type == "table_array_element":
            index = self.counts.get(path, 0)
            self.counts[path] = index + 1
            path = (*path, index)
        place = self.place(header)
        yield path, Position(place, place)
        for child in node.children:
            if child.type == "pair":
                yield from self.pair(child, path)

    def pair(self, node: Any, base: tuple[Key, ...]) -> Iterator[tuple[tuple[Key, ...], Position]]:
        named = [child for child in node.children if child.type not in ("=", "comment")]
        path = (*base, *self.key_path(named[0]))
        yield path, Position(self.place(named[0]), self.place(named[-1]))
        yield from self.inside(named[-1], path)

    def inside(
        self, node: Any, path: tuple[Key, ...]
    ) -> Iterator[tuple[tuple[Key, ...], Position]]:
        if node.type == "inline_table":
            for child in node.children:
                if child.type == "pair":
                    yield from self.pair(child, path)
        elif node.type == "array":
            entries = [c for c in node.children if c.type not in ("[", "]", ",", "comment")]
            for index, child in enumerate(entries):
                place = self.place(child)
                yield (*path, index), Position(place, place)
                yield from self.inside(child, (*path, index))

    def resolved(self, path: tuple[str, ...]) -> tuple[Key, ...]:
        """Return a header's path with the index of each list of tables on its way."""
        result: tuple[Key, ...] = ()
        for key in path[:-1]:
            result = (*result, key)
            if result in self.counts:
                result = (*result, self.counts[result] - 1)
        return (*result, path[-1])

    def key_path(self, node: Any) -> tuple[str, ...]:
        if node.type == "dotted_key":
            pieces = [child for child in node.children if child.type in _KEYS]
            return tuple(key for piece in pieces for key in self.key_path(piece))
        words = node.text.decode("utf-8", "replace")
        return (words[1:-1] if node.type == "quoted_key" else words,)

    def place(self, node: Any) -> tuple[int, int]:
        row, byte = node.start_point
        return row + 1, len(self.lines[row][:byte].decode("utf-8", "replace")) + 1

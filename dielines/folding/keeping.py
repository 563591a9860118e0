"""What is found out about a folded part or book, kept with it as its own cached properties are."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

Found = TypeVar("Found")


def kept_with(thing: object, name: Hashable, find: Callable[[], Found]) -> Found:
    """Return what *find* finds out about a folded part or book, the first time *name* is asked for."""
    kept = vars(thing).setdefault("kept", {})
    if name not in kept:
        kept[name] = find()
    found: Found = kept[name]
    return found

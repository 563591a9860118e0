"""Finding the bindings: one file each in this folder."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, Protocol

from .bound import Body, Bound, Towards
from .frame import Frame
from .pages import BoundPage


class Binding(Protocol):
    """What a file of a binding offers."""

    NAME: str
    HELP: str
    COVERS: str

    @staticmethod
    def half_of(number: int, count: int, frame: Frame) -> Towards:
        """Return the cover to whose half page *number* of *count* belongs."""

    @staticmethod
    def page_alone(body: Body, count: int, frame: Frame) -> BoundPage:
        """Return one page of *count* with what holds it, once all sizes are found."""

    @staticmethod
    def bind(bodies: Sequence[Body], frame: Frame) -> Bound:
        """Return the bound book."""


@cache
def bindings() -> Mapping[str, Binding]:
    """Return all bindings by the name that a book file uses."""
    from . import __name__ as package
    from . import __path__ as folder

    names = sorted(module.name for module in pkgutil.iter_modules(folder))
    modules: list[Any] = [importlib.import_module(f"{package}.{name}") for name in names]
    return {module.NAME: module for module in modules if hasattr(module, "bind")}

"""Finding the rules: one file each in the folder ``rules``."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any, Protocol

from ..folding.folded_book import FoldedBook
from .finding import Finding, Severity


class Rule(Protocol):
    """What a file of a rule offers; its docstring begins with what it finds.

    NAME is the fault in the words of the trade, as ``[ignore]`` takes it: "seam off
    target". WHY is a plain sentence for the maker. WORST is the worst severity that
    it gives. SOURCE says where the rule and its numbers come from: geometry, a
    handbook with page, common practice, or from memory.
    """

    NAME: str
    WHY: str
    WORST: Severity
    SOURCE: str

    @staticmethod
    def check(folded: FoldedBook) -> Iterable[Finding]:
        """Yield what is wrong with the book."""


@cache
def rules() -> Mapping[str, Rule]:
    """Return all rules by name, in the order of their files; one that fails to load is an error."""
    from .rules import __name__ as package
    from .rules import __path__ as folder

    names = sorted(module.name for module in pkgutil.iter_modules(folder))
    modules: list[Any] = [importlib.import_module(f"{package}.{name}") for name in names]
    return {module.NAME: module for module in modules}

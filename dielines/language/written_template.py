"""A template as it is written: what a file in the template language says before any size is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..documents import Document
from ..lengths import Unit
from .edit_lines import EditLine
from .joins import JoinTable
from .parameters import Derived, Parameter
from .part_tables import PartTable


@dataclass(frozen=True)
class Template:
    """A template file, checked as far as it can be without sizes."""

    name: str
    kind: str
    version: int
    units: Unit | None
    help: str
    parameters: tuple[Parameter, ...]
    derived: tuple[Derived, ...]
    parts: Mapping[str, Any]  #: as the file has them
    tables: tuple[PartTable, ...]  #: the parts, read
    joins: tuple[JoinTable, ...]
    edits: tuple[EditLine, ...]  #: of kind fold: what is done on the bound fold
    document: Document

    @property
    def words(self) -> str:
        """The name as a crafter says it: 'side pocket'."""
        return self.name.replace("-", " ")

    def fresh_document(self) -> Document:
        """Return the file with an empty list of faults, for one building."""
        return replace(self.document, faults=[])

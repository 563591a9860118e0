"""Machines by what they can do, to name in a workshop file: data, one file a machine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from ..documents import Document, read_book_document
from .shipped import FOLDER


@dataclass(frozen=True)
class MachineExample:
    """A machine that is none in particular; its table stands in *document*."""

    name: str
    purpose: str
    caution: str  #: what whoever uses such a machine has to heed
    document: Document


@cache
def machine_examples() -> Mapping[str, MachineExample]:
    """Return the machines of the folder ``data/machines`` by name."""
    documents = map(read_book_document, sorted((FOLDER / "machines").glob("*.toml")))
    examples = (_example(document) for document in documents)
    return MappingProxyType({example.name: example for example in examples})


def _example(document: Document) -> MachineExample:
    name, purpose, caution = (document.data[key] for key in ("name", "purpose", "caution"))
    return MachineExample(name, purpose, caution, document)

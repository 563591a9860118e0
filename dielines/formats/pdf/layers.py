"""Layers of a PDF: optional content that says its processing step (ISO 19593-1).

The dictionary of each layer has the key GTS_Metadata with the group of the step
and, where the group has types, the type; spelled as the Arlington PDF Model has
them. The name is for people.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from ...drawing import PROCESSING_STEPS, Layer
from ..layer_words import TITLES, layer_named
from .texts import from_text_string

METADATA, GROUP, KIND = "/GTS_Metadata", "/GTS_ProcStepsGroup", "/GTS_ProcStepsType"


def layer_dictionary(layer: Layer) -> Any:
    """Return the optional content group of *layer*."""
    from pikepdf import Dictionary, Name

    group, kind = PROCESSING_STEPS[layer]
    step = {GROUP: Name(f"/{group}")} | ({KIND: Name(f"/{kind}")} if kind else {})
    return Dictionary(
        {"/Type": Name.OCG, "/Name": TITLES[layer].encode("ascii"), METADATA: Dictionary(step)}
    )


def layers_dictionary(groups: Iterable[Any]) -> Any:
    """Return what the file says of its layers: all are there, in that order, and can be seen."""
    from pikepdf import Array, Dictionary, Name

    listed = list(groups)
    shown = Dictionary({"/BaseState": Name.ON, "/Order": Array(listed), "/ON": Array(listed)})
    return Dictionary({"/OCGs": Array(listed), "/D": shown})


@dataclass(frozen=True, slots=True)
class FileLayer:
    """A layer of a file: what it is called there, and which of ours it is."""

    name: str
    layer: Layer | None


def layer_from(dictionary: Any) -> FileLayer:
    """Return what an optional content group says that it is.

    Its processing step counts; of two layers with the same step, and where there
    is none, its name.
    """
    name = from_text_string(bytes(dictionary.get("/Name", b"")))
    called = _called(name)
    metadata = dictionary.get(METADATA)
    if metadata is None:
        return FileLayer(name, called)
    words = (metadata.get(GROUP), metadata.get(KIND))
    step = tuple(str(word).removeprefix("/") if word is not None else None for word in words)
    fitting = [layer for layer in Layer if PROCESSING_STEPS[layer] == step]
    if called in fitting or not fitting:
        return FileLayer(name, called if fitting else None)
    return FileLayer(name, fitting[0])


def _called(name: str) -> Layer | None:
    return _BY_TITLE.get(name) or layer_named(name)


_BY_TITLE = {title: layer for layer, title in TITLES.items()}

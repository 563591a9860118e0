"""How pictures call things."""

from __future__ import annotations

import re

from ..book.join_words import panel_words
from ..part import Part


def panel_name(part: Part, name: str) -> str:
    """Return the name of a panel as one says it: "front tab", "leaf 2"."""
    return re.sub(r"(?<=[a-z])(?=\d+$)", " ", panel_words(part, name))

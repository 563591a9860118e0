"""What to do about a book file that is no TOML, for the slips that people make most."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path as FilePath

from ..errors import Fault

_SLIPS: tuple[tuple[str, str], ...] = (
    (r"[“”„‘’]", 'Use plain quotes: ".'),
    (r"^\s*\[\s*every\s*\.\s*[^\"\]]*[\s][^\"\]]*\]", 'Put quotes round the kind: [every."top pocket"].'),
    (r"^[^=]*=\s*\"[^\"]*\d\s*\"[^,\]]", "A quote ends the text; write in instead of an inch sign."),
    (r"^\s*[\w-]+\s*=\s*[^\"'\[{\s][^\"']*$", 'Put quotes round words and fractions: flap = "2 1/2".'),
    (r"^\s*[\w-]+(\s+[\w-]+)+\s*=", "A key is one word; join its words with _ ."),
    (r"^\s*[\w-]+\s*:", 'Write = between a key and its value: flap = "2 1/2".'),
)  # fmt: skip
_TWICE = "overwrite"


def with_remedies(faults: Iterable[Fault], path: FilePath) -> tuple[Fault, ...]:
    """Return *faults* of the file at *path*; those that say it is no TOML with what to do."""
    return tuple(
        replace(fault, remedy=_remedy(fault, path)) if fault.code == "not-toml" else fault
        for fault in faults
    )


def _remedy(fault: Fault, path: FilePath) -> str:
    if _TWICE in fault.message or "twice" in fault.message:
        return "The same key or header stands in the file twice; keep one."
    lines = path.read_text("utf-8-sig").split("\n")
    line = lines[fault.line - 1] if fault.line <= len(lines) else ""
    return next((remedy for slip, remedy in _SLIPS if re.search(slip, line)), fault.remedy)

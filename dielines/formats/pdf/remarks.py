"""What the PDF reader remarks on: what it left out, and what it had to guess."""

from __future__ import annotations

from collections import Counter

from ..readings import Remark

#: {count} stands for how often it was met.
TEXTS = {
    "several-pages": "The file has {count} pages; only the first was read. Name another with --page.",
    "turned-page": "The page is shown turned; it was read as it is shown.",
    "text-left-out": "{count} text(s) were left out; only outlines can be cut.",
    "picture-left-out": "{count} picture(s) were left out; only outlines can be cut.",
    "hidden-left-out": "{count} path(s) on hidden layers were left out.",
    "clipping-left-out": "{count} path(s) that hide what lies outside were left out.",
    "broken-content": "{count} page(s) or form(s) hold an error; they were read up to it.",
    "broken-reference": "{count} reference(s) lead nowhere.",
    "unknown-layer": "{count} path(s) lie on no layer of ours; they were read as marks.",
}


def remarks_on(counts: Counter[str]) -> tuple[Remark, ...]:
    """Return one remark per code that was counted, in the order of TEXTS."""
    return tuple(
        Remark(code, text.format(count=counts[code]))
        for code, text in TEXTS.items()
        if counts[code]
    )

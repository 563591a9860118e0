"""What the SVG reader remarks on: what it left out, and what it had to guess."""

from __future__ import annotations

from collections import Counter

from ..readings import Remark

#: {count} stands for how often it was met.
TEXTS = {
    "no-physical-size": "The file gives no size in mm or in; its pixels were taken as 1/96 in.",
    "size-from-viewbox": "The file gives no width or height; its viewBox was taken as pixels.",
    "size-from-contents": "The file gives neither size nor viewBox; its contents were measured.",
    "bad-size": "The file gives a width or height that cannot be used ({count}).",
    "bad-viewbox": "The file gives a viewBox that cannot be used ({count}).",
    "uneven-scale": "The file stretches its contents more one way than the other.",
    "no-namespace": "The file does not say that it is SVG; it was read as if it did.",
    "text-left-out": "{count} text(s) were left out; only outlines can be cut.",
    "picture-left-out": "{count} picture(s) were left out; only outlines can be cut.",
    "foreign-content-left-out": "{count} piece(s) of other content were left out.",
    "hidden-left-out": "{count} hidden element(s) were left out.",
    "clipping-left-out": "{count} element(s) are clipped or masked; they were read whole.",
    "stylesheet-left-out": "{count} style sheet(s) were left out; they may hide or move things.",
    "script-left-out": "{count} script(s) were left out.",
    "animation-left-out": "{count} animation(s) were left out.",
    "external-reference": "{count} reference(s) to other files were not followed.",
    "broken-reference": "{count} reference(s) lead nowhere or to themselves.",
    "broken-shape": "{count} shape(s) hold an error; they were read up to it.",
    "broken-transform": "{count} transform(s) hold an error and were left out.",
    "unknown-property": "{count} element(s) are moved in ways that were left out.",
    "unknown-layer": "{count} path(s) lie on no layer of ours; they were read as marks.",
}


class Remarks:
    """Counts what is met, code by code."""

    def __init__(self) -> None:
        """Start with nothing."""
        self._counts: Counter[str] = Counter()

    def add(self, code: str) -> None:
        """Count *code*, one of TEXTS."""
        self._counts[code] += 1

    def sorted(self) -> tuple[Remark, ...]:
        """Return one remark per code, in the order of TEXTS."""
        return tuple(
            Remark(code, text.format(count=self._counts[code]))
            for code, text in TEXTS.items()
            if self._counts[code]
        )

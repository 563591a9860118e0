"""Strips of panels p0, p1, p2 ... side by side, 40 mm high, folded in the steps that are given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from folded_parts_of import drawn
from spoiling import with_steps

from dielines.part import Part


def strip(widths: Sequence[object], angles: Sequence[int], *steps: str) -> Part:
    """Return a strip of panels so wide (mm, or a text), with these angles; no steps unless given."""
    names = [f"p{i}" for i in range(len(widths))]
    folds = [f'"p{i} | p{i + 1}" = {angle}' for i, angle in enumerate(angles)]
    across = ", ".join(f'"{width}"' for width in widths)
    part = drawn(across, [f"40 : {' '.join(names)}"], folds, "p0 | p1")
    return with_steps(part, *steps) if steps else replace(part, steps=())


def rolled(widths: Sequence[object], angles: Sequence[int]) -> Part:
    """Return a strip whose last panel is folded first, then the one before, as one rolls it up."""
    folds = [f"p{i} | p{i + 1}" for i in range(len(angles))]
    return strip(widths, angles, *reversed(folds))

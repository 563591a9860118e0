"""The steps of a trimmer in plain words."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ..order import Way
from .trimming import Piece, Purpose, Step, Stroke

_EDGE = {Way.UPRIGHT: "left", Way.LEVEL: "lower"}
_ENDS = {Way.UPRIGHT: ("left", "right"), Way.LEVEL: ("lower", "upper")}


def step_lines(
    steps: Sequence[Step], names: Sequence[str], shown: Callable[[int], str], stages: int | None
) -> tuple[str, ...]:
    """Return one line for each step; *names* of the kinds of box, *shown* tells a length.

    Trims that come after the last of so many *stages* are told as such.
    """
    return tuple(_line(step, names, shown, stages) for step in steps)


def _line(step: Step, names: Sequence[str], shown: Callable[[int], str], stages: int | None) -> str:
    strokes = "; ".join(_told(step.way, stroke, names, shown) for stroke in step.strokes)
    edge = _EDGE[step.way]
    return f"{step.number}. {_stage(step, stages)}, fence at {shown(step.fence)}, {edge} edge against it: {strokes}."


def _stage(step: Step, stages: int | None) -> str:
    if step.purpose is Purpose.MARGIN:
        return "Margin"
    if step.purpose is Purpose.TRIM and (stages is None or step.stage > stages):
        return "Trim"
    return f"Stage {step.stage}"


def _told(way: Way, stroke: Stroke, names: Sequence[str], shown: Callable[[int], str]) -> str:
    near, far = _ENDS[way]
    return (
        f"{stroke.piece.letter} gives {_named(stroke.near, names, shown)} ({near})"
        f" and {_named(stroke.far, names, shown)} ({far})"
    )


def _named(piece: Piece, names: Sequence[str], shown: Callable[[int], str]) -> str:
    size = f"{shown(piece.width)} x {shown(piece.height)}"
    if piece.letter:
        return f"{piece.letter}, {size}"
    return "waste" if piece.kind is None else names[piece.kind]

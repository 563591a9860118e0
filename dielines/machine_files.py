"""The files of a drawing: to cut, as the person's machine wants them, and to look at.

The *cut* file holds what the machine acts on and nothing else, in the formats
that it reads; the *guide* holds every layer, in all of these formats, for people.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from .dashes import Dashes, with_dashes
from .drawing import Drawing, Layer, in_floats, only_layers
from .formats.choices import Choices, Grouping, Reader
from .formats.kinds import machine_formats
from .formats.legend import with_legend
from .formats.look import with_true_size
from .formats.proving import ProvedFile, proved
from .turning import turned_over, with_one_scoring_tool
from .workshop import machine as workshop

SCORES = frozenset({Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN})
GUIDE = Choices(reader=Reader.PEOPLE)
_GROUPINGS = {
    workshop.Grouping.PART_FIRST: Grouping.PART_THEN_LAYER,
    workshop.Grouping.LAYER_FIRST: Grouping.LAYER_THEN_PART,
    workshop.Grouping.NONE: Grouping.NONE,
}


def proved_files(name: str, drawing: Drawing, machine: workshop.Machine) -> tuple[ProvedFile, ...]:
    """Return the cut files and the guides of *drawing*, each read back; raises Defect."""
    drawing = in_floats(drawing)
    return (*_cut_files(name, drawing, machine), *guide_files(name, drawing))


def _cut_files(name: str, drawing: Drawing, machine: workshop.Machine) -> Iterator[ProvedFile]:
    cut, choices = cut_drawing(drawing, machine), choices_of(machine)
    for kind in machine_formats():
        if kind.suffix.removeprefix(".") in machine.reads:
            yield proved(f"{name}.cut{kind.suffix}", cut, kind, choices)


def sheet_files(name: str, drawing: Drawing, machine: workshop.Machine) -> tuple[ProvedFile, ...]:
    """Return the cut files of one sheet, each read back; raises Defect."""
    return tuple(_cut_files(name, in_floats(drawing), machine))


def guide_files(name: str, drawing: Drawing) -> Iterator[ProvedFile]:
    """Yield the guides of *drawing* in all formats, each read back; raises Defect."""
    guide = with_true_size(with_legend(drawing))
    for kind in machine_formats():
        yield proved(f"{name}.guide{kind.suffix}", guide, kind, GUIDE)


def choices_of(machine: workshop.Machine) -> Choices:
    """Return what *machine* asks of its files."""
    return Choices(
        grouping=_GROUPINGS[machine.grouping],
        layer_order=_layer_order(machine),
        colours=tuple((Layer(word), colour) for word, colour in machine.colours.items()),
        svg_units_per_inch=machine.svg_units_per_inch,
        dxf_version=machine.dxf_version,
    )


def _layer_order(machine: workshop.Machine) -> tuple[Layer, ...]:
    """Return the order of the layers as they are in the cut file."""
    written = {layer: layer for layer in Layer}
    if machine.scoring is workshop.Scoring.DASHES:
        written |= dict.fromkeys(SCORES, Layer.PERFORATE)
    elif machine.shares_scoring_tool:
        written |= dict.fromkeys(SCORES, Layer.SCORE_VALLEY)
    return tuple(dict.fromkeys(written[Layer(word)] for word in machine.layers))


def cut_drawing(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return what *machine* acts on: its side of the paper up, scores as it makes them."""
    lying = turned_over(drawing) if machine.side_up == "reverse" else drawing
    layers = frozenset(Layer(word) for word in machine.cut_layers)
    scored = _scored(only_layers(lying, layers), machine)
    told = (*scored.metadata, ("scoring", scoring_words(machine)))
    return with_true_size(replace(scored, metadata=told))


def _scored(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    if machine.scoring is workshop.Scoring.DASHES:
        return with_dashes(drawing, SCORES, dashes_of(machine))
    return with_one_scoring_tool(drawing) if machine.shares_scoring_tool else drawing


def dashes_of(machine: workshop.Machine) -> Dashes:
    """Return the dashes that *machine* cuts in place of a score."""
    sizes = (machine.dashes.dash, machine.dashes.gap, machine.dashes.keep_off)
    return Dashes(*(float(size.mm) for size in sizes))


def scoring_words(machine: workshop.Machine) -> str:
    """Return how the scores of a cut file are made, for its metadata."""
    if machine.scoring is workshop.Scoring.NONE:
        return "by hand"
    if machine.scoring is workshop.Scoring.DASHES:
        dashes = dashes_of(machine)
        return f"cut {dashes.dash:g} mm, leave {dashes.gap:g} mm"
    return "one tool for valley and mountain" if machine.shares_scoring_tool else "two tools"

"""The files of a drawing: to cut, as the person's machine wants them, and to look at.

The *cut* file holds what the machine acts on and nothing else, in the formats
that it reads; the *guide* holds every layer, in all of these formats, for people.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from .cutting.bridges import with_bridges
from .cutting.duplicates import without_duplicates
from .cutting.in_cutting_order import in_cutting_order
from .cutting.kerf import with_kerf
from .cutting.registration import KEY as REGISTRATION
from .cutting.registration import registration_marks
from .cutting.shared_edges import with_shared_edges
from .cutting.starts import with_overlap
from .dashes import Dashes, with_dashes
from .drawing import Drawing, Group, Layer, in_floats, only_layers
from .formats.choices import Choices, Grouping, Reader
from .formats.kinds import machine_formats
from .formats.legend import with_legend
from .formats.look import with_true_size
from .formats.proving import ProvedFile, proved
from .lettering.strokes_of import items_of
from .paths import Bounds
from .turning import moved, turned_over, with_one_scoring_tool
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
    """Return the cut files of one sheet in the order of work, each read back.

    All are in one coordinate system, that of the sheet, also where each layer has a
    file of its own. Raises Defect; UsageError where something is narrower than the
    cut, or there is no room for registration marks.
    """
    sheet = cut_sheet(drawing, machine)
    parted = _layer_by_layer(sheet, machine) if machine.has_file_per_layer else [("", sheet)]
    return tuple(
        proved(f"{name}.cut{ending}{kind.suffix}", part, kind, _in_order_of(part, machine))
        for ending, part in parted
        for kind in machine_formats()
        if kind.suffix.removeprefix(".") in machine.reads
    )


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
    """Return what *machine* acts on: its side of the paper up, scores as it makes them.

    Parts lie as they are drawn. Where the cut takes something away, the page grows
    by that, so that nothing lies beyond it.
    """
    lying = turned_over(drawing) if machine.side_up == "reverse" else drawing
    kerf = float(machine.kerf.mm)
    kept = _on_larger_page(only_layers(lying, _layers_of(machine)), kerf)
    return _told(_scored(with_kerf(kept, kerf), machine), machine)


def _layers_of(machine: workshop.Machine) -> frozenset[Layer]:
    return frozenset(Layer(word) for word in machine.cut_layers)


def _on_larger_page(drawing: Drawing, by: float) -> Drawing:
    if not by:
        return drawing
    larger = replace(drawing, width=drawing.width + by, height=drawing.height + by)
    return moved(larger, by / 2, by / 2)


def _told(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return *drawing* with what was done for the machine, and its true size."""
    told = [("scoring", scoring_words(machine))]
    if machine.kerf:
        told.append(("kerf", f"{float(machine.kerf.mm):g} mm, allowed for"))
    return with_true_size(replace(drawing, metadata=(*drawing.metadata, *told)))


def cut_sheet(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return what *machine* does on a sheet, path by path; raises UsageError.

    Each step has a group of its own. Nothing is worked twice, and nothing lies
    outside the outlines but registration marks, where they are asked for.
    """
    lying = in_floats(in_pen_strokes(_side_up(drawing, machine)))
    worked = without_duplicates(only_layers(lying, _layers_of(machine)))
    ordered = _ordered(with_kerf(worked, float(machine.kerf.mm)), machine)
    marks = _registration(ordered, machine)
    held = _held(ordered, machine)
    return _told(replace(held, groups=(*marks, *held.groups)), machine)


def _side_up(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return *drawing* with the side up that the machine wants, mirrored within what it reaches."""
    if machine.side_up != "reverse":
        return drawing
    reach = _reach(drawing, machine)
    return moved(turned_over(drawing), float(reach.left + reach.right) - drawing.width, 0.0)


def _reach(drawing: Drawing, machine: workshop.Machine) -> Bounds:
    """Return what *machine* reaches of the sheet, at the lower left of what it does not leave bare."""
    margin = float(machine.margin.mm)
    across, up = (float(side.mm) for side in machine.area)
    right = margin + min(across, drawing.width - 2 * margin)
    top = margin + min(up, drawing.height - 2 * margin)
    return Bounds(margin, margin, right, top)


def _ordered(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return *drawing* in cutting order; dashes follow one another along their line."""
    if machine.scoring is workshop.Scoring.DASHES:
        return _scored(in_cutting_order(with_one_scoring_tool(drawing)), machine)
    return in_cutting_order(_scored(drawing, machine))


def in_pen_strokes(drawing: Drawing) -> Drawing:
    """Return *drawing* with its words as strokes of a pen, each on the layer of its words."""
    groups = (
        replace(
            group,
            items=(*group.items, *(i for caption in group.captions for i in items_of(caption))),
            captions=(),
        )
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _registration(drawing: Drawing, machine: workshop.Machine) -> tuple[Group, ...]:
    if not machine.has_registration_marks:
        return ()
    return (registration_marks(drawing, _reach(drawing, machine)),)


def _held(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    """Return *drawing*, in cutting order, with closed cuts shared, held and begun as is asked."""
    shared = with_shared_edges(drawing) if machine.cuts_shared_edges_once else drawing
    width, every = (float(size.mm) for size in (machine.bridges.width, machine.bridges.every))
    gap = width + float(machine.kerf.mm) if width else 0.0
    return with_overlap(with_bridges(shared, gap, every), float(machine.overlap.mm))


def _layer_by_layer(sheet: Drawing, machine: workshop.Machine) -> Iterator[tuple[str, Drawing]]:
    """Yield the ending of the name and the drawing of each layer's file, in the order of work."""
    marks = tuple(group for group in sheet.groups if group.key == REGISTRATION)
    steps = replace(sheet, groups=tuple(group for group in sheet.groups if group not in marks))
    for number, layer in enumerate(_layers_in(steps), 1):
        alone = only_layers(steps, frozenset({layer}))
        is_any_score = layer in SCORES and machine.shares_scoring_tool
        word = "score" if is_any_score else layer.value.lower().replace("_", "-")
        yield f".{number}-{word}", with_true_size(replace(alone, groups=(*marks, *alone.groups)))


def _layers_in(drawing: Drawing) -> tuple[Layer, ...]:
    """Return the layers of *drawing* in the order in which they come."""
    layers: dict[Layer, None] = {}
    for group in drawing.groups:
        layers |= dict.fromkeys(item.layer for item in group.items)
        layers |= dict.fromkeys(caption.layer for caption in group.captions)
    return tuple(layers)


def _in_order_of(drawing: Drawing, machine: workshop.Machine) -> Choices:
    return replace(choices_of(machine), layer_order=_layers_in(drawing))


def _scored(drawing: Drawing, machine: workshop.Machine) -> Drawing:
    if machine.scoring is workshop.Scoring.DASHES:
        return with_dashes(drawing, SCORES, _shortened(dashes_of(machine), float(machine.kerf.mm)))
    return with_one_scoring_tool(drawing) if machine.shares_scoring_tool else drawing


def _shortened(dashes: Dashes, kerf: float) -> Dashes:
    """Return *dashes* as their middle lines: a beam burns half its width beyond both ends."""
    by = min(kerf, 0.9 * dashes.dash)
    return Dashes(dashes.dash - by, dashes.gap + by, dashes.keep + by / 2)


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

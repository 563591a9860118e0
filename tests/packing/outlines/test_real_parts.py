"""Parts of composed books, with their true outlines, arcs and holes, on sheets of 12 x 12 in."""

import pytest
from composed import album, composed
from outline_judge import wrong_counts, wrong_on_outline_sheet, wrong_turns

from dielines.packing.cells import Cells, Shape
from dielines.packing.free import free_method
from dielines.packing.kits import solve
from dielines.packing.order import Bed, Box, Order, Work
from dielines.packing.outlines.solving import Outline, outline_plan
from dielines.paths import flattened

UNIT, GAP, SIDE = 0.01, 25.4 / 8, 11.5 * 25.4  #: mm
PAGES = '"side pocket", "2 x flap", "gate doors", "plain leaf", "frame page", "tiered pockets"'
BINDINGS = ["tab and channel", "concertina spine"]


def units(length):
    return -int(-(length / UNIT - 1e-6) // 1)


def kinds_of(book, role):
    """Return the parts of a role as outlines, and how many there are of each."""
    found = {}
    for entry in book.parts:
        if entry.stock.name == role:
            found.setdefault(entry.letter, []).append(entry.part)
    outlines = [
        Outline(tuple(tuple(flattened(path, 0.05)) for path in parts[0].outline), (0, 2))
        for parts in found.values()
    ]
    return outlines, [len(parts) for parts in found.values()]


def extent(outline, axis):
    along = [point[axis] for point in outline.rings[0]]
    return max(along) - min(along)


@pytest.mark.parametrize("binding", BINDINGS)
@pytest.mark.parametrize("copies", [1, 12])
def test_real_parts_lie_apart_and_save_sheets_in_kits(binding, copies):
    outlines, counts = kinds_of(composed(album(PAGES, binding=binding)), "card")
    assert any(len(outline.rings[0]) > 4 for outline in outlines)
    boxes = tuple(Box(*(units(extent(o, axis) + GAP) for axis in (0, 1))) for o in outlines)
    bed = Bed(units(SIDE + GAP), units(SIDE + GAP))
    fitting = [i for i, b in enumerate(boxes) if b.width <= bed.width and b.height <= bed.height]
    outlines = [outlines[i] for i in fitting]
    order = Order(
        tuple(boxes[i] for i in fitting), tuple(counts[i] * copies for i in fitting), (bed,)
    )
    by_boxes = solve(order, free_method(order), Work(200_000))
    plan = outline_plan(order, outlines, (UNIT, GAP), Work(300_000), [by_boxes])
    shapes = [Shape(tuple((q, Cells(1, 1, (1,))) for q in o.quarters)) for o in outlines]
    assert plan.sheets() <= by_boxes.sheets() - (copies == 12)
    assert wrong_counts(order, plan.runs) == []
    for pattern, _ in plan.runs:
        rings = [outline.rings for outline in outlines]
        assert wrong_on_outline_sheet(rings, order, pattern, UNIT, GAP) == []
        assert wrong_turns(shapes, order, pattern) == []

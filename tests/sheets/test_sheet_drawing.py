import math
from dataclasses import replace

import pytest
import shapely
from sheets_judge import shape_of

from dielines.drawing import Layer
from dielines.lengths import inches
from dielines.packing.order import Work
from dielines.paths import Point, flattened, length_of
from dielines.sheets.laying_out import lay_out
from dielines.sheets.sheet_drawing import quarter_turn, sheet_drawing
from dielines.sheets.way_of_cutting import By
from dielines.workshop.reach import Reach
from dielines.workshop.sizes import Size


@pytest.fixture(scope="module")
def layout(sample):
    book, workshop = sample("lakeside")
    return lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(20_000))


def outlines(drawing):
    for group in drawing.groups:
        rings = [item for item in group.items if item.layer is Layer.CUT and item.path.closed]
        outline = next(item for item in rings if item.name == "outline")
        holes = [flattened(item.path, 0.02) for item in rings if item.name == "opening"]
        yield group, shapely.Polygon(flattened(outline.path, 0.02), holes)


def test_each_part_is_drawn_where_the_layout_puts_it(layout):
    for _, sheet in layout.sheets():
        drawing = sheet_drawing(sheet, "sheet")
        for (_, drawn), one in zip(outlines(drawing), sheet.placed, strict=True):
            assert drawn.symmetric_difference(shape_of(one)).area < 0.5


def test_the_page_is_as_large_as_the_sheet_and_nothing_lies_in_its_margin(layout):
    for stock, sheet in layout.sheets():
        drawing = sheet_drawing(sheet, "sheet")
        size = sheet.room.sheet.size
        assert (drawing.width, drawing.height) == (float(size.across.mm), float(size.up.mm))
        margin = float(stock.terms.reach.margin.mm)
        room = shapely.box(margin, margin, drawing.width - margin, drawing.height - margin)
        for item in drawing.items():
            points = flattened(item.path, 0.02)
            if item.layer is Layer.CUT:
                assert room.buffer(1e-6).covers(shapely.LineString(points)), item


def test_scores_keep_their_length_and_captions_stay_on_their_part(layout):
    for _, sheet in layout.sheets():
        drawing = sheet_drawing(sheet, "sheet")
        for (group, drawn), one in zip(outlines(drawing), sheet.placed, strict=True):
            scores = [
                i for i in group.items if i.layer in (Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN)
            ]
            folds = [piece for line in one.part.folds for piece in line.pieces]
            longer = sum(length_of(stroke.path) for stroke in one.part.strokes)
            total = sum(length_of(item.path) for item in scores)
            assert total <= sum(map(length_of, folds)) + longer + 1e-6
            assert total >= 0.9 * sum(map(length_of, folds))
            for caption in group.captions:
                at = shapely.Point(float(caption.at.x), float(caption.at.y))
                assert drawn.buffer(0.5).covers(at), caption


def test_the_keys_of_a_sheet_are_each_there_once(layout):
    for _, sheet in layout.sheets():
        keys = [group.key for group in sheet_drawing(sheet, "sheet").groups]
        assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("quarters", range(4))
def test_a_quarter_turn_brings_the_lower_left_of_the_turned_part_to_its_place(quarters):
    motion = quarter_turn(quarters, 7, 3, 100, 50)
    corners = [motion.place(Point(*corner)) for corner in ((0, 0), (7, 0), (7, 3), (0, 3))]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    wide, high = (3, 7) if quarters % 2 else (7, 3)
    assert (min(xs), min(ys), max(xs), max(ys)) == (100, 50, 100 + wide, 50 + high)
    (x0, y0), (x1, y1) = corners[:2]
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) % 360 == 90 * quarters


def test_a_sheet_that_the_machine_takes_sideways_is_drawn_so(sample):
    book, workshop = sample("lakeside")
    card = book.part("page-1").stock
    tall = replace(card, sheets=(replace(card.sheets[0], size=Size(inches(12), inches(18))),))
    parts = tuple(
        replace(entry, stock=tall) if entry.stock.name == card.name else entry
        for entry in book.parts
    )
    machine = replace(workshop.machine, area=Size(inches(14), inches(12)), margin=inches("1/8"))
    layout = lay_out(
        replace(book, parts=parts), replace(workshop, machine=machine), By.MACHINE,
        new_work=lambda: Work(0),
    )  # fmt: skip
    assert machine.reach == Reach(machine.area, machine.margin)
    _, sheet = next(iter(layout.sheets()))
    assert sheet.room.is_fed_turned
    drawing = sheet_drawing(sheet, "sheet")
    assert (drawing.width, drawing.height) == pytest.approx((18 * 25.4, 12 * 25.4))
    assert sheet.room.size.up == inches(14)
    # narrower than the sheet is high: what the machine reaches begins at the left
    reach = machine.area.across.mm + 2 * machine.margin.mm
    for (_, drawn), one in zip(outlines(drawing), sheet.placed, strict=True):
        assert drawn.bounds[2] <= float(reach) + 1e-6
        assert drawn.area == pytest.approx(shape_of(one).area, rel=1e-3)
        left, low, right, high = drawn.bounds
        assert 0 <= left <= right <= drawing.width
        assert 0 <= low <= high <= drawing.height

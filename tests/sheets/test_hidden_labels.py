"""What a pen writes lies where tape hides it, at a height that can be read."""

from dataclasses import replace
from itertools import product

import pytest
import shapely

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.kinds import machine_formats
from dielines.lettering.strokes_of import strokes_of
from dielines.machine_files import cut_sheet
from dielines.packing.order import Work
from dielines.part import Side
from dielines.paths import Point, flattened, rectangle
from dielines.sheets.files import with_sheets
from dielines.sheets.hidden_labels import LEAST, TALLEST, fold_hint, hidden_labels
from dielines.sheets.laying_out import lay_out
from dielines.sheets.sheet_drawing import labelled_drawing
from dielines.sheets.sheets_text import sheets_text, unlabelled
from dielines.sheets.way_of_cutting import By

LAYERS = ("LABEL", "SCORE_VALLEY", "SCORE_MOUNTAIN", "PERFORATE", "CUT")


def zones(part, side):
    return shapely.union_all(
        [shapely.Polygon(flattened(zone.path)) for zone in part.zones if zone.side is side]
    )


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("name", ["lakeside", "seed-swap", "first-year"])
def test_every_stroke_lies_under_tape_of_its_side(sample, name, side):
    book, _ = sample(name)
    written = 0
    for entry in book.parts:
        hidden = zones(entry.part, side)
        for caption in hidden_labels(entry.part, entry.letter, entry.title, side):
            assert LEAST <= caption.height <= TALLEST
            for path in strokes_of(caption):
                assert hidden.covers(shapely.LineString(path.points)), (entry.title, caption)
                written += 1
    assert written > 50


def test_a_part_bears_its_letter_and_title_and_which_way_its_tab_folds(sample):
    book, _ = sample("lakeside")
    entry = book.part("page-1")
    words = [c.text for c in hidden_labels(entry.part, "A", entry.title, Side.FACE)]
    assert f"A {entry.title}" in words
    assert "fold back" in words
    assert hidden_labels(entry.part, "A", entry.title, Side.REVERSE) == ()


def test_the_name_is_written_once_and_other_tabs_only_tell_how_they_fold(sample):
    book, _ = sample("lakeside")
    named = 0
    for side, entry in product(Side, book.parts):
        words = [c.text for c in hidden_labels(entry.part, "A", entry.title, side)]
        assert words.count(f"A {entry.title}") <= 1
        assert words.count("A") <= words.count("fold up") + words.count("fold back") + 1
        named += f"A {entry.title}" in words
    assert named > 5


def test_a_title_that_names_several_parts_is_not_written(sample):
    book, _ = sample("lakeside")
    part = book.part("page-1").part
    words = [c.text for c in hidden_labels(part, "A", "one; another", Side.FACE)]
    assert words[0] == "A"
    assert not any("another" in word for word in words)


def test_a_title_too_long_for_its_tab_leaves_the_letter(sample):
    book, _ = sample("lakeside")
    part = book.part("page-1").part
    words = [c.text for c in hidden_labels(part, "A", "a very long title " * 9, Side.FACE)]
    assert "A" in words
    assert not any("long" in word for word in words)


def test_a_valley_folds_up_on_the_face_and_back_on_the_reverse(sample):
    book, _ = sample("lakeside")
    part = next(e.part for e in book.parts if any(line.angle_deg > 0 for line in e.part.folds))
    line = next(line for line in part.folds if line.angle_deg > 0)
    for panel in line.key.panels():
        alone = replace(part, lines=(line,))
        assert fold_hint(alone, panel, Side.FACE) == "fold up"
        assert fold_hint(alone, panel, Side.REVERSE) == "fold back"
        assert fold_hint(replace(part, lines=(line, line)), panel, Side.FACE) == ""


@pytest.mark.parametrize("side_up", ["face", "reverse"])
def test_only_a_machine_that_draws_labels_has_them_in_its_file(sample, side_up):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    _, sheet = next(iter(layout.sheets()))
    drawing = labelled_drawing(sheet, "sheet", Side(side_up))
    plain = replace(workshop.machine, side_up=side_up)
    pen = replace(plain, draws=True, layers=LAYERS)
    assert not {i.layer for i in cut_sheet(drawing, plain).items()} & {Layer.LABEL}
    drawn = cut_sheet(drawing, pen)
    strokes = [item for item in drawn.items() if item.layer is Layer.LABEL]
    captions = [caption for group in drawing.groups for caption in group.captions]
    assert len(strokes) == sum(len(strokes_of(caption)) for caption in captions) > 0
    assert all(not group.captions for group in drawn.groups)
    assert drawn.groups[0].items[0].layer is Layer.LABEL  # before anything is cut


def test_words_are_not_mirrored_where_the_reverse_lies_up(sample):
    _, workshop = sample("lakeside")
    pen = replace(workshop.machine, draws=True, layers=LAYERS, side_up="reverse")
    words = Caption(Layer.LABEL, "L", Point(30, 20), 7 / 3)
    outline = Item(Layer.CUT, rectangle(10, 10, 60, 60), "outline")
    drawn = cut_sheet(Drawing(90, 90, (Group("a", "A", (outline,), (words,)),)), pen)
    xs = [x for i in drawn.items() if i.layer is Layer.LABEL for x, _ in i.path.points]
    upright = next(
        i.path.points
        for i in drawn.items()
        if i.layer is Layer.LABEL and i.path.points[0].x == pytest.approx(i.path.points[-1].x)
    )
    assert upright[0].x == pytest.approx(min(xs))
    assert max(xs) > min(xs) + 1


def test_files_with_labels_read_back_and_tell_where_none_is(sample):
    from dielines.book.outputs import Outputs

    book, workshop = sample("lakeside")
    machine = replace(workshop.machine, draws=True, layers=LAYERS)
    shop = replace(workshop, machine=machine)
    layout = lay_out(book, shop, By.MACHINE, new_work=lambda: Work(0))
    outputs = with_sheets("lake", Outputs((), {}), book, layout, shop)
    first = next(f for f in outputs.drawings if f.name == "lake.sheet-1.cut.svg")
    svg = next(kind for kind in machine_formats() if kind.suffix == ".svg")
    items = svg.read(first.content, "x").drawing.items()
    assert any(item.layer is Layer.LABEL for item in items)
    bare = unlabelled(layout, machine)
    assert "B" in bare
    assert "A" not in bare
    assert "writes no name on I, B, " in sheets_text(book, layout, shop)
    assert "no name" not in sheets_text(book, layout, workshop)

"""The cut files of a sheet: in the order of work, in one coordinate system, nothing outside the outlines."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path as FilePath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.errors import UsageError
from dielines.formats.compare import compare
from dielines.formats.kinds import format_of, machine_formats
from dielines.lengths import inches, millimetres
from dielines.machine_files import cut_drawing, cut_sheet, sheet_files
from dielines.paths import Bounds, Path, Point, bounds_of, flattened, length_of, line, rectangle
from dielines.workshop import machine as workshop
from dielines.workshop.loading import typical_workshop
from dielines.workshop.sizes import Size

MACHINE = replace(typical_workshop("mm").machine, area=Size(inches(12), inches(12)))
SEVENTH = 1 / 7
REACH = Bounds(6.0, 6.0, 298.8, 298.8)


def page(key: str, x: float, y: float) -> Group:
    """Return a page with two folds, a slit and a window, in an order in which nobody should cut it."""
    right, top = x + 90 + SEVENTH, y + 60 + SEVENTH
    return Group(
        key,
        f"Page {key}",
        (
            Item(Layer.CUT, rectangle(x, y, right, top), "outline"),
            Item(Layer.TAPE_FACE, rectangle(x + 1, y + 1, x + 9, top - 1), "tape"),
            Item(Layer.CUT, rectangle(x + 40, y + 10, x + 70, y + 50), "window"),
            Item(Layer.MARK, line((x + 30, y), (x + 30, y + 5)), "middle"),
            Item(Layer.CUT, line((x + 80, y + 10), (x + 80, y + 30)), "slit"),
            Item(Layer.SCORE_VALLEY, line((x + 20, y), (x + 20, top)), "valley"),
            Item(Layer.SCORE_MOUNTAIN, line((x + 75, y), (x + 75, top)), "mountain"),
        ),
        (Caption(Layer.LABEL, key.upper(), Point(x + 50, y + 5), 4.0),),
    )


SHEET = Drawing(
    304.8,
    304.8,
    (page("a", 6, 6), page("b", 6 + 90 + SEVENTH + 3, 6), page("c", 6, 6 + 60 + SEVENTH + 3)),
    title="sheet 1",
    metadata=(("stock", "cream"),),
)


def names(drawing: Drawing) -> list[str]:
    return [item.name for item in drawing.items()]


def places(drawing: Drawing) -> list[tuple[float, ...]]:
    """Return where each path lies, in order."""
    return [tuple(round(float(edge), 3) for edge in bounds_of([i.path])) for i in drawing.items()]


def read(files, ending: str) -> Drawing:
    (file,) = (file for file in files if file.name.endswith(ending))
    return format_of(FilePath(file.name)).read(file.content, file.name).drawing


def polygon(path: Path) -> Polygon:
    return Polygon(flattened(path))


def ink(drawing: Drawing) -> list[tuple[float, float]]:
    return [point for item in drawing.items() for point in flattened(item.path)]


@pytest.mark.parametrize("grouping", workshop.Grouping, ids=lambda way: way.value)
@pytest.mark.parametrize("suffix", ["svg", "dxf"])
def test_the_paths_of_the_file_stand_in_the_order_of_work(grouping, suffix):
    machine = replace(MACHINE, grouping=grouping)
    sheet = cut_sheet(SHEET, machine)
    assert places(read(sheet_files("s", SHEET, machine), f".cut.{suffix}")) == places(sheet)
    order = [name.partition(": ")[2] for name in names(sheet)]
    assert set(order[:6]) == {"valley", "mountain"}
    assert set(order[6:12]) == {"window", "slit"}
    assert order[12:] == ["outline"] * 3


def test_a_pen_draws_before_anything_is_scored_or_cut():
    machine = replace(
        MACHINE,
        draws=True,
        layers=("CUT", "SCORE_VALLEY", "SCORE_MOUNTAIN", "MARK", "LABEL"),
        grouping=workshop.Grouping.LAYER_FIRST,
    )
    order = [Layer.LABEL, Layer.MARK, Layer.SCORE_VALLEY, Layer.CUT]
    drawn = read(sheet_files("s", SHEET, machine), ".cut.svg")
    for sheet in (cut_sheet(SHEET, machine), drawn):
        layers = [item.layer for item in sheet.items()]
        assert list(dict.fromkeys(layers)) == order
        assert layers == sorted(layers, key=order.index)
        assert layers.count(Layer.MARK) == 3
        assert not any(group.captions for group in sheet.groups)  # words are strokes of the pen


def test_what_a_machine_does_not_act_on_is_not_in_its_files():
    sheet = cut_sheet(SHEET, MACHINE)
    assert {item.layer for item in sheet.items()} == {Layer.CUT, Layer.SCORE_VALLEY}
    assert (
        dict(sheet.metadata).items()
        >= {"stock": "cream", "scoring": "one tool for valley and mountain"}.items()
    )
    assert "kerf" not in dict(sheet.metadata)


def test_a_beam_leaves_parts_of_their_nominal_size_on_the_sheet():
    kerf = millimetres(1) / 6
    sheet = cut_sheet(SHEET, replace(MACHINE, kerf=kerf))
    half = float(kerf.mm) / 2
    for group in SHEET.groups:
        outline, window = group.items[0].path, group.items[2].path
        by_name = {item.name: item.path for item in sheet.items()}
        for path, name, way in ((outline, "outline", 1), (window, "window", -1)):
            moved = polygon(by_name[f"{group.title}: {name}"])
            nominal = polygon(path).buffer(way * half, join_style="mitre")
            assert moved.symmetric_difference(nominal).area < 1e-9
    assert dict(sheet.metadata)["kerf"] == "0.166667 mm, allowed for"


def test_a_part_made_alone_is_allowed_for_the_kerf_on_a_page_that_holds_it():
    kerf = millimetres("0.3")
    alone = Drawing(90 + SEVENTH, 60 + SEVENTH, (page("a", 0, 0),))
    cut = cut_drawing(alone, replace(MACHINE, kerf=kerf))
    box = bounds_of(item.path for item in cut.items())
    assert box == pytest.approx((0, 0, 90 + SEVENTH + 0.3, 60 + SEVENTH + 0.3), abs=1e-9)
    assert (cut.width, cut.height) == pytest.approx((box.right, box.top))


def test_bridges_are_as_wide_as_is_asked_once_the_beam_has_burnt_their_ends():
    bridges = workshop.Bridges(millimetres("0.5"), millimetres(50))
    machine = replace(MACHINE, bridges=bridges, kerf=millimetres("0.2"))
    pieces = [i.path for i in cut_sheet(SHEET, machine).items() if i.name == "Page a: outline"]
    around = 2 * (90 + 60 + 2 * SEVENTH + 2 * 0.2)
    assert len(pieces) == 6
    assert sum(map(length_of, pieces)) == pytest.approx(around - 6 * (0.5 + 0.2))
    ends = LineString([pieces[0].points[-1], pieces[1].points[0]])
    assert ends.length == pytest.approx(0.7)
    closed = [i.name for i in cut_sheet(SHEET, machine).items() if i.path.closed]
    assert [name.partition(": ")[2] for name in closed] == ["window"] * 3


def test_with_an_overlap_cuts_begin_in_the_middle_of_an_edge_and_run_on():
    machine = replace(MACHINE, overlap=millimetres("0.4"))
    found = cut_sheet(SHEET, machine)
    assert not any(item.path.closed for item in found.items())
    outline = next(item.path for item in found.items() if item.name == "Page b: outline")
    assert length_of(outline) == pytest.approx(2 * (150 + 2 * SEVENTH) + 0.4)
    assert all(file.deviation <= 0.001 for file in sheet_files("s", SHEET, machine))


def touching() -> Drawing:
    return replace(SHEET, groups=(page("a", 6, 6), page("b", 6 + 90 + SEVENTH, 6)))


def test_shared_edges_are_cut_once_after_all_that_lies_inside():
    machine = replace(MACHINE, cuts_shared_edges_once=True, gap=millimetres(0))
    cuts = [i for i in cut_sheet(touching(), machine).items() if i.layer is Layer.CUT]
    shared = [i for i in cuts if i.name == "Page a: outline, Page b: outline"]
    assert len(cuts) == 4 + 5
    assert {item.name.partition(": ")[2] for item in cuts[:4]} == {"window", "slit"}
    assert sorted(length_of(i.path) for i in shared) == pytest.approx(
        [60 + SEVENTH, 180 + 2 * SEVENTH, 180 + 2 * SEVENTH]
    )
    apart = cut_sheet(touching(), replace(machine, cuts_shared_edges_once=False))
    assert sum(item.path.closed for item in apart.items()) == 4


def test_nothing_is_cut_twice():
    twice = replace(SHEET, groups=(*SHEET.groups, replace(page("a", 6, 6), key="again")))
    assert places(cut_sheet(twice, MACHINE)) == places(cut_sheet(SHEET, MACHINE))


def test_dashes_follow_one_another_along_each_line():
    dashes = workshop.Dashes(millimetres(3), millimetres(1), millimetres("1/2"))
    machine = replace(MACHINE, scoring=workshop.Scoring.DASHES, dashes=dashes)
    found = [i for i in cut_sheet(SHEET, machine).items() if i.layer is Layer.PERFORATE]
    assert len(found) == 6 * 15
    for start in range(0, 90, 15):
        ways = [p.path.points[1].y - p.path.points[0].y for p in found[start : start + 15]]
        assert len({way > 0 for way in ways}) == 1
        assert len({p.name for p in found[start : start + 15]}) == 1
    order = [item.layer for item in cut_sheet(SHEET, machine).items()]
    assert order == sorted(order, key=[Layer.PERFORATE, Layer.CUT].index)


def test_dashes_are_as_long_as_is_asked_once_the_beam_has_burnt_their_ends():
    dashes = workshop.Dashes(millimetres(3), millimetres(1), millimetres(1))
    machine = replace(
        MACHINE, scoring=workshop.Scoring.DASHES, dashes=dashes, kerf=millimetres("0.2")
    )
    found = [i.path for i in cut_sheet(SHEET, machine).items() if i.name == "Page a: valley"]
    assert [length_of(path) for path in found] == pytest.approx([2.8] * len(found))
    ends = sorted(float(point.y) for path in found for point in path.points)
    assert len(found) == 14
    assert (ends[0], ends[-1]) == pytest.approx((6 + 1.1, 66 + SEVENTH - 1.1))
    gaps = [b - a for a, b in zip(ends[1::2], ends[2::2], strict=False)]
    assert min(gaps) >= 1.2 - 1e-9
    assert dict(cut_sheet(SHEET, machine).metadata)["scoring"] == "cut 3 mm, leave 1 mm"


def test_dashes_of_scores_close_together_are_not_mixed():
    scores = [
        Item(Layer.SCORE_VALLEY, line((20 + 2 * i, 10), (20 + 2 * i, 110)), f"fold {i}")
        for i in range(3)
    ]
    dashes = workshop.Dashes(millimetres(1), millimetres(8), millimetres(1))
    machine = replace(MACHINE, scoring=workshop.Scoring.DASHES, dashes=dashes)
    sheet = replace(SHEET, groups=(Group("a", "A", tuple(scores)),))
    found = names(cut_sheet(sheet, machine))
    assert len(found) == 3 * 11
    assert sum(one != other for one, other in pairwise(found)) == 2


def test_mirrored_for_cutting_from_the_back_a_sheet_stays_where_the_machine_reaches():
    small = replace(MACHINE, side_up="reverse", area=Size(millimetres(200), millimetres(250)))
    over, plain = cut_sheet(SHEET, small), cut_sheet(SHEET, replace(small, side_up="face"))
    box = bounds_of(item.path for item in over.items())
    assert 6 <= box.left < box.right <= 206 + 1e-9
    assert not over.face_up
    mirrored = sorted(
        (212 - right, low, 212 - left, top) for left, low, right, top in places(plain)
    )
    assert sorted(places(over)) == [pytest.approx(box, abs=0.002) for box in mirrored]


def test_with_two_tools_valley_and_mountain_change_places_when_the_back_lies_up():
    machine = replace(MACHINE, shares_scoring_tool=False, side_up="reverse")
    layers = {item.name: item.layer for item in cut_sheet(SHEET, machine).items()}
    assert layers["Page a: valley"] is Layer.SCORE_MOUNTAIN


PER_LAYER = replace(MACHINE, has_file_per_layer=True, has_registration_marks=True)


def test_each_layer_has_a_file_of_its_own_numbered_in_the_order_of_work():
    assert [file.name for file in sheet_files("s", SHEET, PER_LAYER)] == [
        "s.cut.1-score.dxf", "s.cut.1-score.svg", "s.cut.2-cut.dxf", "s.cut.2-cut.svg",
    ]  # fmt: skip
    two = replace(PER_LAYER, shares_scoring_tool=False, reads=("dxf",))
    assert [file.name for file in sheet_files("s", SHEET, two)] == [
        "s.cut.1-score-mountain.dxf", "s.cut.2-score-valley.dxf", "s.cut.3-cut.dxf",
    ]  # fmt: skip


@pytest.mark.parametrize("suffix", ["svg", "dxf"])
def test_the_files_of_all_layers_together_are_the_sheet_and_lie_in_one_place(suffix):
    files = sheet_files("s", SHEET, PER_LAYER)
    parts = [read(files, f"{ending}.{suffix}") for ending in ("1-score", "2-cut")]
    boxes = [bounds_of(item.path for item in part.items()) for part in parts]
    assert boxes[0] == pytest.approx(boxes[1], abs=0.001)
    assert [(part.width, part.height) for part in parts] == [
        pytest.approx((304.8, 304.8), abs=0.001)
    ] * 2
    marks = [item for item in parts[1].items() if item.layer is Layer.MARK]
    assert len(marks) == 6
    worked = tuple(i for part in parts for i in part.items() if i.layer is not Layer.MARK)
    together = Drawing(304.8, 304.8, (Group("all", "", (*worked, *marks)),))
    assert compare(cut_sheet(SHEET, PER_LAYER), together).is_equal(0.001)


def test_registration_marks_are_all_there_is_outside_the_outlines():
    sheet = cut_sheet(SHEET, PER_LAYER)
    outlines = [polygon(group.items[0].path) for group in SHEET.groups]
    for item in sheet.items():
        shape = LineString(flattened(item.path))
        is_inside = any(outline.buffer(1e-6).covers(shape) for outline in outlines)
        assert is_inside is (item.layer is not Layer.MARK)
    assert all(
        REACH.left <= x <= REACH.right and REACH.bottom <= y <= REACH.top for x, y in ink(sheet)
    )


def test_without_them_nothing_is():
    outside = [item for item in cut_sheet(SHEET, MACHINE).items() if item.layer is Layer.MARK]
    assert outside == []


def test_a_sheet_with_something_too_narrow_for_the_cut_has_no_files():
    hole = Item(Layer.CUT, rectangle(30, 30, 30.1, 50), "hole")
    group = replace(SHEET.groups[0], items=(*SHEET.groups[0].items, hole))
    with pytest.raises(UsageError) as error:
        sheet_files("s", replace(SHEET, groups=(group,)), replace(MACHINE, kerf=millimetres("0.2")))
    assert str(error.value).startswith("Page a: hole: ")


@pytest.mark.parametrize("machine", [MACHINE, PER_LAYER, replace(MACHINE, overlap=millimetres(1))])
def test_the_same_sheet_gives_the_same_bytes(machine):
    assert sheet_files("s", SHEET, machine) == sheet_files("s", SHEET, machine)
    assert len(sheet_files("s", SHEET, machine)) % len(machine_formats()) == 0


MACHINES = st.builds(
    replace,
    st.just(MACHINE),
    grouping=st.sampled_from(list(workshop.Grouping)),
    scoring=st.sampled_from(list(workshop.Scoring)),
    side_up=st.sampled_from(["face", "reverse"]),
    kerf=st.sampled_from([millimetres(0), millimetres("0.1"), millimetres(1) / 3]),
    overlap=st.sampled_from([millimetres(0), millimetres(1) / 7]),
    bridges=st.sampled_from([0, 1 / 3, 2]).map(
        lambda mm: workshop.Bridges(millimetres(str(round(mm, 3))), millimetres(40))
    ),
    shares_scoring_tool=st.booleans(),
    has_file_per_layer=st.booleans(),
    has_registration_marks=st.booleans(),
    svg_units_per_inch=st.sampled_from([72, 96]),
    dxf_version=st.sampled_from(["R12", "R2000", "R2018"]),
)


@settings(max_examples=20, deadline=None)
@given(MACHINES)
def test_whatever_a_machine_entry_says_all_is_cut_and_proved(machine):
    files = sheet_files("s", SHEET, machine)
    assert all(file.deviation <= 0.001 for file in files)
    cuts = [i for i in cut_sheet(SHEET, machine).items() if i.layer is Layer.CUT]
    kerf, overlap = float(machine.kerf.mm), float(machine.overlap.mm)
    pieces = [i for i in cuts if i.name == "Page c: outline"]
    around = 2 * (150 + 2 * SEVENTH + 2 * kerf)
    held = len(pieces) * (float(machine.bridges.width.mm) + kerf)
    wanted = around - held if len(pieces) > 1 else around + overlap
    assert sum(length_of(i.path) for i in pieces) == pytest.approx(wanted)
    windows = [i for i in cuts if i.name == "Page c: window"]
    assert [length_of(i.path) for i in windows] == [pytest.approx(140 - 4 * kerf + overlap)]
    order = [i.name.partition(": ")[2] == "outline" for i in cuts]
    assert order == sorted(order)


def test_an_empty_sheet_has_empty_files():
    files = sheet_files("s", replace(SHEET, groups=()), MACHINE)
    assert [file.paths for file in files] == [0, 0]

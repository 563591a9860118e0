"""Drawings on several pages: nothing lost, nothing added, all at true size."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.errors import UsageError
from dielines.formats.choices import Choices
from dielines.formats.look import look
from dielines.formats.pdf import proved_pages, read_pages
from dielines.formats.tiles import STRIP, Paper, caption_box, grid, row_letters
from dielines.formats.tiling import A4, MARGIN, OVERLAP, US_LETTER, tiled, tiled_either_way
from dielines.paths import (
    Bounds,
    Path,
    Point,
    Vertex,
    bounds_of,
    circle,
    flattened,
    line,
    rectangle,
)

FURNITURE = {"register-marks", "page", "page-ruler", "page-map"}
#: what an A4 page shows of the drawing by the usual margin
WIDE, HIGH = 210 - 2 * MARGIN, 297 - 2 * MARGIN - STRIP


def sheet(width: float = 304.8, height: float = 304.8, *items: Item) -> Drawing:
    outline = Item(Layer.CUT, rectangle(1 / 3, 1 / 7, width - 1 / 3, height - 1 / 7), "outline")
    hole = Item(Layer.CUT, circle((width / 2, height / 2), 25 / 3), "hole")
    score = Item(Layer.SCORE_VALLEY, line((0.5, height / 7), (width, height / 3)), "fold")
    group = Group("a", "Page 1", (outline, hole, score, *items))
    return Drawing(width, height, (group,), title="Lake", metadata=(("kept", "yes"),))


def shown(page: Drawing) -> list[Item]:
    """Return what a page shows of the drawing itself."""
    return [item for group in page.groups if group.key not in FURNITURE for item in group.items]


def windows(drawing: Drawing, page=A4, overlap=OVERLAP, margin=MARGIN) -> dict[str, Bounds]:
    return {tile.name: tile.window for tile in grid(drawing, Paper(*page, margin, overlap))}


def name_of(page: Drawing) -> str:
    return page.title.split()[-1]


def back(page: Drawing, window: Bounds, path: Path) -> shapely.LineString:
    """Return *path* of a page where the drawing has it."""
    points = flattened(path, 2e-4)
    points += points[:1] if path.closed else []
    return shapely.LineString(
        [(x - MARGIN + window.left, y - MARGIN - STRIP + window.bottom) for x, y in points]
    )


def lines_of(items: list[Item]) -> dict[Layer, list]:
    lines: dict[Layer, list] = {}
    for item in items:
        points = flattened(item.path, 2e-4)
        points += points[:1] if item.path.closed else []
        lines.setdefault(item.layer, []).append(shapely.LineString(points))
    return lines


def assert_nothing_lost_or_added(drawing: Drawing, pages: tuple[Drawing, ...], places) -> None:
    found: dict[Layer, list] = {}
    for page in pages:
        for item in shown(page):
            found.setdefault(item.layer, []).append(back(page, places[name_of(page)], item.path))
    wanted = lines_of(list(drawing.items()))
    assert found.keys() == wanted.keys()
    for layer, lines in wanted.items():
        theirs, ours = (shapely.MultiLineString(some) for some in (lines, found[layer]))
        assert max(shapely.distance(places_along(theirs), ours)) < 1e-3
        assert max(shapely.distance(places_along(ours), theirs)) < 1e-3


def places_along(lines: shapely.MultiLineString) -> list[shapely.Point]:
    """Return places on *lines*, their corners and some between, 97 for each line."""
    shares = [n / 97 for n in range(98)]
    between = [line.interpolate(share, normalized=True) for line in lines.geoms for share in shares]
    return [*between, *map(shapely.Point, shapely.get_coordinates(lines))]


@pytest.mark.parametrize("page", [A4, A4[::-1], US_LETTER])
@pytest.mark.parametrize("overlap", [0.0, 10 / 3, 10.0])
def test_together_the_pages_show_all_of_the_drawing_and_nothing_else(page, overlap):
    drawing = sheet()
    pages = tiled(drawing, page, overlap)
    assert_nothing_lost_or_added(drawing, pages, windows(drawing, page, overlap))


@st.composite
def drawings(draw) -> Drawing:
    number = st.integers(-300, 4000).map(lambda n: n / 7)
    items = []
    for _ in range(draw(st.integers(1, 6))):
        corners = draw(st.lists(st.tuples(number, number), min_size=2, max_size=5, unique=True))
        bulge = st.sampled_from([0.0, 0.0, 1 / 3, -1.0])
        path = Path(tuple(Vertex(x, y, draw(bulge)) for x, y in corners), draw(st.booleans()))
        items.append(Item(draw(st.sampled_from(list(Layer))), path))
    return Drawing(600.0, 600.0, (Group("a", "A", tuple(items)),), title="Lake")


@settings(max_examples=30, deadline=None)
@given(drawings(), st.sampled_from([A4, US_LETTER[::-1]]), st.sampled_from([0.0, 7.0, 13 / 3]))
def test_whatever_is_drawn_the_pages_show_all_of_it(drawing, page, overlap):
    pages = tiled(drawing, page, overlap)
    assert_nothing_lost_or_added(drawing, pages, windows(drawing, page, overlap))
    for each in pages:
        box = bounds_of(item.path for item in each.items())
        assert box.left >= MARGIN - 1e-6
        assert box.right <= page[0] - MARGIN + 1e-6
        assert box.bottom >= MARGIN - 1e-6
        assert box.top <= page[1] - MARGIN + 1e-6
        assert min(float(bounds_of([i.path]).bottom) for i in shown(each)) >= MARGIN + STRIP - 1e-6


def test_twelve_inches_square_take_two_by_two_pages_of_a4():
    pages = tiled(sheet())
    assert [name_of(page) for page in pages] == ["A1", "A2", "B1", "B2"]
    assert {(page.width, page.height) for page in pages} == {A4}


def test_two_pages_more_begin_where_the_overlap_does_not_reach():
    # two pages show twice their width less one overlap; a millimetre is kept clear on both sides
    most = 2 * WIDE - OVERLAP - 2
    for width, columns in ((most + 2 / 3 - 1e-6, 2), (most + 2 / 3 + 1e-3, 3)):
        wide = Item(Layer.CUT, rectangle(1 / 3, 5, width - 1 / 3, 50))
        drawing = Drawing(width, 60, (Group("a", "A", (wide,)),))
        pages = tiled(drawing)
        assert len(pages) == columns
        assert_nothing_lost_or_added(drawing, pages, windows(drawing))


@pytest.mark.parametrize("overlap", [0.0, 13 / 3, 10.0])
def test_neighbours_overlap_by_what_was_asked_and_all_show_as_much(overlap):
    places = windows(sheet(), overlap=overlap)
    for one, other in (("A1", "A2"), ("B1", "B2")):
        assert places[one].right - places[other].left == pytest.approx(overlap)
    for one, other in (("A1", "B1"), ("A2", "B2")):
        assert places[other].top - places[one].bottom == pytest.approx(overlap)
    assert {(round(w.width, 9), round(w.height, 9)) for w in places.values()} == {(WIDE, HIGH)}


def test_what_the_pages_have_to_spare_is_the_same_on_both_sides():
    outline = sheet().groups[0].items[:1]
    drawing = Drawing(304.8, 304.8, (Group("a", "A", outline),))
    places, drawn = windows(drawing), bounds_of([outline[0].path])
    assert drawn.left - places["A1"].left == pytest.approx(places["B2"].right - drawn.right)
    assert drawn.bottom - places["B2"].bottom == pytest.approx(places["A1"].top - drawn.top)


def test_a_small_drawing_is_one_page_with_a_ruler_and_no_marks():
    (page,) = tiled(sheet(100, 80))
    assert {group.key for group in page.groups} == {"a", "page", "page-ruler"}
    assert page.title == "Lake A1"


def test_pages_that_would_show_nothing_are_left_out():
    corners = [Item(Layer.CUT, rectangle(x, y, x + 10, y + 10)) for x, y in ((0, 0), (500, 700))]
    pages = tiled(Drawing(510, 710, (Group("a", "A", tuple(corners)),), title="Lake"))
    assert [name_of(page) for page in pages] == ["A3", "C1"]
    assert all(group.key != "register-marks" for page in pages for group in page.groups)


def test_an_empty_drawing_is_one_page():
    (page,) = tiled(Drawing(100, 80, ()))
    assert page.title == "A1"


def test_neighbours_carry_the_same_marks_at_the_same_place():
    drawing = sheet()
    places = windows(drawing)
    marks: dict[str, set] = {}
    for page in tiled(drawing):
        (group,) = [group for group in page.groups if group.key == "register-marks"]
        marks[name_of(page)] = {
            tuple(round(n, 6) for n in back(page, places[name_of(page)], item.path).bounds)
            for item in group.items
        }
    # each page has a neighbour beside it and one above or below: a line and two crosses for each
    assert {name: len(found) for name, found in marks.items()} == dict.fromkeys(marks, 10)
    for one, other in (("A1", "A2"), ("B1", "B2"), ("A1", "B1"), ("A2", "B2")):
        shared = marks[one] & marks[other]
        assert len(shared) == 5
        a, b = places[one], places[other]
        middle = (
            (max(a.left, b.left) + min(a.right, b.right)) / 2,
            (max(a.bottom, b.bottom) + min(a.top, b.top)) / 2,
        )
        upright = one[0] == other[0]
        along = {round(middle[0 if upright else 1], 6)}
        for box in shared:
            i = 0 if upright else 1
            assert round((box[i] + box[i + 2]) / 2, 6) in along
    assert not marks["A1"] & marks["B2"]


def test_the_cut_line_is_a_mark_and_never_a_cut():
    for page in tiled(sheet()):
        furniture = [g for g in page.groups if g.key in FURNITURE]
        layers = {item.layer for group in furniture for item in group.items}
        assert layers <= {Layer.MARK, Layer.LABEL}


@pytest.mark.parametrize("page", [A4, US_LETTER])
def test_the_ruler_measures_four_inches_and_a_hundred_millimetres_after_reading_back(page):
    pages = tiled(sheet(), page)
    for reading in read_pages(proved_pages("x", pages, Choices()), "x"):
        (ruler,) = [group for group in reading.drawing.groups if group.key == "page-ruler"]
        spine, *ticks = (bounds_of([item.path]) for item in ruler.items)
        above = sorted(tick.left - spine.left for tick in ticks if tick.top > spine.top + 0.1)
        below = sorted(tick.left - spine.left for tick in ticks if tick.bottom < spine.bottom - 0.1)
        assert above == pytest.approx([5 * n for n in range(21)], abs=1e-5)
        assert below == pytest.approx([25.4 * n / 4 for n in range(17)], abs=1e-5)
        assert spine.width == pytest.approx(101.6, abs=1e-5)
        words = {caption.text for caption in ruler.captions}
        assert words == {"0", "50 mm", "100 mm", "1", "2", "3", "4 in"}


def test_every_page_reads_back_with_a_proved_size_and_what_the_drawing_carried():
    pages = tiled(sheet())
    readings = read_pages(proved_pages("x", pages, Choices()), "x")
    assert len(readings) == len(pages) == 4
    for page, reading in zip(pages, readings, strict=True):
        assert look(reading).is_size_proved
        assert dict(reading.drawing.metadata)["kept"] == "yes"
        assert dict(reading.drawing.metadata)["page"].startswith(name_of(page))
        assert {item.name for item in shown(reading.drawing)} <= {"outline", "hole", "fold"}


def test_the_map_shows_every_page_and_crosses_the_one_that_it_is_on():
    for number, page in enumerate(tiled(sheet())):
        (group,) = [group for group in page.groups if group.key == "page-map"]
        boxes = [item for item in group.items if item.path.closed]
        assert [item.name for item in boxes] == ["page A1", "page A2", "page B1", "page B2"]
        (first, second) = [item for item in group.items if not item.path.closed]
        for diagonal in (first, second):
            assert bounds_of([diagonal.path]) == pytest.approx(bounds_of([boxes[number].path]))


def caption_at(x: float, y: float, text: str = "pocket", angle: float = 0.0) -> Drawing:
    frame = Item(Layer.CUT, rectangle(0, 0, 350, 350))
    caption = Caption(Layer.LABEL, text, Point(x, y), 2.5, angle)
    return Drawing(350, 350, (Group("a", "A", (frame,), (caption,)),), title="Lake")


def pages_with(text: str, drawing: Drawing) -> dict[str, Point]:
    return {
        name_of(page): caption.at
        for page in tiled(drawing)
        for group in page.groups
        for caption in group.captions
        if caption.text == text and group.key == "a"
    }


def test_a_caption_stands_where_its_part_does():
    drawing = caption_at(20, 330)
    window = windows(drawing)["A1"]
    (found,) = pages_with("pocket", drawing).values()
    assert found == pytest.approx((20 - window.left + MARGIN, 330 - window.bottom + MARGIN + STRIP))


def test_a_caption_too_long_for_the_overlap_stands_on_both_pages_and_a_short_one_where_it_fits():
    drawing = caption_at(0, 0)
    edge = windows(drawing)["A1"].right
    long = caption_at(edge - 20, 330, "a very long name of a pocket")
    assert set(pages_with("a very long name of a pocket", long)) == {"A1", "A2"}
    short = caption_at(edge - OVERLAP + 1, 330, "tab")
    assert set(pages_with("tab", short)) == {"A1", "A2"}  # it fits into the overlap
    beside = caption_at(edge - OVERLAP - 3, 330, "tab")
    assert set(pages_with("tab", beside)) == {"A1"}
    upright = caption_at(edge - OVERLAP + 4, 330 - 30, "a very long name", 90.0)
    assert set(pages_with("a very long name", upright)) == {"A1", "A2"}


@pytest.mark.parametrize(
    ("angle", "x", "y"), [(0.0, -5, 80), (90.0, -80, -5), (-90.0, -80, 15), (180.0, 15, 80)]
)
def test_a_caption_that_is_whole_on_no_page_is_moved_into_each_that_shows_some(angle, x, y):
    text = "a very long name of a pocket"
    corner = windows(caption_at(0, 0))["A1"]  # the overlaps lie left of and above its lower right
    drawing = caption_at(corner.right - OVERLAP + x, corner.bottom + y, text, angle)
    assert windows(drawing)["A1"] == corner
    hosts = pages_with(text, drawing)
    assert len(hosts) == 2
    moved = [caption for page in tiled(drawing) for g in page.groups[:1] for caption in g.captions]
    for caption in moved:
        box = caption_box(caption)
        assert MARGIN - 1e-6 <= box.left <= box.right <= 210 - MARGIN + 1e-6
        assert MARGIN + STRIP - 1e-6 <= box.bottom <= box.top <= 297 - MARGIN + 1e-6


def test_parts_that_are_called_like_what_is_added_keep_their_keys():
    groups = tuple(
        Group(key, key, (Item(Layer.CUT, rectangle(n, 0, n + 5, 300)),))
        for n, key in enumerate(sorted(FURNITURE))
    )
    for page in tiled(Drawing(300, 300, groups)):
        keys = [group.key for group in page.groups]
        assert len(set(keys)) == len(keys)


def test_paper_is_turned_where_that_makes_fewer_pages():
    wide = sheet(250, 150)
    assert len(tiled(wide, A4)) == 2
    (page,) = tiled_either_way(wide, A4)
    assert (page.width, page.height) == (297, 210)
    (page,) = tiled_either_way(sheet(150, 100), (297, 210))
    assert (page.width, page.height) == A4


def in_rows(*heights: float, gap: float = 2.0) -> Drawing:
    """Return rectangles of these heights one above the other."""
    bottoms = [sum(heights[:n]) + gap * n for n in range(len(heights))]
    items = tuple(
        Item(Layer.CUT, rectangle(0, y, 100, y + height), f"{height}")
        for y, height in zip(bottoms, heights, strict=True)
    )
    return Drawing(100, 400, (Group("a", "A", items),), title="Lake")


def test_pages_lie_so_that_few_paths_are_parted():
    # the middle of 352 mm lies within the second; two pages could part any of the three or none
    drawing = in_rows(100, 150, 98)
    whole = [item.name for page in tiled(drawing) for item in shown(page) if item.path.closed]
    assert sorted(whole) == ["100", "150", "98"]
    assert_nothing_lost_or_added(drawing, tiled(drawing), windows(drawing))


def test_pages_that_stand_or_lie_in_the_same_number_are_those_that_part_less():
    drawing = in_rows(178, 140, gap=12)  # lying, a page shows 176 mm
    assert len(tiled(drawing, A4)) == len(tiled(drawing, A4[::-1])) == 2
    pages = tiled_either_way(drawing, A4[::-1])
    assert [item.path.closed for page in pages for item in shown(page)] == [True, True]
    boxes = [Item(Layer.CUT, rectangle(x, 0, x + wide, 50)) for x, wide in ((0, 200), (216, 100))]
    drawing = Drawing(316, 50, (Group("a", "A", tuple(boxes)),))
    assert len(tiled(drawing, A4)) == len(tiled(drawing, A4[::-1])) == 2
    pages = tiled_either_way(drawing, A4)  # standing, a page shows 196 mm
    assert [item.path.closed for page in pages for item in shown(page)] == [True, True]


def test_fewer_pages_come_before_fewer_pieces():
    strips = tuple(
        Item(Layer.CUT, rectangle(x, 6 * n, x + 250, 6 * n + 4))
        for x in (0, 266)
        for n in range(40)
    )
    drawing = Drawing(516, 240, (Group("a", "A", strips),))
    standing, lying = tiled(drawing, A4), tiled(drawing, A4[::-1])
    assert (len(standing), len(lying)) == (3, 4)
    pieces = [sum(len(page.items()) for page in pages) for pages in (standing, lying)]
    assert pieces[0] > pieces[1]
    assert tiled_either_way(drawing, A4) == standing


def test_the_title_stands_whole_in_a_few_lines():
    title = "A weekend at the lake: sheet 11, cardstock, by machine, 24 times"
    drawing = Drawing(100, 100, in_rows(50).groups, title=title)
    (page,) = tiled(drawing)
    (words,) = [group for group in page.groups if group.key == "page"]
    texts = [caption.text for caption in words.captions]
    lines = [text for text in texts if text in title]
    assert " ".join(lines) == title
    assert texts[:2] == ["A1", "page 1 of 1"]
    longer = Drawing(100, 100, in_rows(50).groups, title=title * 9)
    (page,) = tiled(longer)
    assert all(caption.at.y >= MARGIN for group in page.groups for caption in group.captions)


@pytest.mark.parametrize(
    ("page", "overlap", "margin"),
    [((80, 200), 10, 7), ((210, 60), 10, 7), (A4, -1, 7), (A4, 10, -1), (A4, 120, 7),
     (A4, math.nan, 7), ((math.inf, 297), 10, 7), (A4, 10, 60)],
)  # fmt: skip
def test_paper_without_room_is_refused(page, overlap, margin):
    with pytest.raises(UsageError):
        tiled(sheet(), page, overlap, margin)


def test_a_drawing_for_hundreds_of_pages_is_refused():
    with pytest.raises(UsageError):
        tiled(sheet(9000, 9000))


def test_rows_have_letters_however_many_there_are():
    names = [row_letters(n) for n in range(800)]
    assert names[:3] == ["A", "B", "C"]
    assert names[25:28] == ["Z", "AA", "AB"]
    assert names[701:703] == ["ZZ", "AAA"]
    assert len(set(names)) == 800

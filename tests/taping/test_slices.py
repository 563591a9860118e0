"""Strips in zones of any shape: never outside, no area lost, ends as they have to be cut."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.lengths import Length
from dielines.part import Panel, Side, Zone
from dielines.paths import flattened, polyline, rectangle
from dielines.taping.plan import strips_for
from dielines.taping.slices import area_of, exact_corners, offsets
from dielines.taping.strips import Cut, Way

F = Fraction
MM = [F(3), F(6), F(9), F(12), F(25)]
WIDE = Panel("tab", rectangle(F(-500), F(-500), F(500), F(500)))


def zone(*corners):
    return Zone("tape", "tab", Side.FACE, polyline([(x, y) for x, y in corners], closed=True))


def tight(tape):
    """A panel that is no larger than the zone: whatever leaves the zone leaves the panel."""
    return Panel("tab", tape.path)


def fill(tape, widths=MM, panel=None):
    return strips_for(tape, panel or tight(tape), widths)


def shape(path):
    return Polygon([(float(x), float(y)) for x, y in path.points])


def convex_zone(points):
    """The zone of the convex hull of some points; None where that is thin."""
    hull = Polygon(points).convex_hull if len(points) > 2 else None
    if hull is None or hull.geom_type != "Polygon" or hull.area < 1:
        return None
    return zone(*[(F(x), F(y)) for x, y in hull.exterior.coords[:-1]])


WHOLE = st.integers(0, 120)
POINTS = st.lists(st.tuples(WHOLE, WHOLE), min_size=3, max_size=7, unique=True)
RAGGED = st.lists(st.integers(8, 70), min_size=3, max_size=6)


@given(POINTS, st.booleans())
@settings(max_examples=120, deadline=None)
def test_strips_lie_in_their_zone_beside_each_other_and_no_area_is_lost(points, roomy):
    tape = convex_zone(points)
    if tape is None:
        return
    found = fill(tape, panel=WIDE if roomy else tight(tape))
    whole = shape(tape.path)
    for strip in found.strips:
        assert shape(strip.path).difference(whole).area < 1e-3
        assert shape(strip.path).area == pytest.approx(float(strip.area), abs=1e-2)
        assert strip.cut_off >= 0
    for i, one in enumerate(found.strips):
        for other in found.strips[i + 1 :]:
            assert shape(one.path).intersection(shape(other.path)).area < 1e-3
    assert found.bare >= 0
    assert found.area == sum(strip.area for strip in found.strips) + found.bare


@given(RAGGED)
@settings(max_examples=60, deadline=None)
def test_a_zone_with_bays_keeps_its_strips_inside(heights):
    top = [(F(9 * i), F(h)) for i, h in enumerate(heights)]
    tape = zone((F(0), F(0)), (top[-1][0], F(0)), *reversed(top))
    found = fill(tape)
    for strip in found.strips:
        assert shape(strip.path).buffer(0).difference(shape(tape.path).buffer(0)).area < 1e-3
    assert found.bare >= 0


@given(st.integers(7, 600), st.integers(7, 600))
@settings(max_examples=60, deadline=None)
def test_a_rectangle_is_taped_along_its_longer_side_unless_fewer_strips_fill_it_across(a, b):
    width, height = F(a, 7), F(b, 7)
    found = fill(zone((F(0), F(0)), (width, F(0)), (width, height), (F(0), height)))
    usual = Way.UP if height >= width else Way.ACROSS
    for strip in found.strips:
        assert strip.ends[0].cut is strip.ends[1].cut is Cut.SQUARE
        assert strip.length == strip.short_edge
        assert strip.cut_off == 0
        assert found.lie.way is usual or strip.length >= strip.width
    covered = sum((strip.area for strip in found.strips), F(0))
    assert found.area == width * height == covered + found.bare


def test_across_only_where_that_takes_fewer_strips_none_of_them_wider_than_long():
    # 79 x 80: upright 40 + 13 x 3, across 2 x 40
    fewer = fill(zone((F(0), F(0)), (F(79), F(0)), (F(79), F(80)), (F(0), F(80))), [F(3), F(40)])
    assert (fewer.lie.way, len(fewer.strips), fewer.bare) == (Way.ACROSS, 2, 0)
    thin = fill(zone((F(0), F(0)), (F(2), F(0)), (F(2), F(90)), (F(0), F(90))), [F(3)])
    assert thin.strips == ()


def test_a_mitred_end_is_cut_at_45_degrees_as_long_as_its_longer_edge():
    # an edge strip's half: both ends mitred towards the edge of the board
    tape = zone((F(0), F(9)), (F(9), F(0)), (F(9), F(97)), (F(0), F(88)))
    (strip,) = fill(tape).strips
    assert [end.cut for end in strip.ends] == [Cut.ANGLED, Cut.ANGLED]
    assert [end.angle_deg for end in strip.ends] == pytest.approx([45, 45])
    assert (strip.length, strip.short_edge) == (Length(F(97)), Length(F(79)))
    assert strip.cut_off == 81
    assert shape(strip.path).equals(shape(tape.path))


def test_a_tapered_end_is_cut_at_the_angle_of_its_tab():
    # 12 mm wide, narrowing by 4 at one end and by 1 at the other
    tape = zone((F(0), F(0)), (F(12), F(4)), (F(12), F(99)), (F(0), F(100)))
    (strip,) = fill(tape).strips
    angles = [math.degrees(math.atan2(12, 4)), math.degrees(math.atan2(12, 1))]
    assert [end.angle_deg for end in strip.ends] == pytest.approx(angles)
    assert (strip.length, strip.short_edge) == (Length(F(100)), Length(F(95)))


def test_an_end_that_would_not_show_is_cut_square_and_shorter():
    tape = zone((F(0), F(0)), (F(12), F(1)), (F(12), F(99)), (F(0), F(100)))
    (strip,) = fill(tape, panel=WIDE).strips
    assert [end.cut for end in strip.ends] == [Cut.SQUARE, Cut.SQUARE]
    assert strip.length == strip.short_edge == Length(F(98))
    assert strip.cut_off == 0


def test_an_end_is_square_only_at_the_side_where_the_panel_goes_on():
    tape = zone((F(0), F(0)), (F(12), F(1)), (F(12), F(99)), (F(0), F(100)))
    panel = Panel(
        "tab", polyline([(F(0), F(-9)), (F(12), F(-9)), (F(12), F(99)), (F(0), F(100))], True)
    )
    (strip,) = fill(tape, panel=panel).strips
    assert [end.cut for end in strip.ends] == [Cut.SQUARE, Cut.ANGLED]
    assert strip.length == Length(F(99))


def test_an_end_with_a_corner_in_it_is_cut_along_the_shape():
    pointed = zone((F(0), F(0)), (F(12), F(0)), (F(12), F(80)), (F(5), F(86)), (F(0), F(80)))
    (strip,) = fill(pointed).strips
    assert [end.cut for end in strip.ends] == [Cut.SQUARE, Cut.SHAPED]
    assert strip.length == Length(F(86))


def test_each_strip_of_a_tapered_tab_is_as_long_as_the_tab_is_there():
    # 31 wide, from 100 down to 38 long: strips of 25 and 6
    tape = zone((F(0), F(0)), (F(31), F(31)), (F(31), F(69)), (F(0), F(100)))
    first, second = fill(tape).strips
    assert (first.width, first.length, first.short_edge) == tuple(
        map(Length, map(F, (25, 100, 50)))
    )
    assert (second.width, second.length, second.short_edge) == tuple(
        map(Length, map(F, (6, 50, 38)))
    )
    assert second.offset == Length(F(25))


def test_a_slanted_zone_is_taped_along_its_longest_edge():
    # 9 wide, 90 long, at a slope of 3 to 4
    corners = [(0, 0), (72, 54), (F(333, 5), F(306, 5)), (F(-27, 5), F(36, 5))]
    found = fill(zone(*[(F(x), F(y)) for x, y in corners]))
    assert found.lie.way is Way.SLANTED
    (strip,) = found.strips
    assert float(strip.length.mm) == pytest.approx(90)
    assert strip.width == Length(F(9))
    assert float(found.bare) == pytest.approx(0, abs=1e-3)


def test_floats_of_a_tapered_zone_become_exact_again():
    found = exact_corners(
        polyline([(1.5874999999999986, 0.1 + 0.2), (11.112499999999999, 7.7)], False)
    )
    assert found == ((F("1.5875"), F("0.3")), (F("11.1125"), F("7.7")))


@given(st.lists(st.fractions(min_value=1, max_value=9), min_size=2, max_size=5), st.fractions(0, 3))
@settings(max_examples=40, deadline=None)
def test_outer_strips_lie_at_the_edges_and_all_gaps_are_alike(row, gap):
    room = sum(row) + gap
    places = offsets(room, row)
    assert places[0] == 0
    assert places[-1] + row[-1] == room
    between = {b - (a + w) for a, w, b in zip(places, row, places[1:], strict=False)}
    assert between == {gap / (len(row) - 1)}


def test_one_strip_alone_lies_in_the_middle():
    assert offsets(F(10), [F(9)]) == [F(1, 2)]


def test_an_area_is_that_of_the_corners_whichever_way_they_run():
    corners = [(F(0), F(0)), (F(7), F(0)), (F(7), F(1, 3))]
    assert area_of(corners) == area_of(corners[::-1]) == F(7, 6)


CALIPERS = {"board": F(2), "cardstock": F(1, 4), "covering": F(1, 3), "reinforcing": F(1, 7)}
#: fragments, which are built onto the edge of a page only
FRAGMENTS = {"cover-tab", "hinge-tab", "sewing", "slotted-hinge", "stub"}


def test_zones_of_all_templates_are_filled_from_within():
    library = built_in_library()
    names = [name for name, _ in library.files if name not in FRAGMENTS]
    parts = [p for name in names for p in build(library.find(name), {}, CALIPERS).parts]
    zones = [(part, tape) for part in parts for tape in part.zones]
    assert len(zones) > 60
    for part, tape in zones:
        found = strips_for(tape, part.panel(tape.panel), MM)
        whole = Polygon(flattened(tape.path, 0.001)).buffer(0)
        assert found.strips, (part.name, tape.name)
        for strip in found.strips:
            assert shape(strip.path).buffer(0).difference(whole).area < 1e-3
        assert float(found.area) == pytest.approx(whole.area, abs=1e-2)
        assert found.bare >= 0

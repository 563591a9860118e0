"""The built-in pages: sizes worked out by hand, where bodies and flaps go, how they fold.

Common practice with no source: the worked check of the side pocket, half pocket,
gate doors and top pocket, and all usual sizes. Geometry: all else. Inches unless
a unit is named; a photo of 5 x 3 1/2 makes a page of 5 1/4 x 3 3/4.
"""

import random
from fractions import Fraction

import pytest
from shapely import Point as Place
from shapely import Polygon

from dielines.errors import TemplateError
from dielines.landing import land, landing_of
from dielines.language.building import ArgumentRefused, Graft, build
from dielines.language.expressions import Scope, value_said
from dielines.language.library import built_in_library
from dielines.language.parameters import ParameterType
from dielines.language.template import template_from_text
from dielines.language.values import ValueKind, length
from dielines.lengths import parse_length
from dielines.part import LineKind, Part, Purpose
from dielines.paths import bounds_of, flattened, signed_area
from dielines.poses import angles_after, poses
from dielines.rigid import relative

INCH = Fraction(254, 10)
CALIPER = Fraction(2413, 10000)  #: mm, 9.5 thousandths of an inch
CALIPERS = {
    "cardstock": CALIPER,
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(127, 1000),
}
LIBRARY = built_in_library()
PAGES = [template.name for template in LIBRARY.templates() if template.kind == "page"]
EDGES = [template.name for template in LIBRARY.templates() if template.kind == "edge"]
EVERY_PAGE = pytest.mark.parametrize("name", PAGES)
SMALL = {"width": "5 1/4", "height": "3 3/4"}
#: what a book in inches sets wherever a page has a parameter of that name
USUAL = {**SMALL, "depth": "1/8", "seam": "1/2", "notch": "3/4", "margin": "1/8", "photo": 5,
         "flap": "2 3/4", "short_of_middle": "1/16", "tape_margin": "1/16"}  # fmt: skip
USUAL_MM = {"width": "133 mm", "height": "95 mm", "depth": "3 mm", "seam": "12 mm", "notch": "20 mm",
            "margin": "3 mm", "photo": "127 mm", "short_of_middle": "2 mm", "tape_margin": "1.5 mm"}  # fmt: skip


def inches(*sizes) -> list[Fraction]:
    return [parse_length(str(size), "in").mm for size in sizes]


def usual(name: str, sizes=USUAL, **more) -> dict[str, object]:
    known = {parameter.name for parameter in LIBRARY.find(name).parameters}
    return {**{key: value for key, value in sizes.items() if key in known}, **more}


def page(name: str, arguments=None, graft: Graft | None = None) -> Part:
    built = build(
        LIBRARY.find(name), usual(name) if arguments is None else arguments, CALIPERS, graft
    )
    return next(part for part in built.parts if part.bound)


def outlines(part: Part) -> dict[str, object]:
    return {panel.name: panel.outline for panel in part.panels}


def folded(part: Part, stage=Fraction(1)):
    root = part.bound.panel if part.bound else ""
    return poses(outlines(part), part.lines, part.steps, stage, root=root, rigid=part.rigid)


def scores(part: Part) -> tuple[list[Fraction], list[Fraction]]:
    """Return where folds stand from the left, and from the top, as one sets a scoring board."""
    upright, level = set(), set()
    for fold in part.folds:
        for a, b in (piece.points for piece in fold.pieces):
            if a.x == b.x:
                upright.add(a.x)
            else:
                level.add(part.height - a.y)
    return sorted(upright), sorted(level)


# ------------------------------------------------------------------ sizes

THICK = CALIPER / INCH
#: page: width, height, scores from the left, scores from the top
FLAT = {
    "plain-leaf": ("5 1/4", "3 3/4", [], []),
    "flap": ("8 1/8", "3 3/4", ["5 1/4", "5 3/8"], []),
    "side-pocket": ("5 1/4", "8 1/4", [], ["1/2", "5/8", "4 3/8", "4 1/2"]),
    "top-pocket": ("5 7/8", "7 5/8", ["5 1/4", "5 3/8"], ["3 3/4", "3 7/8"]),
    "fore-edge-fold-pocket": ("10 5/8", "4 3/8", ["5 1/4", "5 3/8"], ["3 3/4", "3 7/8"]),
    "half-pocket": ("6 1/2", "5 3/4", ["1/2", "5/8", "5 7/8", 6], ["3 3/4", "3 7/8"]),
    "gate-doors": ("5 1/4", "7 5/8", [], ["1 13/16", "1 15/16", "5 11/16", "5 13/16"]),
    "double-pocket": ("5 1/4", 10, [], ["1/2", "5/8", 3, "3 1/8", "6 7/8", 7, "9 3/8", "9 1/2"]),
    "three-flaps": ("8 1/8", "7 5/8", ["5 1/4", "5 3/8"],
                    ["1 13/16", "1 15/16", "5 11/16", "5 13/16"]),
    "roll-fold": ("15 3/4", "3 3/4", ["5 1/4", "5 3/8", "10 9/16", "10 5/8"], []),
    "concertina-page": ("10 5/8", "3 3/4", ["5 1/4", "5 3/8", 8], []),
    "frame-page": ("5 1/4", "8 1/4", [], ["1/2", "5/8", "4 3/8", "4 1/2"]),
    "bellows-pocket": ("6 3/4", "6 11/16", ["1/2", "5/8", "3/4", 6, "6 1/8", "6 1/4"],
                       ["3 3/4", "3 7/8"]),
    "library-card-pocket": ("5 1/4", "3 3/4", [], []),
    "waterfall": ("5 1/4", "3 3/4", [], []),
    "index-tab": ("5 1/4", "3 3/4", [], []),
    "photo-slits": ("5 1/4", "3 3/4", [], []),
    "ticket-page": ("5 1/4", "3 3/4", [], []),
}  # fmt: skip


@pytest.mark.parametrize("name", FLAT)
def test_a_page_has_the_size_and_the_scores_worked_out_by_hand(name):
    width, height, upright, level = FLAT[name]
    part = page(name)
    assert [part.width, part.height] == inches(width, height)
    assert scores(part) == (inches(*upright), inches(*level))


def test_every_page_but_one_stands_in_the_table():
    assert set(PAGES) - set(FLAT) == {"tiered-pockets"}  # its sizes hold the paper's thickness


def test_the_worked_check_of_the_side_pocket_with_a_cover_tab_holds():
    part = page("side-pocket", {}, Graft(LIBRARY.find("cover-tab")))
    assert [part.width, part.height] == inches("8 3/8", "9 1/4")
    assert scores(part) == (inches(2, "2 1/8"), inches("1/2", "5/8", "4 7/8", 5))
    box = part.panel("binding.tab").bounds()
    assert box.height == inches("4 1/4")[0]


def test_each_pleat_of_tiered_pockets_stands_a_thickness_above_the_one_before():
    part = page("tiered-pockets", {**SMALL, "pockets": 3, "step": "3/4"})
    placed = folded(part)
    boxes = {
        n: bounds_of([land(placed[n], placed["back1"], o).path]) for n, o in outlines(part).items()
    }
    tail = boxes["back1"].bottom
    lips = [(boxes[f"front{i}"].top - tail) for i in (1, 2, 3)]
    assert lips == inches(3, "2 1/4", "1 1/2")
    assert [boxes[f"front{i}"].bottom - tail for i in (1, 2, 3)] == [0, CALIPER, 2 * CALIPER]


# ------------------------------------------------------------------ where things go once folded

#: page: how far it reaches to the inner side (flaps) and to the outer side (bodies of pockets)
REACH = {
    "plain-leaf": (0, 0), "flap": ("1/8", 0), "side-pocket": (0, "1/8"), "top-pocket": (0, "1/8"),
    "fore-edge-fold-pocket": (0, "1/8"), "half-pocket": (0, "1/8"), "gate-doors": ("1/8", 0),
    "double-pocket": ("1/8", "1/8"), "tiered-pockets": (0, 0), "three-flaps": ("1/8", 0),
    "roll-fold": ("1/8", 0), "concertina-page": ("1/8", 0), "frame-page": (0, "1/8"),
    "bellows-pocket": (0, "1/8"), "library-card-pocket": (0, 0), "waterfall": (0, 0),
    "index-tab": (0, 0), "photo-slits": (0, 0), "ticket-page": (0, 0),
}  # fmt: skip


@EVERY_PAGE
def test_flaps_close_over_the_inner_side_and_bodies_of_pockets_stand_on_the_outer(name):
    part = page(name)
    placed = folded(part)
    heights = [placed[p.name].at(q)[2] for p in part.panels for q in p.outline.points]
    inner, outer = inches(*REACH[name])
    assert float(max(heights)) == pytest.approx(float(inner), abs=1e-9)
    assert float(-min(heights)) == pytest.approx(float(outer), abs=1e-9)


@EVERY_PAGE
def test_a_folded_page_sticks_out_of_its_own_size_nowhere(name):
    """Index tabs count as part of the page, unless they are told to stand out."""
    part = page(name)
    placed = folded(part)
    origin = part.panel(part.bound.panel).bounds()
    width, height = inches("5 1/4", "3 3/4")
    for panel in part.panels:
        for x, y, _ in (placed[panel.name].at(q) for q in panel.outline.points):
            assert -1e-9 <= float(x - origin.left) <= float(width) + 1e-9
            assert -1e-9 <= float(y - origin.bottom) <= float(height) + 1e-9


def facing(part: Part) -> dict[str, bool | None]:
    """Return whether each zone looks towards its target just before it arrives there."""
    panels, holes = outlines(part), {panel.name: panel.holes for panel in part.panels}
    steps = len(angles_after(part.lines, part.steps)) - 1
    found: dict[str, bool | None] = {}
    for zone in part.zones:
        for step in range(steps if zone.onto in panels else 0):
            placed = folded(part, Fraction(step + 1, steps) - Fraction(1, 100 * steps))
            landing = landing_of(zone, panels, placed, holes)
            if landing.is_facing is not None:
                found[zone.name] = landing.is_facing
    return found


def cases_of(name: str) -> list[dict[str, object]]:
    """Return the usual page and, where it has counts and choices, others of them."""
    more = {"rolls": 4, "pleats": 3, "pockets": 4, "lip": "slanted", "tabs": 3, "tickets": 2}
    known = {parameter.name for parameter in LIBRARY.find(name).parameters}
    others = [{key: value} for key, value in more.items() if key in known]
    if name == "tiered-pockets":
        others = [{"pockets": 4, "step": "1/2"}]
    return [usual(name), *(usual(name, **other) for other in others)]


@EVERY_PAGE
def test_tape_looks_at_what_it_is_about_to_stick_to(name):
    for arguments in cases_of(name):
        for part in build(LIBRARY.find(name), arguments, CALIPERS).parts:
            assert set(facing(part).values()) <= {True}


def test_tape_on_the_wrong_side_of_a_seam_shows():
    text = LIBRARY.find("side-pocket").document.text.replace('side = "face"', 'side = "reverse"')
    part = build(template_from_text(text), SMALL, CALIPERS).parts[0]
    assert facing(part) == {"seam": False}


def crossings(part: Part) -> set[tuple[str, str]]:
    """Return the pairs of panels of which one passes through the other on the way or at the end."""
    panels = outlines(part)
    lines = [line for line in part.lines if line.kind is not LineKind.SLIT]
    neighbours = {*(line.key.panels() for line in lines), *map(frozenset, part.rigid)}
    shapes = {
        p.name: Polygon(flattened(p.outline), [flattened(h) for h in p.holes]) for p in part.panels
    }
    inner = {name: shape.buffer(-0.05) for name, shape in shapes.items()}
    corners = {  # drawn in a little, so that an edge which goes through another one shows
        name: shape.buffer(-0.1, join_style="mitre").exterior.coords[:-1]
        for name, shape in shapes.items()
    }
    steps = len(angles_after(part.lines, part.steps)) - 1
    found = set()
    for stage in (Fraction(k, 4 * steps) for k in range(1, 4 * steps + 1)):
        placed = folded(part, stage)
        for a in panels:
            for b in panels:
                if a != b and frozenset((a, b)) not in neighbours:
                    motion = relative(placed[a], placed[b])
                    moved = [tuple(map(float, motion.at(corner))) for corner in corners[b]]
                    if any(inner[a].contains(Place(place)) for place in piercings(moved)):
                        found.add((a, b))
    return found


def piercings(corners):
    """Yield where the edges of a polygon in space go through the plane at height 0."""
    for (x0, y0, z0), (x1, y1, z1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if min(z0, z1) < -0.02 and max(z0, z1) > 0.02:
            share = z0 / (z0 - z1)
            yield x0 + share * (x1 - x0), y0 + share * (y1 - y0)


@EVERY_PAGE
def test_no_panel_passes_through_another_on_its_way(name):
    for arguments in cases_of(name):
        for part in build(LIBRARY.find(name), arguments, CALIPERS).parts:
            assert crossings(part) == set()


@pytest.mark.parametrize(
    ("name", "right", "wrong"),
    [
        ("roll-fold", "depth - (i - 1) * step", "depth + (i - 1) * step"),  # inner gusset larger
        ("double-pocket", '"inner* / *" = 90', '"inner* / *" = -90'),  # the wall leaves the pocket
        ("half-pocket", '"* / *" = -90', '"page / tail" = 90\n"tail / *" = -90'),  # into the page
    ],
)
def test_a_page_that_would_go_through_itself_or_miss_shows(name, right, wrong):
    text = LIBRARY.find(name).document.text
    assert right in text
    broken = template_from_text(text.replace(right, wrong))
    try:
        part = build(broken, usual(name), CALIPERS).parts[0]
    except TemplateError as problem:
        codes = {fault.code for fault in problem.faults}
    else:
        codes = {"crossing"} if crossings(part) else set()
    assert codes & {"off-target", "crossing"}


# ------------------------------------------------------------------ bound


@EVERY_PAGE
@pytest.mark.parametrize("edge", EDGES)
def test_a_binding_adds_what_it_needs_left_of_the_page_and_nothing_else_changes(name, edge):
    plain, bound = page(name), page(name, usual(name), Graft(LIBRARY.find(edge)))
    shift = (
        bound.panel(plain.bound.panel).bounds().left - plain.panel(plain.bound.panel).bounds().left
    )
    assert bound.height == plain.height
    for panel in plain.panels:
        before, after = panel.bounds(), bound.panel(panel.name).bounds()
        assert (after.left - before.left, after.bottom - before.bottom) == (shift, 0)
    added = [panel for panel in bound.panels if panel.name.startswith("binding.")]
    left = bound.panel(plain.bound.panel).bounds().left
    assert added
    assert all(panel.bounds().right <= left for panel in added)
    areas = [
        sum(abs(signed_area(p.outline)) for p in panels) for panels in (bound.panels, plain.panels)
    ]
    assert areas[0] - areas[1] == pytest.approx(float(sum(signed_area(p.outline) for p in added)))


@EVERY_PAGE
def test_a_page_takes_the_usual_sizes_of_a_book_in_mm(name):
    part = page(name, usual(name, USUAL_MM))
    assert part.bound.start.y - part.bound.end.y == 95


# ------------------------------------------------------------------ one by one


@pytest.mark.parametrize(
    ("lip", "lost"),
    [("plain", 0), ("slanted", Fraction(21, 4) * Fraction(15, 32) / 2)],
)
def test_the_lip_of_a_half_pocket_runs_down_as_told(lip, lost):
    """A slant from 0 to 15/32 (a quarter of 1 7/8) along 5 1/4."""
    part = page("half-pocket", usual("half-pocket", lip=lip))
    area = signed_area(part.panel("pocket").outline) / INCH**2
    assert area == Fraction(21, 4) * Fraction(15, 8) - lost
    assert part.panel("wall2").bounds().height == inches("1 7/8")[0] - (
        inches("15/32")[0] if lost else 0
    )


def test_an_arched_lip_is_one_true_arc_with_the_drop_as_its_sagitta():
    part = page("half-pocket", usual("half-pocket", lip="arched", drop="1/3"))
    arcs = [s for s in part.panel("pocket").outline.segments() if s.bulge]
    assert len(arcs) == 1
    chord = abs(arcs[0].end.x - arcs[0].start.x)
    sagitta = abs(float(arcs[0].bulge)) * float(chord) / 2  # sagitta = bulge x half the chord
    assert sagitta == pytest.approx(25.4 / 3)
    whole = Fraction(21, 4) * Fraction(15, 8) * INCH**2
    assert signed_area(part.panel("pocket").outline) < whole - chord * INCH / 3 / 2
    assert arcs[0].start.y == arcs[0].end.y == 0
    assert part.height == inches("5 3/4")[0]


def test_the_window_of_a_frame_shows_the_photo_less_the_lap_in_the_middle_of_the_page():
    part = page("frame-page", usual("frame-page", lap="3/16", photo=4))
    box, around = bounds_of([part.outline[1]]), part.panel("frame").bounds()
    assert [box.width, box.height] == inches("3 5/8", "3 1/8")
    assert box.left - around.left == around.right - box.right
    assert box.bottom - around.bottom == around.top - box.top


def test_slits_cut_off_as_much_of_each_edge_of_the_photo_as_told():
    part = page("photo-slits", usual("photo-slits", corner="3/7"))
    slits = [stroke.path.points for stroke in part.strokes if stroke.purpose is Purpose.CUT]
    assert len(slits) == 4
    left, bottom, right, top = *inches("1/8", "1/8"), *inches("5 1/8", "3 5/8")
    for corner, (x, y) in zip(
        "abcd", [(left, top), (right, top), (right, bottom), (left, bottom)], strict=True
    ):
        sums = {abs(p.x - x) + abs(p.y - y) for p in slits["abcd".index(corner)]}
        beyond = inches("1/32")[0]
        # along the slit the distances from the photo's two edges add up to the corner
        assert sums == {inches("3/7")[0] + 2 * beyond}


def test_the_cards_of_a_waterfall_stay_on_the_page_and_their_hinges_apart():
    built = build(LIBRARY.find("waterfall"), usual("waterfall", cards=5, pitch="2/5"), CALIPERS)
    card, base = built.part("card"), built.part("page").panel("page").bounds()
    assert card.quantity == 5
    hinge, tall = inches("2/5", Fraction(19, 10))  # 3 3/4 - 1/4 - 4 x 2/5
    assert [card.height, card.width] == [hinge + tall, inches(5)[0]]
    margin, tape = inches("1/8", "1/16")
    tops = [join.at.y + hinge - tape for join in built.joins]
    assert tops == [margin + tall + i * inches("2/5")[0] for i in range(5)]
    assert tops[-1] == base.height - margin
    assert all(join.at.x == margin + tape for join in built.joins)


def test_index_tabs_share_the_fore_edge_from_head_to_tail():
    spans = []
    for place in (1, 2, 3):
        part = page("index-tab", {**SMALL, "tabs": 3, "place": place, "slant": 0, "corner": 0})
        box = part.panel("tab").bounds()
        spans.append((part.height - box.top, part.height - box.bottom))
    third = inches("3 3/4")[0] / 3
    assert spans == [(0, third), (third, 2 * third), (2 * third, 3 * third)]


def test_an_index_tab_stands_out_beyond_the_page_where_its_leaf_is_as_wide():
    assert page("index-tab").width == inches("5 1/4")[0]
    assert page("index-tab", usual("index-tab", leaf="5 1/4")).width == inches("5 5/8")[0]


def test_tickets_tear_off_at_perforations_and_from_one_another():
    part = page("ticket-page", {**SMALL, "tickets": 3})
    kinds = {str(line.key): line.kind for line in part.lines}
    assert set(kinds.values()) == {LineKind.PERFORATE}
    assert len(kinds) == 5


def test_the_pocket_for_a_library_card_lies_in_the_middle_of_its_page_and_takes_the_card():
    built = build(LIBRARY.find("library-card-pocket"), usual("library-card-pocket"), CALIPERS)
    pocket, card = built.part("pocket"), built.part("card")
    box = bounds_of([next(z.path for z in pocket.zones if z.name == "back")])
    join, target = built.joins[0], built.part("page").panel("page").bounds()
    assert (join.part, join.zone, join.onto_part) == ("pocket", "back", "page")
    assert 2 * join.at.x + box.width == target.width
    assert 2 * join.at.y + box.height == target.height
    assert card.width < pocket.panel("front").bounds().width


def test_a_concertina_without_gusset_folds_flat_onto_the_page():
    part = page("concertina-page", usual("concertina-page", depth=0, pleats=2))
    assert {panel.name for panel in part.panels} == {"page", "in1", "out1", "in2", "out2"}
    placed = folded(part)
    heights = {placed[p.name].at(q)[2] for p in part.panels for q in p.outline.points}
    assert heights == {0}


@pytest.mark.parametrize(
    ("name", "arguments", "told"),
    [
        ("side-pocket", {"notch": "3/2", "seam": "5/4"}, "seam"),
        ("top-pocket", {"seam": 3}, "seam"),
        ("half-pocket", {"pocket": 5}, "pocket"),
        ("half-pocket", {"drop": 2}, "drop"),
        ("gate-doors", {"short_of_middle": 2}, "short_of_middle"),
        ("double-pocket", {"pocket": 4}, "pocket"),
        ("tiered-pockets", {"pockets": 4, "step": 1}, "step"),
        ("three-flaps", {"flap": 6}, "flap"),
        ("roll-fold", {"step": "1/100 mm"}, "step"),
        ("roll-fold", {"rolls": 3, "leaf": 6}, "leaf"),
        ("concertina-page", {"leaf": 6}, "leaf"),
        ("frame-page", {"lap": 2}, "lap"),
        ("bellows-pocket", {"depth": 1}, "depth"),
        ("library-card-pocket", {"front": 4}, "front"),
        ("waterfall", {"cards": 9, "pitch": 1}, "pitch"),
        ("waterfall", {"hinge": 1}, "hinge"),
        ("index-tab", {"tabs": 3, "place": 4}, "place"),
        ("photo-slits", {"corner": 2}, "corner"),
        ("ticket-page", {"ticket": 5}, "ticket"),
        ("fore-edge-fold-pocket", {"notch": 3}, "notch"),
    ],
)  # fmt: skip
def test_a_size_that_a_page_cannot_take_is_told_at_that_size(name, arguments, told):
    with pytest.raises(ArgumentRefused) as caught:
        page(name, {**SMALL, **arguments})
    codes = {parameter: refusal.code for parameter, refusal in caught.value.refusals}
    assert codes == {told: "out-of-range"}


def ranges_of(name: str) -> dict[str, tuple[Fraction, Fraction]]:
    """Return both ends of each range, mm or a number, as they are for the usual page."""
    template = LIBRARY.find(name)
    values = build(template, usual(name), CALIPERS).resolved.values
    scope = Scope({**values, "cardstock.caliper": length(CALIPER)}, "in")
    ends = {
        p.name: [value_said(raw, scope) for raw in (p.min, p.max)]
        for p in template.parameters
        if p.type in (ParameterType.LENGTH, ParameterType.COUNT)
    }
    unit = {ValueKind.LENGTH: 1, ValueKind.NUMBER: 1, ValueKind.BARE: INCH}
    return {key: tuple(end.amount * unit[end.kind] for end in pair) for key, pair in ends.items()}


def drawn_sizes(name: str, chance: random.Random, ranges) -> dict[str, object]:
    """Return sizes of about a third of the parameters, from just too small to just too large."""
    sizes: dict[str, object] = {}
    for parameter in LIBRARY.find(name).parameters:
        if chance.random() < 0.65:
            continue
        if parameter.type is ParameterType.CHOICE:
            sizes[parameter.name] = chance.choice(parameter.choices)
        elif parameter.type is ParameterType.COUNT:
            sizes[parameter.name] = chance.randrange(0, 7)
        else:
            low, high = ranges[parameter.name]
            sizes[parameter.name] = length(
                low + (high - low) * Fraction(chance.randrange(-1, 23), 21)
            )
    return sizes


def hold_any_sizes(name: str, times: int) -> None:
    """Hold that any sizes make a page or are told at a parameter, never deep in a map or an edit."""
    chance, made, ranges = random.Random(name), 0, ranges_of(name)
    for _ in range(times):
        sizes = {**usual(name), **drawn_sizes(name, chance, ranges)}
        try:
            parts = build(LIBRARY.find(name), sizes, CALIPERS).parts
        except ArgumentRefused:
            continue
        made += 1
        assert all(Polygon(flattened(part.outline[0])).is_valid for part in parts), sizes
    assert made > times / 8


@EVERY_PAGE
def test_any_sizes_make_a_page_or_are_told_at_a_parameter(name):
    hold_any_sizes(name, 40)


@pytest.mark.soak
@EVERY_PAGE
def test_many_more_sizes_make_a_page_or_are_told_at_a_parameter(name):
    hold_any_sizes(name, 2000)

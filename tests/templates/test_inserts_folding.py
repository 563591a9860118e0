"""The built-in inserts while they are folded: loops that close, tape that faces its target.

Geometry, all of it: rigid folding of the declared steps. Inches unless a unit is named.
"""

from fractions import Fraction
from itertools import pairwise

import pytest
from shapely import Point as Place
from shapely import Polygon

from dielines.errors import TemplateError
from dielines.landing import landing_of
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.lengths import parse_length
from dielines.part import LineKind, Part, Side
from dielines.paths import flattened
from dielines.poses import angles_after, poses, residuals
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
INSERTS = [template.name for template in LIBRARY.templates() if template.kind == "insert"]
EVERY_INSERT = pytest.mark.parametrize("name", INSERTS)


def inches(*sizes) -> list[Fraction]:
    return [
        size * INCH if isinstance(size, Fraction) else parse_length(str(size), "in").mm
        for size in sizes
    ]


def parts_of(name: str, **arguments) -> tuple[Part, ...]:
    return build(LIBRARY.find(name), arguments, CALIPERS).parts


def part_of(name: str, **arguments) -> Part:
    return parts_of(name, **arguments)[0]


def broken(name: str, right: str, wrong: str) -> Part:
    """Return the part of a built-in template with one thing in it changed."""
    text = LIBRARY.find(name).document.text
    assert right in text
    return build(template_from_text(text.replace(right, wrong)), {}, CALIPERS).parts[0]


def outlines(part: Part) -> dict[str, object]:
    return {panel.name: panel.outline for panel in part.panels}


def folded(part: Part, stage=Fraction(1)):
    return poses(outlines(part), part.lines, part.steps, stage, rigid=part.rigid)


def is_straight(part: Part) -> bool:
    return all(line.is_straight for line in part.folds)


def torn(part: Part) -> set[Fraction]:
    """Return the stages of folding at which a loop gapes."""
    found = residuals(outlines(part), part.lines, part.steps, rigid=part.rigid)
    return {r.stage for r in found if not r.is_closed}


@pytest.mark.parametrize("name", ["map-fold", "one-slit-booklet", "box-step"])
def test_loops_of_panels_close_at_every_stage(name):
    part = part_of(name, width="22/7", height="31/7")
    assert residuals(outlines(part), part.lines, part.steps)
    assert torn(part) == set()


@pytest.mark.parametrize(
    ("name", "right", "wrong"),
    [
        ("map-fold", '"c | d" = "mountain"', '"c | d" = "valley"'),
        ("map-fold", 'steps = ["a / c, b / d", "a | b, c | d"]', "steps = []"),
        ("one-slit-booklet", '"b1 | b2" = "mountain"', '"b1 | b2" = "valley"'),
        ("one-slit-booklet", '"a4 / b4" = "mountain"', '"a4 / b4" = "valley"'),
        ("one-slit-booklet", "b3 | b4 to 90", "b3 | b4 to -90"),
        ("box-step", '"tread / front" = -90', '"tread / front" = 90'),
        ("box-step", '"min(rise, depth)     : back', '"min(rise, depth) + 1/8 : back'),
    ],
)
def test_a_wrong_sign_or_order_tears_the_paper(name, right, wrong):
    assert torn(broken(name, right, wrong))


@pytest.mark.parametrize(("rise", "depth"), [("9/7", "9/7"), ("4/3", "3/7"), ("3/7", "4/3")])
def test_a_step_closes_whether_it_is_higher_or_deeper(rise, depth):
    part = part_of("box-step", rise=rise, depth=depth)
    assert torn(part) == set()
    assert part.height == inches(11)[0]
    placed = folded(part)
    across, up = (part.panel(name).bounds().height for name in ("tread", "front"))
    assert [across, up] == inches(depth, rise)
    tread, base = (placed[name].rotation[2] for name in ("tread", "base"))
    assert abs(sum(a * b for a, b in zip(tread, base, strict=True))) == 1  # both level


def test_the_pages_of_a_maze_lie_one_on_the_other_along_its_path():
    """An accordion: from page to page the sign turns, round the corners of the path too."""
    part = part_of("maze-booklet", turns=3)
    path = [f"{letter}{turn}" for turn in (1, 2, 3) for letter in "abcdhgfe"]
    folds = {fold.key.panels(): fold.angle_deg for fold in part.folds}
    angles = [folds[frozenset(pair)] for pair in pairwise(path)]
    assert angles == [180 if i % 2 == 0 else -180 for i in range(23)]
    assert len(folds) == 23
    middles = set()
    for panel in part.panels:
        box, pose = panel.bounds(), folded(part)[panel.name]
        middles.add(pose.at(((box.left + box.right) / 2, (box.bottom + box.top) / 2)))
    assert len(middles) == 1


def test_the_cover_of_a_one_slit_booklet_goes_back_to_the_other_side():
    part = part_of("one-slit-booklet")
    reached = [
        {str(key): angle for key, angle in step.items()}["b1 | b2"]
        for step in angles_after(part.lines, part.steps)
    ]
    assert reached == [0, 0, 90, -180]


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


TAPED = {
    "envelope": 2, "belly-band": 1, "sleeve": 1, "tray": 4, "lid": 4, "slipcase": 4, "guard-leaf": 2,
}  # fmt: skip


@pytest.mark.parametrize("name", TAPED)
def test_tape_looks_at_what_it_is_about_to_stick_to(name):
    part = part_of(name, **({"folds": 1} if name == "guard-leaf" else {}))
    assert set(facing(part).values()) == {True}
    targets = [zone for zone in part.zones if zone.onto]
    assert len(targets) == TAPED[name]


@pytest.mark.parametrize("name", ["envelope", "belly-band", "tray", "slipcase"])
def test_tape_on_the_other_side_shows(name):
    text = LIBRARY.find(name).document.text
    swap = {'side = "face"': 'side = "reverse"', 'side = "reverse"': 'side = "face"'}
    right = next(word for word in swap if word in text)
    try:
        found = set(facing(broken(name, right, swap[right])).values())
    except TemplateError as problem:
        found = {fault.code != "faces-away" for fault in problem.faults}
    assert found == {False}


def crossings(part: Part) -> set[tuple[str, str]]:
    """Return the pairs of panels of which one passes through the other on the way or at the end."""
    panels = outlines(part)
    lines = [line for line in part.lines if line.kind is not LineKind.SLIT]
    neighbours = {*(line.key.panels() for line in lines), *map(frozenset, part.rigid)}
    shapes = {
        p.name: Polygon(flattened(p.outline), [flattened(h) for h in p.holes]) for p in part.panels
    }
    inner = {name: shape.buffer(-0.05) for name, shape in shapes.items()}
    corners = {
        name: shape.buffer(-0.1, join_style="mitre").exterior.coords[:-1]
        for name, shape in shapes.items()
    }
    steps = len(angles_after(part.lines, part.steps)) - 1
    found = set()
    for stage in (Fraction(k, 3 * steps) for k in range(1, 3 * steps + 1)):
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


@EVERY_INSERT
def test_no_panel_passes_through_another_on_its_way(name):
    for part in parts_of(name):
        if is_straight(part):
            assert crossings(part) == set()


def test_walls_that_fold_before_the_tabs_inside_them_go_through_the_tabs():
    part = broken(
        "tray",
        'steps = ["head / *, * / tail, tab* | *, * | tab*", "left | *, * | right"]',
        'steps = ["head / *, * / tail", "left | *, * | right", "tab* | *, * | tab*"]',
    )
    assert crossings(part)


#: where all folds of an insert go one way: towards the face (a valley), or away from it
ONE_WAY = {
    "envelope": 1, "belly-band": 1, "sleeve": 1, "tray": 1, "lid": 1, "slipcase": 1, "folio": 1,
    "sewn-section": 1, "curved-packet": 1, "round-card": 1, "photo-stand": 1, "tuck-strip": -1,
}  # fmt: skip


@pytest.mark.parametrize("name", ONE_WAY)
def test_all_folds_of_an_insert_that_closes_go_one_way(name):
    more = {"head": "1/2", "tail": "1/2"} if name == "round-card" else {}
    for arguments in ({}, more):
        folds = [fold for part in parts_of(name, **arguments) for fold in part.folds]
        assert folds
        assert all(fold.angle_deg * ONE_WAY[name] > 0 for fold in folds)


#: the side that is taped, zone by zone, where the tape goes onto something else than the part itself
TAPED_SIDE = {
    "photo-mat": {"left": Side.FACE, "right": Side.FACE, "foot": Side.FACE},
    "photo-stand": {"hinge": Side.REVERSE},  # the strut stands up from the face of its hinge
    "tuck-strip": {"foot": Side.FACE, "side1": Side.FACE, "side2": Side.FACE},  # folded behind
    "curved-packet": {"seam": Side.REVERSE},  # folded in first, its reverse meets the front
    "guard-leaf": {"guard": Side.FACE},
}


@pytest.mark.parametrize("name", TAPED_SIDE)
def test_tape_is_on_the_side_that_meets_what_it_sticks_to(name):
    zones = {zone.name: zone.side for part in parts_of(name) for zone in part.zones}
    assert zones == TAPED_SIDE[name]


def test_each_layer_of_a_guard_is_glued_to_the_next():
    """Face to face in a valley, reverse to reverse in a mountain."""
    part = part_of("guard-leaf", folds=2)
    sides = {zone.name: zone.side for zone in part.zones}
    assert sides == {
        "upper1": Side.FACE, "under1": Side.REVERSE, "upper2": Side.FACE, "under2": Side.REVERSE,
        "guard": Side.FACE,
    }  # fmt: skip
    signs = {str(fold.key): fold.angle_deg for fold in part.folds}
    assert signs == {
        "upper1 | under1": 180, "under1 | upper2": -180, "upper2 | under2": 180,
        "under2 | guard": -180, "guard | leaf": 0,
    }  # fmt: skip

"""The built-in inserts: sizes worked out by hand, finished sizes, and sizes that cannot be.

Common practice with no source: all usual sizes. Geometry: all else. Inches unless a
unit is named.
"""

from fractions import Fraction

import pytest

from dielines.language.building import ArgumentRefused, build
from dielines.language.library import built_in_library
from dielines.language.parameters import ParameterType
from dielines.lengths import parse_length
from dielines.part import Part
from dielines.poses import poses

INCH = Fraction(254, 10)
CALIPER = Fraction(2413, 10000)  #: mm, 9.5 thousandths of an inch
T = CALIPER / INCH
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


def outlines(part: Part) -> dict[str, object]:
    return {panel.name: panel.outline for panel in part.panels}


def folded(part: Part, stage=Fraction(1)):
    return poses(outlines(part), part.lines, part.steps, stage, rigid=part.rigid)


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


#: insert: width, height, scores from the left, scores from the top
FLAT = {
    "tag": (2, 4, [], []),
    "ticket": (5, 2, [], []),
    "envelope": ("6 3/4", Fraction(255, 32), ["3/4", 6], ["1 7/8", "5 5/8"]),
    "photo-mat": (7, 5, [], []),
    "belly-band": ("9 1/16", "1 1/2", ["3/4", "7/8", "4 29/32", "5 1/32"], []),
    "sleeve": (9, "5 1/2", ["1/2", "3/4", "4 3/4", 5], []),
    "tray": (
        "5 1/2", 7,
        [Fraction(3, 4), Fraction(3, 4) + T, Fraction(19, 4) - T, Fraction(19, 4)],
        ["3/4", "6 1/4"],
    ),
    "lid": (
        5 + Fraction(1, 16) + 2 * T,
        6 + Fraction(9, 16) + 2 * T,
        [Fraction(1, 2), Fraction(1, 2) + T, 4 + Fraction(9, 16) + T, 4 + Fraction(9, 16) + 2 * T],
        [Fraction(1, 2), 6 + Fraction(1, 16) + 2 * T],
    ),
    "slipcase": (
        # twice 5 1/32, and 25/32 + t between; 4 1/32 + t between the flaps of the wall
        10 + Fraction(27, 32) + T,
        4 + Fraction(1, 32) + T + 4 * T + 2 * (Fraction(3, 4) + Fraction(1, 32) + T),
        [5 + Fraction(1, 32), 5 + Fraction(26, 32) + T],
        [Fraction(25, 32) + k * T for k in (1, 2, 3)]
        + [4 + Fraction(26, 32) + k * T for k in (4, 5, 6)],
    ),
    "map-fold": (8, 11, [4], ["5 1/2"]),
    "one-slit-booklet": (8, 6, [2, 4, 6], [3]),
    "maze-booklet": (10, 12, ["2 1/2", 5, "7 1/2"], [3, 6, 9]),
    # the step comes out 1.1 and stands 1.375 high: ridge 1.1 below its top
    "box-step": (4, 11, [], ["4 1/8", Fraction(209, 40), "5 1/2", Fraction(66, 10)]),
    "photo-stand": (5, 7, [], []),
    "folio": (8, "5 1/2", [4], []),
    "guard-leaf": ("4 1/2", "5 1/2", ["1/2"], []),
    "tuck-strip": (6, 2, ["1/2", "5 1/2"], ["1 1/2"]),
    "sewn-section": ("8 1/2", "5 1/2", ["4 1/4"], []),
}  # fmt: skip


@pytest.mark.parametrize("name", FLAT)
def test_an_insert_is_cut_and_scored_at_the_sizes_worked_out_by_hand(name):
    width, height, upright, level = FLAT[name]
    part = part_of(name)
    assert [part.width, part.height] == inches(width, height)
    assert scores(part) == (inches(*upright), inches(*level))


def test_every_insert_stands_in_the_table_or_is_round_or_a_set_of_leaves():
    assert set(INSERTS) - set(FLAT) == {"round-card", "curved-packet", "index-leaves"}


#: what is left once it is folded: across, up, and how high it stands
FINISHED = {
    "tag": (2, 4, 0), "ticket": (5, 2, 0), "envelope": ("5 1/4", "3 3/4", 0),
    "photo-mat": (7, 5, 0), "belly-band": ("4 1/32", "1 1/2", "1/8"),
    "sleeve": (4, "5 1/2", "1/4"), "tray": (4, "5 1/2", "3/4"),
    "lid": (4 + Fraction(1, 16) + 2 * T, 5 + Fraction(9, 16) + 2 * T, "1/2"),
    "slipcase": ("5 1/32", 4 + Fraction(1, 32) + 5 * T, Fraction(25, 32) + T),
    "map-fold": (4, "5 1/2", 0), "one-slit-booklet": (2, 3, 0), "maze-booklet": ("2 1/2", 3, 0),
    "box-step": (4, "5 1/2", "5 1/2"), "photo-stand": (5, 7, 0),
    "folio": (4, "5 1/2", 0), "guard-leaf": ("4 1/2", "5 1/2", 0),
    "tuck-strip": (5, "1 1/2", 0), "sewn-section": ("4 1/4", "5 1/2", 0),
}  # fmt: skip


@pytest.mark.parametrize("name", FINISHED)
def test_a_folded_insert_has_its_finished_size(name):
    part = part_of(name)
    placed = folded(part)
    corners = [placed[p.name].at(q) for p in part.panels for q in p.outline.points]
    size = [max(c[i] for c in corners) - min(c[i] for c in corners) for i in range(3)]
    assert list(map(float, size)) == pytest.approx(list(map(float, inches(*FINISHED[name]))))


@EVERY_INSERT
@pytest.mark.parametrize(("width", "height"), [(80, 115), (31, 160), (120, 40)])
def test_a_book_makes_an_insert_to_the_size_of_a_pocket(name, width, height):
    """As a book does: width and height alone, in mm."""
    types = {p.name: p.type for p in LIBRARY.find(name).parameters}
    assert (types["width"], types["height"]) == (ParameterType.LENGTH, ParameterType.LENGTH)
    built = build(LIBRARY.find(name), {"width": width, "height": height}, CALIPERS, None, "mm")
    assert built.resolved.values["width"].amount == width


@pytest.mark.parametrize(
    ("name", "arguments", "told"),
    [
        ("tag", {"corner": 2}, "corner"),
        ("tag", {"hole": 1}, "hole"),
        ("ticket", {"stub": 4}, "stub"),
        ("envelope", {"side": 3}, "side"),
        ("envelope", {"flaps": "pointed", "side": 1}, "side"),
        ("photo-mat", {"photo": 8}, "photo"),
        ("belly-band", {"lap": 3}, "lap"),
        ("sleeve", {"notch": 2, "seam": "3/2"}, "seam"),
        ("tray", {"depth": 3}, "depth"),
        ("tray", {"tab": 1}, "tab"),
        ("lid", {"play": 1}, "play"),
        ("slipcase", {"tuck": 1}, "tuck"),
        ("box-step", {"depth": 5}, "depth"),
        ("photo-stand", {"lean": 45}, "lean"),
        ("photo-stand", {"reach": 4}, "reach"),
        ("round-card", {"head": 2}, "head"),
        ("curved-packet", {"bow": 2}, "bow"),
        ("guard-leaf", {"folds": 5}, "folds"),
        ("tuck-strip", {"foot": "5/4"}, "foot"),
        ("maze-booklet", {"turns": 0}, "turns"),
    ],
)  # fmt: skip
def test_a_size_that_an_insert_cannot_take_is_told_at_that_size(name, arguments, told):
    with pytest.raises(ArgumentRefused) as caught:
        parts_of(name, **arguments)
    assert {n: refusal.code for n, refusal in caught.value.refusals} == {told: "out-of-range"}

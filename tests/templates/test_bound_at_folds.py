"""Sections sewn through the fold, and loops along a bound edge.

Published (VALUES.md, section 5): kettle stitches about 1/4 in from the ends, 3 bands
for 8 in, 4 for 12 and 5 for 15, which part the length equally (Cockerell). Common
practice with no source: the other usual sizes. Inches unless a unit is named.
"""

from fractions import Fraction

import pytest
from shapely import Polygon

from dielines.landing import land
from dielines.language.building import Graft, build, build_fragment
from dielines.language.library import built_in_library
from dielines.lengths import parse_length
from dielines.part import Part, Side
from dielines.paths import bounds_of, flattened
from dielines.poses import poses

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


def inches(*sizes) -> list[Fraction]:
    return [
        size * INCH if isinstance(size, Fraction) else parse_length(str(size), "in").mm
        for size in sizes
    ]


def parts_of(name: str, **arguments) -> tuple[Part, ...]:
    return build(LIBRARY.find(name), arguments, CALIPERS).parts


def part_of(name: str, **arguments) -> Part:
    return parts_of(name, **arguments)[0]


def stations(height: object, **sizes) -> list[float]:
    """Return how far each sewing hole stands from the head, in."""
    graft = Graft(LIBRARY.find("sewing"), sizes)
    part = build(LIBRARY.find("sewn-section"), {"height": height}, CALIPERS, graft).parts[0]
    fold = bounds_of([piece for line in part.folds for piece in line.pieces]).left
    boxes = [bounds_of([ring]) for ring in part.outline[1:]]
    assert all(float(box.left + box.right) == pytest.approx(float(2 * fold)) for box in boxes)
    return sorted(float(part.height - (box.bottom + box.top) / 2) / 25.4 for box in boxes)


def test_a_section_is_sewn_at_its_kettle_stitches_and_beside_each_band():
    """5 1/2 high, kettles at 1/4, two bands of 3/8 at thirds of the 5 in between."""
    expected = [1 / 4, *(1 / 4 + k * 5 / 3 + s * 3 / 16 for k in (1, 2) for s in (-1, 1)), 21 / 4]
    assert stations("5 1/2", band="3/8") == pytest.approx(expected)
    cords = [1 / 4, 1 / 4 + 5 / 3, 1 / 4 + 10 / 3, 21 / 4]
    assert stations("5 1/2", band=0) == pytest.approx(cords)


@pytest.mark.parametrize(("height", "bands"), [(8, 3), (12, 4), (15, 5)])
def test_there_are_as_many_bands_as_the_handbook_says(height, bands):
    found = stations(height)
    assert len(found) == 2 + 2 * bands
    assert found[0] == 1 / 4
    middles = [(a + b) / 2 for a, b in zip(found[1:-1:2], found[2:-1:2], strict=True)]
    gaps = [b - a for a, b in zip([found[0], *middles], [*middles, found[-1]], strict=True)]
    assert gaps == pytest.approx([gaps[0]] * (bands + 1))


def test_a_section_has_as_many_sheets_as_told_each_of_them_folded_once():
    part = part_of("sewn-section", sheets=5)
    assert part.quantity == 5
    assert (part.bound.panel, part.bound.side) == ("left | right", "fold")


def loops(gaps: str) -> Polygon:
    """Return what stands left of the page, its turned part laid onto it."""
    graft = Graft(LIBRARY.find("slotted-hinge"), {"gaps": gaps, "depth": "2/5"})
    part = build_fragment(graft, inches(Fraction(30, 7))[0], CALIPERS)[0]
    page = part.panel("page").bounds()
    loop = Polygon(flattened(part.panel("loop").outline))
    edge = float(page.left) - (1 / 2 - 2 / 5) * 25.4
    beyond = Polygon([(edge, -1), (edge, 999), (-99, 999), (-99, -1)])
    return loop.intersection(beyond)


def test_the_loops_of_one_page_stand_in_the_gaps_of_the_next():
    """Seven lengths of 30/49: three gaps in the one, four in the other."""
    even, odd = loops("even"), loops("odd")
    length = 30 / 49 * 25.4
    assert [even.area, odd.area] == pytest.approx([n * length * 2 / 5 * 25.4 for n in (4, 3)])
    assert even.intersection(odd).area == pytest.approx(0, abs=1e-6)


def test_what_is_folded_back_is_glued_to_the_page_beyond_the_loops():
    """Folded away from the face: the side of the page that looks to the cover."""
    graft = Graft(
        LIBRARY.find("slotted-hinge"), {"loop": "3/7", "turn": "9/7", "tape_margin": "1/32"}
    )
    part = build(LIBRARY.find("plain-leaf"), {}, CALIPERS, graft).parts[0]
    zone = next(zone for zone in part.zones if zone.onto)
    panels = {panel.name: panel.outline for panel in part.panels}
    placed = poses(panels, part.lines, part.steps, root="page", rigid=part.rigid)
    landed = bounds_of([land(placed[zone.panel], placed["page"], zone.path).path])
    page = part.panel("page").bounds()
    # the page's edge, a margin, and as far as the turned part reaches less a margin
    assert [landed.left - page.left, landed.right - page.left] == inches(
        Fraction(1, 32), Fraction(6, 7) - Fraction(1, 32)
    )
    assert zone.side is Side.REVERSE
    assert [fold.angle_deg for fold in part.folds] == [-180]

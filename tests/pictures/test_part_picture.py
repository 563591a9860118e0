"""Pictures of parts: every built-in part at every stage, as a stranger's eyes would have them."""

import re
from fractions import Fraction
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from dielines.book.single import single_parts
from dielines.folding.folded_parts import fold_part
from dielines.language.library import built_in_library
from dielines.models.facets import facets_of
from dielines.models.patches import EdgeKind, patches_of
from dielines.pictures.camera import Camera
from dielines.pictures.layers import placed_at
from dielines.pictures.part_picture import folding_picture, part_picture
from dielines.pictures.part_stage import gap_of, stage_drawing, stages_of, step_words, steps_of
from dielines.pictures.views import FROM_ABOVE, view_of
from dielines.workshop.loading import load_workshop

LIBRARY = built_in_library()
STAGES = [Fraction(k, 4) for k in range(5)]
NAMES = [template.name for template in LIBRARY.templates() if template.kind != "fold"]
SVG = "{http://www.w3.org/2000/svg}"


@cache
def parts(name: str):
    template = LIBRARY.find(name)
    owned = load_workshop(None, LIBRARY.files[0][1].parent, template.units or "mm")
    entries = {entry.letter: entry for entry in single_parts(template, {}, owned)}
    return [fold_part(entry.part) for entry in entries.values()]


def part(name: str, of: str = ""):
    return next(folded for folded in parts(name) if not of or folded.part.name == of)


def ground(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(svg: str) -> list[str]:
    return [element.text for element in ground(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("name", NAMES)
def test_every_part_is_drawn_at_every_stage(name):
    for folded in parts(name):
        for stage in STAGES:
            root = ground(part_picture(folded, stage))
            numbers = re.findall(
                r"-?[0-9.]+|nan|inf", " ".join(e.get("d", "") for e in root.iter())
            )
            width, height = (float(v) for v in root.get("viewBox").split()[2:])
            assert len(numbers) > 8
            assert all(-1 <= float(n) <= max(width, height) + 1 for n in numbers)


@pytest.mark.parametrize("name", NAMES)
def test_what_can_be_seen_of_all_panels_is_the_whole_silhouette(name):
    """Conservation: no region twice, none left out, at a stage within a step."""
    stage = Fraction(3, 7)
    for folded in parts(name):
        camera = Camera(view_of(folded))
        fills = stage_drawing(folded, stage, camera).painted.fills
        places = placed_at(folded, stage, gap_of(folded))
        shapes = [flat(facet, camera) for facet in facets_of("", patches_of(folded.part), places)]
        whole = shapely.union_all(shapes).area
        assert sum(fill.region.area for fill in fills) == pytest.approx(whole, rel=2e-3)


def flat(facet, camera):
    exterior, *holes = (camera.seen(ring)[:, :2] for ring in facet.rings)
    return shapely.Polygon(exterior, holes).buffer(0)


def test_the_same_part_gives_the_same_bytes():
    folded = part("side-pocket")
    assert part_picture(folded, Fraction(2, 3)) == part_picture(
        fold_part(folded.part), Fraction(2, 3)
    )
    assert folding_picture(folded) == folding_picture(fold_part(folded.part))


@pytest.mark.parametrize("draw", [part_picture, folding_picture])
def test_a_picture_says_what_it_shows_and_that_nothing_is_cut_from_it(draw):
    root = ground(draw(part("side-pocket"), title="page 7: <side> & pocket"))
    assert root.get("role") == "img"
    assert root.get("data-purpose") == "picture"
    assert root.find(f"{SVG}title").text.startswith("page 7: <side> & pocket, ")
    description = root.find(f"{SVG}desc").text
    assert "not to cut" in description
    assert "back" in description
    assert not [e for e in root.iter() if "data-layer" in e.attrib or "data-part" in e.attrib]


def test_panels_are_named_where_the_name_fits_and_only_once():
    said = words(part_picture(part("flap"), 0, "a leaf"))
    assert [said.count(name) for name in ("page", "flap", "gusset")] == [1, 1, 0]


def test_names_stand_on_what_can_be_seen_of_their_panels():
    said = words(part_picture(part("side-pocket"), 1))
    assert "back" in said
    assert "front" not in said  # it lies behind the back


@pytest.mark.parametrize(
    ("name", "stage", "told"),
    [
        ("three-flaps", 0, "flat, before step 1 of 3"),
        ("three-flaps", Fraction(1, 3), "after step 1 of 3"),
        ("three-flaps", Fraction(1, 2), "in step 2 of 3"),
        ("three-flaps", 1, "folded"),
        ("flap", 0, "flat, before folding"),
        ("flap", Fraction(1, 7), "partly folded"),
        ("plain-leaf", Fraction(1, 2), "nothing to fold"),
    ],
)
def test_how_far_folding_has_come_is_told(name, stage, told):
    assert step_words(part(name), stage) == told


def test_how_it_is_folded_shows_it_flat_and_after_each_step():
    folded = part("three-flaps")
    assert stages_of(folded) == [0, Fraction(1, 3), Fraction(2, 3), 1]
    said = words(folding_picture(folded))
    told = [word for word in said if "step" in word or word == "folded"]
    assert told == ["flat, before step 1 of 3", "after step 1 of 3", "after step 2 of 3", "folded"]


def arrow_of(folded, stage):
    return stage_drawing(folded, stage, Camera(FROM_ABOVE)).way


def test_the_arrow_follows_the_panel_that_moves_farthest_in_the_next_step():
    """Of a flap that folds over by two right angles: from its middle to where that lands."""
    folded = part("flap")
    box = {panel.name: panel.bounds() for panel in folded.part.panels}
    middle = float(box["flap"].left + box["flap"].right) / 2
    count = steps_of(folded)
    way = arrow_of(folded, Fraction(count - 1, count))
    reached = folded.poses["flap"].at((middle, 0))
    assert way[-1][0] == pytest.approx(float(reached[0]), abs=1e-6)
    assert arrow_of(folded, 0)[0][0] == pytest.approx(middle, abs=1e-6)
    lengths = [np.hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(arrow_of(folded, 0))]
    assert sum(lengths) > 10


def test_nothing_moves_on_when_all_is_folded():
    assert arrow_of(part("flap"), 1) == ()
    assert arrow_of(part("plain-leaf"), 0) == ()
    assert 'id="next"' in part_picture(part("flap"), 0)
    assert 'id="next"' not in part_picture(part("flap"), 1)


def test_dashes_show_the_seam_under_the_back_of_a_pocket_when_it_is_folded():
    folded = part("side-pocket")
    assert 'id="under"' in part_picture(folded, 1)
    assert 'id="under"' not in part_picture(folded, Fraction(1, 2))


def test_face_and_reverse_have_different_tints():
    folded = part("flap")
    drawing = stage_drawing(folded, 1, Camera(view_of(folded)))
    sides = {fill.facet.panel: (fill.shows_face, fill.colour) for fill in drawing.painted.fills}
    assert sides["page"][0] is True
    assert sides["flap"][0] is False
    assert sides["page"][1] != sides["flap"][1]


def test_outlines_are_heavier_than_folds():
    found = dict(re.findall(r'id="(lines)">(.*?)</g>', part_picture(part("flap"), 0), re.DOTALL))
    widths = re.findall(r'stroke-width="([0-9.]+)"', found["lines"])
    assert widths == ["0.22", "0.5"]


def test_a_pocket_is_seen_from_the_side_to_which_it_opens():
    """The mouth of a side pocket is at its right; its back lies on the reverse."""
    view = view_of(part("side-pocket"))
    assert view.is_from_below
    assert view.turn_deg < 0  # turned over, its right is at the left
    assert view_of(part("plain-leaf")) == FROM_ABOVE


@pytest.mark.parametrize("name", [n for n in NAMES if LIBRARY.find(n).kind == "page"])
def test_no_page_is_seen_edge_on(name):
    for folded in parts(name):
        camera = Camera(view_of(folded))
        largest = max(folded.part.panels, key=lambda p: float(p.bounds().width * p.bounds().height))
        for stage in (0, 1):
            normal = np.array([float(v) for v in folded.at(stage)[largest.name].normal])
            assert abs((camera.rows @ normal)[2]) > 0.3


def test_a_stage_that_is_none_is_refused():
    with pytest.raises(ValueError, match="0 and 1"):
        part_picture(part("flap"), 1.5)


def test_a_slit_is_an_outline_and_a_perforation_is_dashed():
    slits = stage_drawing(part("photo-slits"), 0, Camera(FROM_ABOVE)).painted.lines
    assert len(slits[EdgeKind.OUTLINE]) == 1 + 4
    ticket = stage_drawing(part("ticket-page"), 0, Camera(FROM_ABOVE)).painted.lines
    assert len(ticket[EdgeKind.PERFORATION]) >= 1

"""Parts of free shape: true arcs from the file to the part, oblique and curved lines, named pieces.

All of it is this project's own language; another library's polygons are the
independent reference where lines cross at random.
"""

import math
from fractions import Fraction

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings
from shapely import LineString, Polygon, polygonize, unary_union

from dielines.errors import TemplateError
from dielines.language.arrangement import crossing_of_itself, faces_of
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.part import LineKind
from dielines.paths import Path, Vertex, circle, flattened, line, polyline, rectangle, signed_area

F = Fraction
CALIPERS = {"cardstock": F(2, 7)}
HEAD = 'template = "card"\nkind = "insert"\nunits = "mm"\n[parts.card]\n'


def made(text: str):
    return build(template_from_text(HEAD + text), {}, CALIPERS).parts[0]


def refused(text: str) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        made(text)
    return [fault.code for fault in caught.value.faults]


def nothing() -> None:
    """Count no meeting of lines."""


ROUND = """outline = [["0", "r"], {{ through = ["r", 0], to = ["2 * r", "r"] }}, {{ through = ["r", "2 * r"], to = [0, "r"] }}]
panels = {{ {panels} }}
{more}
"""


def round_card(panels: str, more: str = ""):
    text = (
        ROUND.format(panels=panels, more=more).replace('"r"', '"85 / 3"').replace("* r", "* 85 / 3")
    )
    return made(text)


def test_a_round_card_is_two_true_half_circles():
    part = round_card('card = ["r", "r"]')
    assert [vertex.bulge for vertex in part.outline[0].vertices] == pytest.approx([1, 1])
    assert (float(part.width), float(part.height)) == pytest.approx((170 / 3, 170 / 3))
    assert signed_area(part.outline[0]) == pytest.approx(math.pi * (85 / 3) ** 2)


def test_an_oblique_fold_parts_a_round_card_and_leaves_its_arcs_true():
    part = round_card(
        'wing = ["1/7 * 85", "r"], rest = ["2 * r - 5", "r"]',
        'folds = { "wing - rest" = "valley" }\n'
        "[parts.card.lines]\nleft = [[20, -1], [\"70 / 3\", 60]]\n",
    )  # fmt: skip
    (fold,) = part.lines
    assert (fold.kind, fold.angle_deg, fold.key.relation) == (LineKind.FOLD, 180, "-")
    radius = 85 / 3
    for point in fold.pieces[0].points:  # trimmed to the circle
        assert math.dist(point, (radius, radius)) == pytest.approx(radius)
    areas = [signed_area(panel.outline) for panel in part.panels]
    assert sum(areas) == pytest.approx(math.pi * radius**2)
    arcs = [v.bulge for panel in part.panels for v in panel.outline.vertices if v.bulge]
    assert sum(4 * math.atan(bulge) for bulge in arcs) == pytest.approx(2 * math.pi)
    assert len(part.outline[0].vertices) == 4  # two arcs, each cut once


def test_a_curved_score_is_drawn_as_a_true_arc_and_folds_nothing():
    part = made("""outline = [[0, 0], [60, 0], [60, 90], [0, 90]]
panels = { low = [30, 1], body = [30, 45] }
folds = { "low - body" = "mountain" }
[parts.card.lines]
curve = [[0, 0], { through = [30, "100 / 7"], to = [60, 0] }]
""")
    (score,) = part.lines
    assert not score.is_straight
    (piece,) = score.pieces
    assert abs(float(piece.vertices[0].bulge)) == pytest.approx(100 / 7 / 30)
    sagitta, chord = 100 / 7, 60
    radius = (chord**2 / 4 + sagitta**2) / (2 * sagitta)
    half = math.asin(chord / 2 / radius)
    segment = radius**2 * (half - math.sin(half) * math.cos(half))
    assert signed_area(part.panel("low").outline) == pytest.approx(segment)


def test_a_key_of_an_oblique_line_may_name_its_panels_in_either_order():
    text = """outline = [[0, 0], [60, 0], [60, 90]]
panels = {{ a = [50, 10], b = [58, 60] }}
folds = {{ "{key}" = 30 }}
[parts.card.lines]
cut = [[0, 0], [61, 50]]
"""
    for key in ("a - b", "b - a", "* - b", "a* - *"):
        assert [fold.angle_deg for fold in made(text.format(key=key)).lines] == [30]


def test_an_upright_line_of_a_custom_part_is_named_as_on_a_map():
    part = made("""outline = [[0, 0], [60, 0], [70, 40], [0, 40]]
panels = { a = [1, 1], b = [50, 1] }
folds = { "a | b" = 90 }
[parts.card.lines]
upright = [["100 / 7", -1], ["100 / 7", 41]]
""")
    assert [str(fold.key) for fold in part.lines] == ["a | b"]
    assert part.lines[0].pieces[0].points == ((F(100, 7), 0), (F(100, 7), 40))


def test_lines_that_cross_make_a_panel_of_every_piece():
    part = made("""outline = [[0, 0], [60, 0], [60, 60], [0, 60]]
panels = { n = [30, 50], e = [50, 30], s = [30, 10], w = [10, 30] }
folds = { "* - *" = "valley" }
[parts.card.lines]
up = [[0, 0], [60, 60]]
down = [[0, 60], [60, 0]]
""")
    assert [signed_area(panel.outline) for panel in part.panels] == [900] * 4
    assert len({fold.key.panels() for fold in part.lines}) == 4


def test_a_closed_line_makes_a_panel_with_a_hole_in_it():
    part = made("""outline = [[0, 0], [60, 0], [60, 60], [0, 60]]
panels = { frame = [1, 1], window = [30, 30] }
folds = { "* - *" = "perforate", "* | *" = "perforate", "* / *" = "perforate" }
[parts.card.lines]
inner = [[10, 10], [50, 10], { through = [54, 30], to = [50, 50] }, [10, 50], [10, 10]]
""")
    frame, window = part.panel("frame"), part.panel("window")
    radius = (20**2 + 4**2) / 8  # of the side bent out by 4 mm over 40
    half = math.asin(20 / radius)
    inner = 40 * 40 + radius**2 * (half - math.sin(half) * math.cos(half))
    assert signed_area(window.outline) == pytest.approx(inner)
    assert [abs(signed_area(hole)) for hole in frame.holes] == [pytest.approx(inner)]
    assert signed_area(frame.outline) == 3600
    assert len(part.outline) == 1
    assert sorted(str(fold.key) for fold in part.lines) == [
        "frame - window", "frame / window", "frame | window", "window / frame",
    ]  # fmt: skip


def test_a_line_that_ends_inside_a_panel_parts_nothing():
    part = made("""outline = [[0, 0], [60, 0], [60, 60], [0, 60]]
panels = { card = [30, 50] }
[parts.card.lines]
short = [[30, -1], [30, 20]]
""")
    assert [panel.name for panel in part.panels] == ["card"]
    assert len(part.outline[0].vertices) == 4


def test_a_line_along_the_rim_or_told_twice_parts_nothing_more():
    part = made("""outline = [[0, 0], [60, 0], [60, 60], [0, 60]]
panels = { low = [30, 10], high = [30, 50] }
folds = { "high / low" = 90 }
[parts.card.lines]
rim = [[0, 0], [60, 0]]
first = [[-1, 20], [61, 20]]
again = [[0, 20], [60, 20]]
""")
    assert [signed_area(panel.outline) for panel in part.panels] == [1200, 2400]
    assert len(part.lines) == 1


@pytest.mark.parametrize(
    ("name", "code"),
    [("Card", "bad-name"), ("a b", "bad-name"), ("card#", "bad-name"), ("a" * 41, "bad-name")],
)
def test_panels_have_plain_names(name, code):
    text = f'outline = [[0, 0], [9, 0], [9, 9]]\npanels = {{ "{name}" = [8, 1] }}\n'
    assert refused(text) == [code]


POINTS = st.tuples(st.integers(1, 59), st.integers(1, 59))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(-5, 65), st.integers(-5, 65)), min_size=0, max_size=4))
def test_pieces_are_those_that_another_library_finds(ends):
    """Lines right across a square, at random."""
    rim = rectangle(F(0), F(0), F(60), F(60))
    lines = [line((F(-1), F(low)), (F(61), F(high))) for low, high in ends]
    faces = faces_of(rim, lines, nothing)
    cut = unary_union(
        [LineString([*flattened(rim), (0, 0)]), *(LineString(flattened(path)) for path in lines)]
    )
    square = Polygon(flattened(rim))
    expected = [p for p in polygonize([cut]).geoms if square.contains(p.representative_point())]
    found = sorted(float(signed_area(face.outline)) for face in faces)
    assert found == pytest.approx(sorted(p.area for p in expected), abs=1e-6)
    assert sum(found) == pytest.approx(3600)


@settings(max_examples=60, deadline=None)
@given(st.lists(POINTS, min_size=3, max_size=7, unique=True))
def test_an_outline_crosses_itself_when_another_library_says_so(points):
    outline = polyline([(F(x), F(y)) for x, y in points], closed=True)
    simple = Polygon(points).is_valid
    assert (crossing_of_itself(outline) is None) == simple


@pytest.mark.parametrize("turn", range(4))
def test_arcs_and_tangent_edges_are_no_crossing(turn):
    quarter = math.tan(math.pi / 8)
    shape = [
        Vertex(0, 0),
        Vertex(50, 0, quarter),
        Vertex(60, 10),
        Vertex(60, 30, 1.0),
        Vertex(20, 30),
        Vertex(20, 20),
    ]
    path = Path(tuple(shape[turn:] + shape[:turn]))
    assert crossing_of_itself(path) is None
    assert crossing_of_itself(circle((F(1, 3), F(2, 7)), F(10, 3))) is None


def test_an_arc_that_runs_through_an_edge_is_a_crossing():
    path = Path((Vertex(0, 0), Vertex(50, 0), Vertex(50, 20, -0.9), Vertex(0, 20)))
    assert crossing_of_itself(path) is not None


def test_a_fold_that_a_loose_line_touches_stays_one_score():
    part = made("""outline = [[0, 0], [60, 0], [60, 60], [0, 60]]
panels = { low = [30, 10], high = [30, 50] }
folds = { "high / low" = 90 }
[parts.card.lines]
fold = [[-1, 20], [61, 20]]
loose = [[30, 20], ["100 / 3", 40]]
""")
    assert [tuple(piece.points) for piece in part.lines[0].pieces] == [((0, 20), (60, 20))]

"""Every template, whichever are found: what it makes with its defaults and at both ends of every range.

Parts are held to plane geometry alone (areas from the shoelace formula, overlaps
and insideness from shapely), so nothing here knows a template by its name.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import combinations

import pytest
from shapely import LineString, Polygon, STRtree

from dielines.errors import TemplateError
from dielines.formats.svg.writing import write_svg
from dielines.language.building import ArgumentRefused, Built, Graft, build, build_fragment
from dielines.language.expressions import Scope, number_of, size_of
from dielines.language.library import built_in_library
from dielines.language.parameters import ParameterType, resolve
from dielines.language.template import template_from_text
from dielines.language.values import Value, flag, length, number, word
from dielines.part import LineKind, Part
from dielines.part_drawing import parts_drawing
from dielines.paths import Path, distance, flattened, signed_area
from dielines.poses import residuals

LIBRARY = built_in_library()
EVERY = pytest.mark.parametrize("name", LIBRARY.names())
CALIPERS = {
    "cardstock": Fraction(2413, 10000),
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(127, 1000),
}
EDGE = Fraction(254, 10) * Fraction(17, 4)  #: of a page that a fragment is for: 4 1/4 in
MOST_LINES = {"page": 40, "insert": 40, "case": 60, "edge": 60, "fold": 60}
NEAR = 1e-6  #: mm or mm2
SHEET = """
template = "sheet"
kind = "page"
units = "in"
[parts.page]
bound = "left | right"
columns = [4, 4]
rows = ["4 1/4 : left right"]
folds = { "left | right" = "valley" }
"""


@dataclass(frozen=True)
class Case:
    """A template with one parameter changed; *words* tell which, and to what."""

    words: str
    arguments: dict[str, Value]


@cache
def resolved(name: str):
    template = LIBRARY.find(name)
    outer = {f"{role}.caliper": length(mm) for role, mm in CALIPERS.items()}
    if template.kind in ("edge", "fold"):
        outer["length"] = length(EDGE)
    document = template.fresh_document()
    found = resolve(template.parameters, template.derived, {}, outer, template.units, document.root)
    document.settle()
    choices = frozenset(choice for p in template.parameters for choice in p.choices)
    return found, Scope({**outer, **found.values}, template.units, choices)


def ends_of(name: str, parameter) -> list[Value]:
    """Return the values at both ends of a parameter's range, or all of its choices."""
    _, scope = resolved(name)
    if parameter.type is ParameterType.FLAG:
        return [flag(False), flag(True)]
    if parameter.type is ParameterType.CHOICE:
        return [word(choice) for choice in parameter.choices]
    limits = [raw for raw in (parameter.min, parameter.max) if raw is not None]
    if parameter.type is ParameterType.LENGTH:
        return [length(size_of(raw, scope)) for raw in limits]
    if parameter.type is ParameterType.ANGLE:
        return [number(number_of(raw, scope)) for raw in limits]
    return [number(number_of(raw, scope) // 1) for raw in limits]


@cache
def cases(name: str) -> tuple[Case, ...]:
    found = [Case("its defaults", {})]
    for parameter in LIBRARY.find(name).parameters:
        for value in ends_of(name, parameter):
            words = f"{parameter.name} = {value.shown('in')}"
            found.append(Case(words, {parameter.name: value}))
    return tuple(found)


def made(name: str, case: Case) -> tuple[Part, ...]:
    """Return the parts of a template, or of a page that a fragment is grafted onto."""
    template = LIBRARY.find(name)
    if template.kind == "edge":
        return build_fragment(Graft(template, case.arguments), EDGE, CALIPERS)
    if template.kind == "fold":
        sheet = template_from_text(SHEET, "sheet.toml")
        return build(sheet, {}, CALIPERS, Graft(template, case.arguments)).parts
    return build(template, case.arguments, CALIPERS).parts


@cache
def outcome(name: str) -> tuple[tuple[tuple[str, Part], ...], tuple[str, ...]]:
    """Return all parts of a template in all its cases, with words that tell which; then what failed."""
    parts: list[tuple[str, Part]] = []
    failed = []
    for case in cases(name):
        try:
            parts += [(f"{part.name}, with {case.words}", part) for part in made(name, case)]
        except (TemplateError, ArgumentRefused) as problem:
            failed.append(f"{case.words}: {problem}")
    return tuple(parts), tuple(failed)


def every_part(name: str) -> tuple[tuple[str, Part], ...]:
    return outcome(name)[0]


def polygon(outline: Path, holes=()) -> Polygon:
    return Polygon(flattened(outline), [flattened(hole) for hole in holes])


def area_of(paths) -> Fraction | float:
    """Return the area inside a first path less that of the others, however they run."""
    outer, *holes = (abs(signed_area(path)) for path in paths)
    return outer - sum(holes, Fraction(0))


def test_there_are_templates_of_every_kind_that_a_book_needs():
    kinds = {template.kind for template in LIBRARY.templates()}
    assert {"page", "insert", "case", "edge"} <= kinds


@EVERY
def test_it_says_what_it_is_and_what_each_parameter_is_for(name):
    template = LIBRARY.find(name)
    assert template.help.endswith(".")
    assert [p.name for p in template.parameters if not p.help] == []


@EVERY
def test_it_is_short_enough_to_be_read_at_a_glance(name):
    template = LIBRARY.find(name)
    assert len(template.document.text.splitlines()) <= MOST_LINES[template.kind]


@EVERY
def test_every_length_count_and_angle_has_two_ends(name):
    unlimited = [
        p.name
        for p in LIBRARY.find(name).parameters
        if p.type not in (ParameterType.FLAG, ParameterType.CHOICE) and None in (p.min, p.max)
    ]
    assert unlimited == []


@EVERY
def test_it_makes_parts_at_both_ends_of_every_range(name):
    parts, failed = outcome(name)
    assert failed == ()
    assert len(parts) >= len(cases(name))


@EVERY
def test_the_outline_is_one_simple_ring_with_its_openings_inside(name):
    for words, part in every_part(name):
        exterior, *interiors = part.outline
        assert all(ring.closed for ring in part.outline), words
        assert signed_area(exterior) > 0, words
        assert all(signed_area(ring) < 0 for ring in interiors), words
        assert polygon(exterior, interiors).is_valid, words
        holes = [polygon(ring) for ring in interiors]
        assert all(polygon(exterior).covers(hole) for hole in holes), words


@EVERY
def test_the_areas_of_the_panels_add_up_to_that_of_the_outline(name):
    for words, part in every_part(name):
        panels = sum(area_of([p.outline, *p.holes]) for p in part.panels)
        outline = area_of(part.outline)
        is_exact = isinstance(panels, Fraction) and isinstance(outline, Fraction)
        assert abs(panels - outline) <= (0 if is_exact else 1e-3), words


@EVERY
def test_no_two_panels_overlap(name):
    for words, part in every_part(name):
        shapes = [polygon(p.outline, p.holes) for p in part.panels]
        assert all(shape.is_valid for shape in shapes), words
        first, second = STRtree(shapes).query(shapes, predicate="intersects")
        common = (
            shapes[i].intersection(shapes[k]).area
            for i, k in zip(first, second, strict=True)
            if i < k
        )
        assert max(common, default=0) < NEAR, words


@EVERY
def test_every_fold_slit_and_line_lies_inside_the_part(name):
    for words, part in every_part(name):
        whole = polygon(part.outline[0]).buffer(1e-3)
        paths = [piece for line in part.lines for piece in line.pieces]
        paths += [stroke.path for stroke in part.strokes]
        assert all(whole.covers(LineString(flattened(path))) for path in paths), words


@EVERY
def test_every_zone_of_tape_lies_on_its_panel_and_leaves_something_of_it(name):
    for words, part in every_part(name):
        for zone in part.zones:
            panel = part.panel(zone.panel)
            assert signed_area(zone.path) > 0, words
            on = polygon(panel.outline, panel.holes).buffer(1e-3)
            assert on.covers(polygon(zone.path)), f"{words}: {zone.name}"


@EVERY
def test_no_fold_is_scored_twice(name):
    for words, part in every_part(name):
        pieces = [piece for line in part.lines for piece in line.pieces]
        lines = [LineString(flattened(piece)) for piece in pieces]
        shared = (a.intersection(b).length for a, b in combinations(lines[:40], 2))
        assert max(shared, default=0) < NEAR, words


@EVERY
def test_it_folds_without_tearing(name):
    for words, part in every_part(name):
        if not all(line.is_straight for line in part.folds):
            continue
        panels = {panel.name: panel.outline for panel in part.panels}
        torn = [
            (str(r.key), r.stage)
            for r in residuals(panels, part.lines, part.steps, rigid=part.rigid)
            if not r.is_closed
        ]
        assert torn == [], words


@EVERY
def test_every_step_moves_folds_that_there_are(name):
    for words, part in every_part(name):
        keys = {line.key for line in part.lines if line.kind is LineKind.FOLD}
        assert all(key in keys for step in part.steps for key, _ in step.angles_deg), words


@EVERY
def test_its_drawing_is_the_same_to_the_byte_each_time(name):
    def drawn() -> str:
        parts = made(name, Case("its defaults", {}))
        return write_svg(parts_drawing([(f"p{i}", p.name, p) for i, p in enumerate(parts)], name))

    assert drawn() == drawn()


PAGES = pytest.mark.parametrize(
    "name", [template.name for template in LIBRARY.templates() if template.kind == "page"]
)


@PAGES
def test_a_page_takes_its_size_from_the_book(name):
    types = {p.name: p.type for p in LIBRARY.find(name).parameters}
    assert (types["width"], types["height"]) == (ParameterType.LENGTH, ParameterType.LENGTH)


@PAGES
def test_a_page_is_bound_at_one_edge_as_long_as_the_page_is_high(name):
    for case in cases(name):
        built: Built = build(LIBRARY.find(name), case.arguments, CALIPERS)
        bound = [part.bound for part in built.parts if part.bound]
        assert len(bound) == 1
        assert bound[0].side in ("left", "fold"), case.words
        height = built.resolved.values["height"].amount
        assert distance(bound[0].start, bound[0].end) == height, case.words


@PAGES
def test_a_page_knows_the_usual_sizes_by_their_names_only(name):
    """A parameter that the book sets is called as the book calls it."""
    usual = {"photo_width", "seam_tab", "page_width", "page_height", "thumb", "gusset"}
    assert usual & {p.name for p in LIBRARY.find(name).parameters} == set()

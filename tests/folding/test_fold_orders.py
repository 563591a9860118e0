"""The order of layers of an example of the FOLD specification 1.2 (github.com/edemaine/fold, MIT)."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from folded_parts_of import built_in

from dielines.folding.flat_order import orders
from dielines.folding.folded_part import outlines_of
from dielines.folding.folded_parts import fold_part
from dielines.folding.layering import Outcome
from dielines.folding.meeting import Sheet
from dielines.folding.planes import flat_states
from dielines.hinges import skeleton
from dielines.part import FoldKey, Line, LineKind, Panel
from dielines.paths import Point, line, polyline

DATA = Path(__file__).parents[1] / "outside" / "data" / "fold"
SCALE = 100  #: the example is 1 by 1


def example(name):
    return json.loads((DATA / f"{name}.fold").read_text("utf-8"))


def part_of(sheet):
    """Return the crease pattern of a FOLD file as a part, its faces f0, f1 ..."""
    at = [Point(Fraction(x) * SCALE, Fraction(y) * SCALE) for x, y in sheet["vertices_coords"]]
    panels = tuple(
        Panel(f"f{n}", polyline([at[v] for v in face], closed=True))
        for n, face in enumerate(sheet["faces_vertices"])
    )
    lines = []
    for number, ends in enumerate(sheet["edges_vertices"]):
        faces = [n for n, edges in enumerate(sheet["faces_edges"]) if number in edges]
        if len(faces) == 2:
            angle = Fraction(sheet["edges_foldAngle"][number])
            key = FoldKey(f"f{faces[0]}", "-", f"f{faces[1]}")
            lines.append(Line(key, LineKind.FOLD, angle, (line(*(at[v] for v in ends)),)))
    return replace(
        built_in("plain-leaf"),
        panels=panels,
        lines=tuple(lines),
        outline=(polyline(at, closed=True),),
        zones=(),
        strokes=(),
        bound=None,
    )


def test_the_diagonal_example_has_its_second_face_on_the_front_of_the_first():
    """FOLD's faceOrders would say [1, 0, 1]: face 1 above face 0, whose front looks up."""
    folded = fold_part(part_of(example("diagonal-cp")), "f0")
    assert folded.layering.outcome is Outcome.ONE
    assert dict(folded.layering.sides) == {("f0", "f1"): 1, ("f1", "f0"): 1}
    places = example("diagonal-folded")["vertices_coords"]
    for number, face in enumerate(example("diagonal-cp")["faces_vertices"]):
        flat = [example("diagonal-cp")["vertices_coords"][v] for v in face]
        placed = [folded.poses[f"f{number}"].at((x * SCALE, y * SCALE)) for x, y in flat]
        assert placed == [(places[v][0] * SCALE, places[v][1] * SCALE, 0) for v in face]


def test_constraints_alone_leave_the_same_order():
    part = part_of(example("diagonal-cp"))
    folded = fold_part(part, "f0")
    sheet = Sheet(outlines_of(part), skeleton(outlines_of(part), part.lines, "f0"))
    (flat,) = flat_states(part, sheet, folded.poses)
    assert list(orders(flat)) == [folded.layering.sides]

"""Which line of a part goes on which layer, in which order, and where.

The order (inner cuts and scores before the outline that holds them) is common
practice; the layers are this project's own.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.drawing import Layer
from dielines.part import (
    FoldKey,
    Lettering,
    Line,
    LineKind,
    Panel,
    Part,
    Purpose,
    Side,
    Stroke,
    Zone,
)
from dielines.part_drawing import key_from, part_drawing, part_group, parts_drawing, score_layer
from dielines.paths import Point, bounds_of, circle, line, rectangle, reversed_path

F = Fraction
WIDTH, HEIGHT = F(200, 3), F(300, 7)


def fold(first: str, second: str, angle, x, kind=LineKind.FOLD) -> Line:
    return Line(FoldKey(first, "|", second), kind, angle, (line((x, 0), (x, HEIGHT)),))


def part() -> Part:
    hole = reversed_path(circle((F(5), F(5)), F(4, 3)))
    return Part(
        name="page",
        template="leaf",
        version=3,
        stock="cardstock",
        grain="up",
        quantity=1,
        panels=(Panel("a", rectangle(0, 0, WIDTH, HEIGHT)),),
        lines=(
            fold("a", "b", F(180), 10),
            fold("b", "c", F(-1, 3), 20),
            fold("c", "d", F(0), 30),
            fold("d", "e", F(0), 40, LineKind.SLIT),
            fold("e", "f", F(0), 50, LineKind.PERFORATE),
        ),
        outline=(rectangle(0, 0, WIDTH, HEIGHT), hole),
        strokes=(
            Stroke("a", Purpose.CUT, line((1, 1), (2, 3)), name="slit"),
            Stroke("a", Purpose.SCORE, line((1, 4), (2, 5)), F(-5)),
            Stroke("a", Purpose.PERFORATE, line((1, 6), (2, 7))),
            Stroke("a", Purpose.MARK, line((1, 8), (2, 9)), name="glue"),
        ),
        zones=(
            Zone("seam", "a", Side.FACE, rectangle(1, 10, 5, 12)),
            Zone("back", "a", Side.REVERSE, rectangle(1, 13, 5, 15)),
        ),
        lettering=(Lettering("a", "leaf", Point(F(7), F(8)), F(10, 3)),),
    )


def test_each_line_lies_on_its_layer():
    found = {(item.layer, item.name) for item in part_group(part(), "page", "Page").items}
    assert found == {
        (Layer.SCORE_VALLEY, "a | b"),
        (Layer.SCORE_MOUNTAIN, "b | c"),
        (Layer.SCORE_VALLEY, "c | d"),
        (Layer.CUT, "d | e"),
        (Layer.PERFORATE, "e | f"),
        (Layer.CUT, "slit"),
        (Layer.SCORE_MOUNTAIN, ""),
        (Layer.PERFORATE, ""),
        (Layer.MARK, "glue"),
        (Layer.TAPE_FACE, "seam"),
        (Layer.TAPE_REVERSE, "back"),
        (Layer.CUT, "opening"),
        (Layer.CUT, "outline"),
    }


@pytest.mark.parametrize(
    ("angle", "layer"),
    [
        (F(1, 1000), Layer.SCORE_VALLEY),
        (F(0), Layer.SCORE_VALLEY),
        (F(-1, 1000), Layer.SCORE_MOUNTAIN),
        (-180, Layer.SCORE_MOUNTAIN),
    ],
)
def test_the_sign_of_a_fold_is_its_layer(angle, layer):
    assert score_layer(angle) is layer


def test_scores_and_inner_cuts_come_before_the_outline():
    order = [(item.layer, item.name) for item in part_group(part(), "page", "Page").items]
    cuts = [name for layer, name in order if layer is Layer.CUT]
    assert cuts == ["slit", "d | e", "opening", "outline"]
    scores = [i for i, (layer, _) in enumerate(order) if layer.name.startswith("SCORE")]
    assert max(scores) < order.index((Layer.CUT, "slit"))


def test_a_part_is_drawn_at_its_place_exactly():
    group = part_group(part(), "page", "Page", Point(F(10, 3), F(20, 7)))
    box = bounds_of(item.path for item in group.items if item.name == "outline")
    assert tuple(box) == (F(10, 3), F(20, 7), F(10, 3) + WIDTH, F(20, 7) + HEIGHT)
    (caption,) = group.captions
    assert (caption.layer, caption.text, caption.at) == (
        Layer.LABEL,
        "leaf",
        (F(7) + F(10, 3), F(8) + F(20, 7)),
    )
    assert caption.height == pytest.approx(10 / 3)


def test_the_drawing_of_a_part_is_as_large_as_the_part():
    drawing = part_drawing(part(), "Page", (("template", "leaf"),))
    assert (drawing.width, drawing.height) == pytest.approx((200 / 3, 300 / 7))
    assert (drawing.title, drawing.metadata) == ("Page", (("template", "leaf"),))
    assert [group.key for group in drawing.groups] == ["page"]


def test_arcs_of_the_outline_stay_true():
    opening = next(i for i in part_group(part(), "page", "Page").items if i.name == "opening")
    assert [abs(vertex.bulge) for vertex in opening.path.vertices] == [1, 1]


def test_many_parts_stand_apart_on_one_page():
    small = replace(
        part(), outline=(rectangle(0, 0, 20, 10),), panels=(), lines=(), strokes=(), zones=()
    )
    parts = [(f"p{i}", f"Part {i}", small if i % 2 else part()) for i in range(7)]
    drawing = parts_drawing(parts, "All", gap=F(10, 3))
    boxes = [bounds_of(item.path for item in group.items) for group in drawing.groups]
    assert [group.key for group in drawing.groups] == [key for key, _, _ in parts]
    for i, a in enumerate(boxes):
        assert min(a.left, a.bottom) >= 0
        assert (a.right <= drawing.width + 1e-9, a.top <= drawing.height + 1e-9) == (True, True)
        for b in boxes[:i]:
            across = max(a.left, b.left) - min(a.right, b.right)
            up = max(a.bottom, b.bottom) - min(a.top, b.top)
            assert max(across, up) >= F(10, 3)
    assert max(float(b.right) for b in boxes) == pytest.approx(drawing.width)
    assert max(float(b.top) for b in boxes) == pytest.approx(drawing.height)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("page", "page"),
        ("leaf 2", "leaf-2"),
        ("2 leaf", "part-2-leaf"),
        ("a/b|c", "a-b-c"),
        ("", "part-"),
    ],
)
def test_names_become_valid_xml_names(name, key):
    assert key_from(name) == key

"""Groups, use, viewports, hidden things: what is drawn, where, and what is left out."""

import math

import pytest

from dielines.drawing import Layer
from dielines.errors import ForeignFileError
from dielines.formats.svg import bounds
from dielines.formats.svg.reading import read_svg
from dielines.paths import bounds_of

NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
DOT = '<path d="M0 0L1 1"/>'
SQUARE = '<rect width="10" height="10"/>'


def reading(inside: str, attributes: str = 'width="200mm" height="100mm" viewBox="0 0 200 100"'):
    return read_svg(f"<svg {NS} {attributes}>{inside}</svg>".encode(), "test.svg")


def boxes(inside: str) -> list[tuple[float, ...]]:
    """Return left, top, width and height of each path in user units, which are mm."""
    found = []
    for item in reading(inside).drawing.items():
        box = bounds_of([item.path])
        found.append((box.left, 100 - box.top, box.width, box.height))
    return found


def same(found, *expected) -> bool:
    return len(found) == len(expected) and all(
        math.dist(a, b) < 1e-9 for a, b in zip(found, expected, strict=True)
    )


def remarks(inside: str) -> set[str]:
    return set(reading(inside).remark_codes()) - {"unknown-layer"}


# Transforms: SVG 2, coords.html; expected places worked out by hand.
@pytest.mark.parametrize(
    ("transform", "box"),
    [
        ("translate(5)", (5, 0, 10, 10)),
        ("translate(5,7)", (5, 7, 10, 10)),
        ("translate(5 7)scale(2)", (5, 7, 20, 20)),
        ("scale(2 3) , translate(1 1)", (2, 3, 20, 30)),
        ("rotate(90)", (-10, 0, 10, 10)),
        ("rotate(90 10 10)", (10, 0, 10, 10)),
        ("rotate(-270,10,10)", (10, 0, 10, 10)),
        ("matrix(0 1 -1 0 30 40)", (20, 40, 10, 10)),
        ("skewX(45)", (0, 0, 20, 10)),
        ("skewY(-45)", (0, -10, 10, 20)),
        ("  \n", (0, 0, 10, 10)),
        ("none", (0, 0, 10, 10)),
    ],
)
def test_transforms_move_shapes_and_groups_alike(transform, box):
    assert same(boxes(f'<rect width="10" height="10" transform="{transform}"/>'), box)
    assert same(boxes(f'<g transform="{transform}"><g>{SQUARE}</g></g>'), box)


def test_transforms_of_groups_come_after_those_within():
    inside = f'<g transform="translate(10 0)"><g transform="scale(2)">{SQUARE}</g></g>'
    assert same(boxes(inside), (10, 0, 20, 20))


def test_a_transform_in_the_style_attribute_has_units():
    style = "transform: translate(10px, 1mm) rotate(0.25turn)"
    inside = f'<rect width="10" height="10" style="{style}" transform="scale(9)"/>'
    assert same(boxes(inside), (0, 96 / 25.4, 10, 10))


@pytest.mark.parametrize(
    "transform",
    ["scale(1 2 3)", "scale", "scale()", "spin(4)", "rotate(1 2)", "translate(1 x)", "scale(2) #",
     "translate(1em)", "matrix(1 2 3)", "scale(1e999)"],
)  # fmt: skip
def test_a_broken_transform_is_left_out_and_remarked_on(transform):
    inside = f'<rect width="10" height="10" transform="{transform}"/>'
    assert same(boxes(inside), (0, 0, 10, 10))
    assert remarks(inside) == {"broken-transform"}


def test_use_draws_again_where_it_says():
    inside = f'<g id="a">{SQUARE}</g><use href="#a" x="20" y="30" transform="scale(2)"/>'
    assert same(boxes(inside), (0, 0, 10, 10), (40, 60, 20, 20))
    assert same(boxes(inside.replace(" href", " xlink:href")), (0, 0, 10, 10), (40, 60, 20, 20))


def test_definitions_are_drawn_only_where_they_are_used():
    inside = f'<defs><rect id="a" width="10" height="10"/>{SQUARE}</defs><use href="#a" x="5"/>'
    assert same(boxes(inside), (5, 0, 10, 10))


def test_a_symbol_is_a_viewport_of_the_size_that_use_gives():
    symbol = f'<symbol id="a" viewBox="0 0 20 20">{SQUARE}</symbol>'
    assert same(boxes(symbol))
    inside = f'{symbol}<use href="#a" x="50" width="40" height="60"/>'
    assert same(boxes(inside), (50, 10, 20, 20))


@pytest.mark.parametrize(
    ("inside", "code"),
    [
        ('<use href="#a"/>', "broken-reference"),
        ("<use/>", "broken-reference"),
        ('<use href="other.svg#a"/>', "external-reference"),
        ('<use href="http://localhost:1/a.svg#a"/>', "external-reference"),
        ('<g id="a"><use href="#a"/></g>', "broken-reference"),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "broken-reference"),
        (
            f'<clipPath id="a">{SQUARE}</clipPath><g clip-path="url(#a)">{DOT}</g>',
            "clipping-left-out",
        ),
        (f'<mask id="a">{SQUARE}</mask><path mask="url(#a)" d="M0 0L1 1"/>', "clipping-left-out"),
        ("<text>words</text>", "text-left-out"),
        ('<image href="http://localhost:1/a.png"/>', "picture-left-out"),
        (f"<foreignObject>{SQUARE}</foreignObject>", "foreign-content-left-out"),
        ("<style>path {display: none}</style>", "stylesheet-left-out"),
        ("<defs><style/></defs>", "stylesheet-left-out"),
        ("<script>alert(1)</script>", "script-left-out"),
        (f'<g>{DOT}<animate attributeName="d"/></g>', "animation-left-out"),
        ('<path style="transform-origin: 5px 5px" d="M0 0L1 1"/>', "unknown-property"),
        ('<path d="M0 0L1 1L"/>', "broken-shape"),
        ('<rect width="0" height="5"/>', "broken-shape"),
        ('<polygon points="0,0 5,5 9"/>', "broken-shape"),
        ('<g display="none"><path d="M0 0L1 1"/></g>', "hidden-left-out"),
        ('<path style="display:none" d="M0 0L1 1"/>', "hidden-left-out"),
        ('<g visibility="hidden"><path d="M0 0L1 1"/></g>', "hidden-left-out"),
        ('<path visibility="collapse" d="M0 0L1 1"/>', "hidden-left-out"),
    ],
)
def test_what_is_not_followed_is_remarked_on(inside, code):
    assert remarks(inside) == {code}


@pytest.mark.parametrize(
    "inside",
    [
        f"<defs>{SQUARE}</defs>",
        f"<clipPath>{SQUARE}</clipPath>",
        f"<mask>{SQUARE}</mask>",
        f"<pattern>{SQUARE}</pattern>",
        f"<marker>{SQUARE}</marker>",
        f"<symbol>{SQUARE}</symbol>",
        f"<metadata>{SQUARE}</metadata>",
        f"<unknown>{SQUARE}</unknown>",
        f'<g display="none">{SQUARE}</g>',
        f'<g style="visibility: hidden">{SQUARE}</g>',
        f'<svg width="0" height="9">{SQUARE}</svg>',
        "<text><path d='M0 0L1 1'/></text>",
    ],
)
def test_what_is_not_drawn_is_not_read(inside):
    assert not reading(inside).drawing.items()


def test_what_is_visible_within_what_is_hidden_is_read():
    inside = f'<g visibility="hidden">{SQUARE}<g visibility="visible">{SQUARE}</g></g>'
    assert len(boxes(inside)) == 1


def test_a_switch_draws_one_child_that_needs_nothing_special():
    inside = (
        f'<switch><foreignObject requiredExtensions="x">{DOT}</foreignObject>'
        f'<g systemLanguage="de">{DOT}</g><g systemLanguage="en-GB">{SQUARE}</g><g>{DOT}</g></switch>'
    )
    assert same(boxes(inside), (0, 0, 10, 10))


def test_a_viewport_within_fits_its_view_box():
    inside = f'<svg x="10" y="20" width="40" height="20" viewBox="0 0 10 10">{SQUARE}</svg>'
    assert same(boxes(inside), (20, 20, 20, 20))


def test_percentages_are_of_the_viewport_they_stand_in():
    half = '<rect x="10%" y="10%" width="50%" height="50%"/>'
    assert same(boxes(half), (20, 10, 100, 50))
    inside = f'<svg width="50%" height="50%" viewBox="0 0 50 25">{half}</svg>'
    assert same(boxes(inside), (10, 5, 50, 25))


def test_other_percentages_are_of_the_diagonal_over_root_two():
    # SVG 2, coords.html: 1% of 4000 x 2000 is 31.62
    found = reading('<circle r="1%"/>', 'width="400mm" height="200mm" viewBox="0 0 4000 2000"')
    box = bounds_of(item.path for item in found.drawing.items())
    assert float(box.width) * 10 / 2 == pytest.approx(31.62, abs=0.005)


@pytest.mark.parametrize(
    ("width", "expected"),
    [("2em", 40), ("2ex", 20), ("2ch", 20), ("2rem", 32), ("10vw", 20), ("10vh", 10),
     ("10vmin", 10), ("10vmax", 20), ("1in", 96), ("1cm", 96 / 2.54), ("25.4mm", 96),
     ("101.6Q", 96), ("72pt", 96), ("6pc", 96), ("7px", 7), ("7", 7)],
)  # fmt: skip
def test_lengths_may_stand_in_any_unit(width, expected):
    inside = f'<g font-size="20"><rect width="{width}" height="1"/></g>'
    assert same(boxes(inside), (0, 0, expected, 1))


@pytest.mark.parametrize(
    ("radii", "expected"),
    [('rx="2"', (2, 2)), ('ry="3"', (3, 3)), ('rx="2" ry="-1"', (2, 2)), ('rx="99" ry="1"', (5, 1)),
     ('rx="0" ry="4"', None), ('rx="-1" ry="-1"', None), ('rx="99"', (5, 4))],
)  # fmt: skip
def test_corners_of_rectangles_are_rounded_as_svg_says(radii, expected):
    inside = f'<rect width="10" height="8" {radii}/>'
    (item,) = reading(inside).drawing.items()
    assert same(boxes(inside), (0, 0, 10, 8))
    if expected is None:
        assert len(item.path.vertices) == 4
    else:
        rx, ry = expected
        tops = [p.x for p in item.path.points if p.y > 100 - 1e-9]
        sides = [100 - p.y for p in item.path.points if p.x < 1e-9]
        assert min(tops) == pytest.approx(rx)
        assert min(sides) == pytest.approx(ry)


def test_shapes_come_back_as_what_they_are():
    inside = (
        '<circle cx="50" cy="50" r="7"/><ellipse cx="50" cy="50" rx="7" ry="7"/>'
        '<ellipse cx="50" cy="50" rx="8" ry="3"/><line x1="1" y1="2" x2="3" y2="4"/>'
        '<polyline points="0,0 5,5 9,1"/><polygon points="0,0 5,5 9,1"/><rect width="5" height="4"/>'
    )
    items = reading(inside).drawing.items()
    counts = [len(item.path.vertices) for item in items]
    assert counts[:2] == [2, 2]
    assert counts[2] > 20
    assert counts[3:] == [2, 3, 3, 4]
    assert [item.path.closed for item in items] == [True] * 3 + [False, False, True, True]


def test_layers_are_named_by_label_id_or_title_of_the_innermost_group():
    inside = (
        f'<g id="outer">{DOT}<g>{DOT}</g><g id="inner">{DOT}</g></g>'
        f'<g id="g1" xmlns:x="http://example.org/" x:label="Deep">{DOT}</g>'
        f"<g><title>Said</title>{DOT}</g>{DOT}"
    )
    found = reading(inside)
    assert found.source_layers == ("outer", "outer", "inner", "Deep", "Said", "")
    assert {item.layer for item in found.drawing.items()} == {Layer.MARK}


def test_a_group_called_like_a_layer_of_ours_is_that_layer():
    inside = f'<g id="cut"><g id="x">{DOT}</g></g><g><title>Score_Valley</title>{DOT}</g>'
    found = reading(inside)
    assert [item.layer for item in found.drawing.items()] == [Layer.CUT, Layer.SCORE_VALLEY]
    assert found.source_layers == ("cut", "Score_Valley")
    assert "unknown-layer" not in found.remark_codes()


def test_layers_of_files_that_mix_parts_stay_in_step_with_their_paths():
    inside = (
        f'<g data-part="a" data-layer="CUT">{DOT}</g><g data-part="b" data-layer="MARK">{DOT}</g>'
        f'<g data-part="a" data-layer="odd">{DOT}</g>'
    )
    found = reading(inside)
    assert found.source_layers == ("CUT", "odd", "MARK")
    layers = [item.layer for item in found.drawing.items()]
    assert layers == [Layer.CUT, Layer.MARK, Layer.MARK]


@pytest.mark.parametrize("key", ["1 a", "", "<>", "ä", "a b", "-x"])
def test_keys_of_parts_are_valid_names_whatever_the_file_says(key):
    escaped = key.replace("<", "&lt;")
    (group,) = reading(f'<g data-part="{escaped}">{DOT}</g>').drawing.groups
    assert group.key.isascii()
    assert group.key[0].isalpha() or group.key[0] == "_"
    assert not set(group.key) & set(" <>")


def test_parts_whose_names_become_the_same_key_stay_apart():
    inside = f'<g data-part="a b">{DOT}</g><g data-part="a_b">{DOT}</g>'
    keys = [group.key for group in reading(inside).drawing.groups]
    assert len(set(keys)) == 2


def expanding(depth: int) -> str:
    groups = "".join(
        f'<g id="g{i}">' + f'<use href="#g{i - 1}"/>' * 10 + "</g>" for i in range(1, depth)
    )
    return f'<defs><g id="g0">{DOT}</g>{groups}</defs><use href="#g{depth - 1}"/>'


def test_use_that_grows_without_end_is_stopped():
    with pytest.raises(ForeignFileError) as caught:
        reading(expanding(12))
    assert [fault.code for fault in caught.value.faults] == ["too-many-elements"]


def test_a_chain_of_uses_is_stopped():
    chain = "".join(f'<g id="g{i}"><use href="#g{i + 1}"/></g>' for i in range(2000))
    with pytest.raises(ForeignFileError) as caught:
        reading(f'<defs>{chain}</defs><use href="#g0"/>')
    assert [fault.code for fault in caught.value.faults] == ["too-deep"]


def test_all_shapes_out_of_range_are_told_at_once_with_their_places():
    inside = '\n<path d="M0 0L9e9 1"/>\n<g>\n<line id="long" x2="1e14"/></g>' + DOT
    with pytest.raises(ForeignFileError) as caught:
        reading(inside)
    faults = caught.value.faults
    assert [(f.line, f.field, f.code) for f in faults] == [
        (2, "path", "number-out-of-range"),
        (4, "long", "number-out-of-range"),
    ]


@pytest.mark.parametrize(
    "transform", ["scale(1e14)", "translate(1e14)", "skewX(90)", "matrix(1e14 0 0 1e14 0 0)"]
)
def test_transforms_out_of_range_are_refused(transform):
    nested = f'<g transform="{transform}">' * 30 + "<circle r='5'/>" + DOT + "</g>" * 30
    with pytest.raises(ForeignFileError) as caught:
        reading(nested)
    assert {fault.code for fault in caught.value.faults} == {"number-out-of-range"}


def test_too_many_chords_are_refused(monkeypatch):
    monkeypatch.setattr(bounds.Allowance.__init__, "__defaults__", (1000, 1000))
    with pytest.raises(ForeignFileError) as caught:
        reading('<path d="M0 0C0 9e5 9e5 9e5 9e5 0"/>')
    assert [fault.code for fault in caught.value.faults] == ["too-much-path"]

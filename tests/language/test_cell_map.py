"""Maps of columns, rows and cells: what panels and lines they become, to the exact fraction.

Thirds and sevenths of a millimetre, so that nothing comes out even by luck. All
is plane geometry and this project's own language, but for the worked check of
the side pocket, which is common practice with no source.
"""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build
from dielines.language.template import template_from_text
from dielines.part import LineKind
from dielines.paths import Bounds, bounds_of, signed_area

CALIPERS = {"cardstock": Fraction(2, 7), "reinforcing": Fraction(1, 7)}
INCH = Fraction(254, 10)
HEAD = 'template = "leaf"\nkind = "insert"\nunits = "mm"\n'


def part_of(text: str, head: str = HEAD, **arguments):
    return build(template_from_text(head + text, "leaf.toml"), arguments, CALIPERS).parts[0]


def codes(text: str, head: str = HEAD) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        part_of(text, head)
    return [fault.code for fault in caught.value.faults]


def boxes(part) -> dict[str, Bounds]:
    return {panel.name: panel.bounds() for panel in part.panels}


def from_lowest(path) -> list[tuple]:
    """The corners of a ring from its lowest and then leftmost one on."""
    points = [tuple(point) for point in path.points]
    first = min(range(len(points)), key=lambda i: points[i][::-1])
    return points[first:] + points[:first]


def rules(part) -> dict[str, tuple]:
    return {str(line.key): (line.kind, line.angle_deg) for line in part.lines}


def pieces(part, key: str) -> list[tuple]:
    line = next(line for line in part.lines if str(line.key) == key)
    return sorted(tuple(sorted(map(tuple, piece.points))) for piece in line.pieces)


# --- rows and columns


def test_columns_run_from_the_left_and_rows_from_the_top():
    part = part_of("""[parts.leaf]
columns = ["100 / 3", "50 / 7"]
rows = ["20 / 3 : a b", "30 / 7 : . c"]
folds = { "* | *" = 90, "* / *" = -90 }""")
    left, low = Fraction(100, 3), Fraction(30, 7)
    right, top = left + Fraction(50, 7), low + Fraction(20, 3)
    assert boxes(part) == {
        "a": (0, low, left, top), "b": (left, low, right, top), "c": (left, 0, right, low),
    }  # fmt: skip
    assert pieces(part, "b / c") == [((left, low), (right, low))]
    assert (part.width, part.height) == (right, top)
    assert from_lowest(part.outline[0]) == [
        (left, 0), (right, 0), (right, top), (0, top), (0, low), (left, low),
    ]  # fmt: skip


OPTIONAL = """[parameters]
pull = {{ type = "length", default = {pull} }}
[parts.leaf]
mouth = {{ pull = "right", card = "bottom" }}
columns = [70, "pull"]
rows = ["pull / 3 : head .", "100 / 7 : card pull"]
edits = [
  {{ round = "pull", corner = "right", radius = "pull / 3" }},
  {{ tape = "card", side = "face", edge = "right", width = 1, onto = "pull" }},
  {{ hole = ["card", "head"], at = [1, "1 / 3"], diameter = "1 / 3" }},
]
steps = ["card | pull", "head / card to 20, head / card"]
[parts.leaf.folds]
"card | pull" = 180
"head / card" = 90
"""


def test_a_row_or_column_of_size_0_vanishes_with_all_that_is_said_of_it():
    part = part_of(OPTIONAL.format(pull=0))
    assert boxes(part) == {"card": (0, 0, 70, Fraction(100, 7))}
    assert (part.lines, part.zones, part.steps) == ((), (), ())
    assert [(mouth.panel, mouth.side) for mouth in part.mouths] == [("card", "bottom")]
    assert len(part.outline) == 2


def test_the_same_row_and_column_are_there_at_any_other_size():
    part = part_of(OPTIONAL.format(pull='"30 / 7"'))
    pull, low = Fraction(30, 7), Fraction(100, 7)
    assert boxes(part)["pull"] == (70, 0, 70 + pull, low)
    assert boxes(part)["head"] == (0, low, 70, low + pull / 3)
    assert [zone.onto for zone in part.zones] == ["pull"]
    assert len(part.outline) == 3
    assert len(part.steps) == 2


@pytest.mark.parametrize(("wide", "names"), [(0, {"a", "c"}), ("1 / 7", {"a", "b", "c"})])
def test_panels_on_both_sides_of_a_column_of_0_touch(wide, names):
    part = part_of(f"""[parts.leaf]
columns = [10, "{wide}", "20 / 3"]
rows = ["9 : a b c"]
folds = {{ "a | *" = 45, "b | c" = 30 }}""")
    assert {panel.name for panel in part.panels} == names
    assert rules(part)["a | c" if wide == 0 else "a | b"] == (LineKind.FOLD, 45)
    assert part.width == 10 + Fraction(20, 3) + (0 if wide == 0 else Fraction(1, 7))


# --- repeats


def test_columns_repeat_with_their_cells_and_count_from_1():
    part = part_of("""[parts.leaf]
columns = [5, { repeat = 3, columns = ["i * 10 mm / 3", "2 * caliper"] }, 7]
rows = ["11 : end1 ( up# down# ) end2"]
folds = { "* | *" = 90 }""")
    widths = [5, *(w for i in (1, 2, 3) for w in (Fraction(10 * i, 3), Fraction(4, 7))), 7]
    names = ["end1", "up1", "down1", "up2", "down2", "up3", "down3", "end2"]
    lefts = [sum(widths[:i]) for i in range(len(widths))]
    assert boxes(part) == {
        name: (left, 0, left + width, 11)
        for name, left, width in zip(names, lefts, widths, strict=True)
    }


def test_rows_repeat_and_know_their_turn():
    part = part_of("""[parts.leaf]
columns = [30]
rows = ["10 / 3 : back", { repeat = 2, rows = ["40 mm / (i + 6) : up#", "i * 1 mm / 3 : down#"] }, "1 : foot"]
folds = { "* / *" = -90 }""")
    heights = {"foot": 1, "down2": Fraction(2, 3), "up2": 5, "down1": Fraction(1, 3),
               "up1": Fraction(40, 7), "back": Fraction(10, 3)}  # fmt: skip
    low, expected = 0, {}
    for name, height in heights.items():
        expected[name] = (0, low, 30, low + height)
        low += height
    assert boxes(part) == expected
    assert list(boxes(part)) == list(reversed(heights))


def test_a_repeat_of_0_leaves_nothing_and_its_names_fall_silent():
    part = part_of("""[parts.leaf]
columns = [5, { repeat = 0, columns = [3] }, 7]
rows = ["11 : a ( fin# ) b", { repeat = 0, rows = ["2 : x y z"] }]
edits = [{ taper = "fin1", inset = 1 }]
folds = { "a | b" = 90, "a | fin1" = 10, "fin* | *" = 20 }""")
    assert rules(part) == {"a | b": (LineKind.FOLD, 90)}


def test_one_name_in_repeated_cells_is_one_panel():
    part = part_of("""[parts.leaf]
columns = [{ repeat = 7, columns = ["i * 1 mm / 7"] }]
rows = ["2 : ( leaf )", "3 : ( leaf )"]""")
    assert boxes(part) == {"leaf": (0, 0, 4, 5)}
    assert from_lowest(part.outline[0]) == [(0, 0), (4, 0), (4, 5), (0, 5)]


def test_a_part_repeats_with_its_number_in_its_name_and_panels():
    built = build(
        template_from_text(HEAD + """[parts."leaf#"]
repeat = 3
quantity = "2 * i"
columns = ["i * 100 mm / 3"]
rows = ["20 : leaf#"]
edits = [{ tape = "leaf#", side = "face", inset = "i * 1 mm / 7" }]"""), {}, CALIPERS)  # fmt: skip
    found = [(p.name, p.panels[0].name, p.width, p.quantity) for p in built.parts]
    assert found == [(f"leaf{i}", f"leaf{i}", Fraction(100 * i, 3), 2 * i) for i in (1, 2, 3)]
    assert bounds_of([built.parts[2].zones[0].path]) == (
        Fraction(3, 7), Fraction(3, 7), 100 - Fraction(3, 7), 20 - Fraction(3, 7),
    )  # fmt: skip


# --- panels of several cells

A, B, C = Fraction(10, 3), Fraction(20, 7), Fraction(5)
GRID = """[parts.leaf]
columns = ["10 / 3", "20 / 7", 5]
rows = [{rows}]
folds = {{ "* / *" = 45, "* | *" = 45 }}"""


def test_the_same_word_in_cells_that_touch_is_an_l():
    part = part_of(GRID.format(rows='"2 : ell . .", "3 : ell ell ell"'))
    end = A + B + C
    assert from_lowest(part.panel("ell").outline) == [
        (0, 0), (end, 0), (end, 3), (A, 3), (A, 5), (0, 5),
    ]  # fmt: skip
    assert part.lines == ()


def test_a_u_touches_what_it_holds_on_three_sides():
    rows = '"2 : u in u", "3 : u u u"'
    part = part_of(GRID.format(rows=rows).replace('"* / *" = 45', '"* / *" = "slit"'))
    end = A + B + C
    assert from_lowest(part.panel("u").outline) == [
        (0, 0), (end, 0), (end, 5), (A + B, 5), (A + B, 3), (A, 3), (A, 5), (0, 5),
    ]  # fmt: skip
    assert pieces(part, "u | in") == [((A, 3), (A, 5))]
    assert pieces(part, "in | u") == [((A + B, 3), (A + B, 5))]
    assert pieces(part, "in / u") == [((A, 3), (A + B, 3))]
    assert rules(part)["in / u"] == (LineKind.SLIT, 0)


def test_a_ring_has_what_it_surrounds_in_its_hole():
    rows = '"2 : rim rim rim", "3 : rim card rim", "4 : rim rim rim"'
    part = part_of(GRID.format(rows=rows))
    rim = part.panel("rim")
    (hole,) = rim.holes
    assert bounds_of([hole]) == (A, 4, A + B, 7)
    assert signed_area(rim.outline) == 9 * (A + B + C)
    assert abs(signed_area(hole)) == 3 * B
    assert len(part.outline) == 1
    assert set(rules(part)) == {"rim / card", "card / rim", "rim | card", "card | rim"}


def test_a_ring_around_a_dot_is_an_opening_of_the_part():
    part = part_of(GRID.format(rows='"2 : rim rim rim", "3 : rim . rim", "4 : rim rim rim"'))
    assert signed_area(part.outline[1]) == -3 * B


def test_the_same_word_in_cells_that_touch_at_a_corner_only_is_told():
    assert codes(GRID.format(rows='"2 : a b b", "3 : b a a"')) == ["apart", "apart"]


def test_cells_with_a_dot_between_them_fall_apart():
    assert codes(GRID.format(rows='"2 : a . b", "3 : . . ."')) == ["falls-apart"]


# --- what is said of the lines


CROSS = """[parts.leaf]
columns = ["70 / 3", "90 / 7"]
rows = ["20 : up1 down1", "30 : up2 down2"]
folds = {{ {folds} }}"""
LINES = {"up1 / up2", "down1 / down2", "up1 | down1", "up2 | down2"}


@pytest.mark.parametrize(
    ("folds", "angles"),
    [
        ('"* / *" = 1, "* | *" = 2', (1, 1, 2, 2)),
        ('"* / *" = 1, "* | *" = 2, "up* | *" = 3', (1, 1, 3, 3)),
        ('"* / *" = 1, "up* | down*" = 4, "up* | *" = 3', (1, 1, 4, 4)),
        ('"* / *" = 1, "up* | down*" = 4, "up2 | *" = 5', (1, 1, 4, 5)),
        ('"* / *" = 1, "up2 | down*" = 6, "up2 | *" = 5, "* | *" = 2', (1, 1, 2, 6)),
        ('"up1 / up2" = 7, "* / down2" = 8, "u* | d*" = 9, "up1 | down1" = -9', (7, 8, -9, 9)),
        ('"* / *" = 1, "* | *" = 2, "up1 | *" = 3, "* | down1" = 3', (1, 1, 3, 2)),
    ],
)
def test_the_more_exact_key_wins_whatever_the_order(folds, angles):
    for said in (folds, ", ".join(reversed(folds.split(", ")))):
        found = {key: angle for key, (_, angle) in rules(part_of(CROSS.format(folds=said))).items()}
        lines = ("up1 / up2", "down1 / down2", "up1 | down1", "up2 | down2")
        assert found == dict(zip(lines, angles, strict=True))


@pytest.mark.parametrize(
    "folds",
    ['"* / *" = 1, "up1 | *" = 3, "* | down1" = 4, "* | *" = 2',
     '"* / *" = 1, "up* | *" = 3, "* | down1" = 4, "up1 | *" = 5, "* | *" = 2',
     '"* / *" = 1, "up* | *" = 3, "* | d*" = 4, "up2 | down2" = 5'],
)  # fmt: skip
def test_keys_as_exact_as_each_other_that_say_different_things_are_a_tie(folds):
    assert codes(CROSS.format(folds=folds)) == ["fold-tie"]
    settled = folds.replace('"* / *" = 1', '"* / *" = 1, "up1 | down1" = 0')
    assert rules(part_of(CROSS.format(folds=settled)))["up1 | down1"] == (LineKind.FOLD, 0)


@pytest.mark.parametrize(
    ("folds", "code"),
    [
        ('"* / *" = 1, "up1 | down1" = 2', "no-fold-key"),
        ('"* / *" = 1, "* | *" = 2, "down1 | up1" = 3', "fold-turned"),
        ('"* / *" = 1, "* | *" = 2, "up1 / down1" = 3', "no-contact"),
        ('"* / *" = 1, "* | *" = 2, "up1 / down2" = 3', "no-contact"),
        ('"* / *" = 1, "* | *" = 2, "up1 | dawn1" = 3', "no-panel"),
        ('"* / *" = 1, "* | *" = 2, "up1 down1" = 3', "bad-key"),
        ('"* / *" = 1, "* | *" = "1261 / 7"', "angle-range"),
        ('"* / *" = 1, "* | *" = "mountian"', "unknown-word"),
    ],
)
def test_what_is_said_of_no_line_or_left_unsaid_is_told(folds, code):
    assert set(codes(CROSS.format(folds=folds))) == {code}


@pytest.mark.parametrize(
    ("said", "rule"),
    [('"valley"', (LineKind.FOLD, 180)), ('"mountain"', (LineKind.FOLD, -180)),
     ('"slit"', (LineKind.SLIT, 0)), ('"perforate"', (LineKind.PERFORATE, 0)),
     ('"none"', None), ("0", (LineKind.FOLD, 0)), ('"-100 / 7"', (LineKind.FOLD, Fraction(-100, 7)))],
)  # fmt: skip
def test_every_word_of_the_folds_makes_its_own_kind_of_line(said, rule):
    part = part_of(CROSS.format(folds=f'"* / *" = 1, "up1 | *" = {said}, "up2 | *" = 3'))
    assert rules(part).get("up1 | down1") == rule
    assert (("up1", "down1") in part.rigid) == (said in ('"none"', '"perforate"'))


def test_slits_and_scores_are_trimmed_to_where_both_panels_are_left():
    """The tapers run out from the middle, so less of the slit and of the level line remains."""
    part = part_of("""[parts.leaf]
columns = ["70 / 3", "90 / 7"]
rows = ["20 : a b", "30 : c d"]
edits = [
  { taper = "a", from = "top", inset = [0, "10 / 3"] },
  { shape = "b", edge = "top", inset = ["20 / 7", 0] },
]
folds = { "a | b" = "slit", "a / c" = 90, "b / d" = 90, "c | d" = "none" }""")
    x = Fraction(70, 3)
    assert pieces(part, "a / c") == [((0, 30), (x - Fraction(10, 3), 30))]
    assert "a | b" not in rules(part)  # the taper leaves it at its very top, where b begins lower


def test_a_line_that_is_cut_into_is_left_in_pieces():
    part = part_of("""[parts.leaf]
columns = [20, 20]
rows = ["210 / 9 : a b", "10 : c d"]
edits = [
  { notch = "a", edge = "right", style = "square", width = "20 / 7", depth = 3, at = "70 / 6" },
  { clip = "d", corner = "top left", by = "10 / 7" },
]
folds = { "a | b" = "slit", "* / *" = 90, "c | d" = "none" }""")
    top, middle, half = 10 + Fraction(70, 3), 10 + Fraction(70, 6), Fraction(10, 7)
    assert pieces(part, "a | b") == [
        ((20, 10), (20, middle - half)),
        ((20, middle + half), (20, top)),
    ]
    assert pieces(part, "b / d") == [((20 + half, 10), (40, 10))]


# --- rows that are written wrong


@pytest.mark.parametrize(
    ("columns", "row", "code"),
    [
        ("10, 20", "9 : a", "cell-count"),
        ("10", "9 : a b", "cell-count"),
        ("10", "9", "no-colon"),
        ("10", "-1 / 7 : a", "negative"),
        ('"-1 / 7"', "9 : a", "negative"),
        ("10", "9 : Front", "bad-name"),
        ("10", "9 : fr\\u043ent", "bad-name"),
        ("10", "9 : a#", "bad-name"),
        ("10", "9 : .", "empty-map"),
        ("0", "9 : a", "empty-map"),
        ("10", "9 : ( a )", "not-repeated"),
        ("{ repeat = 2, columns = [3] }", "9 : a#", "not-repeated"),
        ("{ repeat = 2, columns = [3] }", "9 : ( a#", "bracket"),
        ("{ repeat = 2, columns = [3, 4] }", "9 : ( a# )", "cell-count"),
        ("{ repeat = 201, columns = [3] }", "9 : ( a# )", "too-many"),
        ("{ repeat = 2, columns = [] }", "9 : ( a# )", "empty-map"),
        ('"3 / 7 * i"', "9 : a", "unknown-name"),
    ],
)
def test_a_map_that_is_written_wrong_is_told(columns, row, code):
    text = f'[parts.leaf]\ncolumns = [{columns}]\nrows = ["{row}"]\nfolds = {{ "* | *" = 1 }}'
    assert codes(text) == [code]


# --- the worked check

POCKET = """
template = "pocket"
kind = "page"
units = "in"
[parts.page]
bound = "front left"
columns = ["6 1/4"]
rows = ["1/2 : seam", "1/8 : head", "4 1/4 : front", "1/8 : tail", "4 1/4 : back"]
edits = [{ tape = "seam", side = "face", inset = "1/16", onto = "back" }]
steps = ["seam / head, head / front", "front / tail, tail / back"]
folds = { "* / *" = -90 }
"""
COVER_TAB = """
template = "tab"
kind = "edge"
units = "in"
[parts.edge]
columns = [2, "1/8", 1]
rows = ["length : tab channel page"]
edits = [{ taper = "tab", inset = "1/4" }]
folds = { "* | *" = -90 }
[parts.reinforcement]
stock = "reinforcing"
covers = ["tab", "channel"]
lap = { page = "3/8" }
"""


def inches(*sizes: str) -> list[Fraction]:
    return [sum(map(Fraction, size.split())) * INCH for size in sizes]


def test_a_side_pocket_with_a_cover_tab_has_the_sizes_worked_out_by_hand():
    """6 1/4 x 4 1/4 with seam 1/2, depth 1/8, tab 2, channel 1/8: exact, in fractions."""
    graft = Graft(template_from_text(COVER_TAB))
    page, reinforcement = build(template_from_text(POCKET), {}, CALIPERS, graft).parts
    assert [page.width, page.height] == inches("8 3/8", "9 1/4")
    level = {key: pieces(page, key) for key in rules(page) if "/" in key}
    upright = {key: pieces(page, key) for key in rules(page) if "|" in key}
    page_left, end = inches("2 1/8", "8 3/8")
    from_top = inches("1/2", "5/8", "4 7/8", "5")
    assert sorted(level.values(), reverse=True) == [
        [((page_left, page.height - y), (end, page.height - y))] for y in from_top
    ]
    low, high = inches("4 3/8", "8 5/8")
    assert sorted(upright.values()) == [[((x, low), (x, high))] for x in inches("2", "2 1/8")]
    assert high - low == inches("4 1/4")[0]
    tab = page.panel("binding.tab")
    assert from_lowest(tab.outline) == [
        (inches("2")[0], low), (inches("2")[0], high), (0, high - INCH / 4), (0, low + INCH / 4),
    ]  # fmt: skip
    assert [reinforcement.width, reinforcement.height] == inches("2 1/2", "4 1/4")
    numbers = [n for ring in page.outline for v in ring.vertices for n in (v.x, v.y)]
    assert all(isinstance(n, Fraction) for n in numbers)

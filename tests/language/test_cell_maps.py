"""The cell map: rows, columns, repeats, panels of any shape, and what is said of the lines between.

The worked check is common practice without a source; all else is this project's
own language, its numbers plane geometry.
"""

from fractions import Fraction

import pytest

from dielines.language.building import Graft, build
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.part import LineKind
from dielines.paths import bounds_of, signed_area

INCH = Fraction(254, 10)
CALIPERS = {"cardstock": Fraction(2413, 10000), "reinforcing": Fraction(15, 100)}
HEAD = 'template = "leaf"\nkind = "page"\nunits = "mm"\n'


def made(text: str, **arguments: object):
    return build(template_from_text(HEAD + text, "leaf.toml"), arguments, CALIPERS).parts


def only(text: str, **arguments: object):
    (part,) = made(text, **arguments)
    return part


def boxes(part) -> dict[str, tuple]:
    return {panel.name: tuple(panel.bounds()) for panel in part.panels}


def lines(part) -> dict[str, tuple]:
    """Return kind, angle and the ends of each piece of every line, by its key."""
    return {
        str(line.key): (line.kind, line.angle_deg, [tuple(p.points) for p in line.pieces])
        for line in part.lines
    }


def test_a_side_pocket_with_its_cover_tab_is_the_worked_check_to_the_fraction():
    library = built_in_library()
    sizes = {"width": "6 1/4 in", "height": "4 1/4 in", "depth": "1/8 in"}
    page = build(library.find("side-pocket"), sizes, CALIPERS, Graft(library.find("cover-tab")))
    part = page.part("page")
    assert (part.width, part.height) == (INCH * 67 / 8, INCH * 37 / 4)
    level = {f.pieces[0].points[0].y for f in part.folds if f.key.relation == "/"}
    upright = {f.pieces[0].points[0].x for f in part.folds if f.key.relation == "|"}
    from_head = sorted((part.height - y) / INCH for y in level)
    assert from_head == [Fraction(1, 2), Fraction(5, 8), Fraction(39, 8), Fraction(5)]
    assert sorted(x / INCH for x in upright) == [Fraction(2), Fraction(17, 8)]
    tab = part.panel("binding.tab").bounds()
    assert (tab.width, tab.height) == (INCH * 2, INCH * 17 / 4)
    assert all(isinstance(v, Fraction) for f in part.folds for p in f.pieces for v in p.points[0])


def test_columns_run_to_the_right_and_rows_downwards():
    part = only("""[parts.page]
columns = ["20 / 3", "30 / 7"]
rows = ["10 / 3 : a b", "5 : c d"]
folds = { "* | *" = 90, "* / *" = -45 }""")
    third, seventh = Fraction(20, 3), Fraction(20, 3) + Fraction(30, 7)
    top = Fraction(10, 3) + 5
    assert boxes(part) == {
        "a": (0, 5, third, top),
        "b": (third, 5, seventh, top),
        "c": (0, 0, third, 5),
        "d": (third, 0, seventh, 5),
    }
    assert lines(part) == {
        "a | b": (LineKind.FOLD, 90, [((third, 5), (third, top))]),
        "c | d": (LineKind.FOLD, 90, [((third, 0), (third, 5))]),
        "a / c": (LineKind.FOLD, -45, [((0, 5), (third, 5))]),
        "b / d": (LineKind.FOLD, -45, [((third, 5), (seventh, 5))]),
    }


def test_a_row_or_column_of_size_zero_vanishes_with_all_that_is_said_of_it():
    text = """[parameters]
pull = {{ type = "length", default = {pull} }}
[parts.page]
mouth = {{ pull = "top" }}
columns = [30, "pull"]
rows = ["pull : pull .", "40 : card wing", "7 : foot ."]
edits = [
  {{ clip = "pull", corner = "top", by = "pull / 7" }},
  {{ notch = "card", edge = "left", diameter = 5, through = ["wing"] }},
  {{ holes = "card | wing", diameter = 1, at = [20] }},
  {{ tape = "wing", side = "face", inset = "1/3", onto = "card" }},
  {{ tape = "card", side = "face", inset = 1, onto = "wing" }},
]
steps = ["pull / card, card | wing", "card / foot"]
[parts.page.folds]
"pull / card" = -180
"card | wing" = "valley"
"card / foot" = 90"""
    part = only(text.format(pull=0))
    assert list(boxes(part)) == ["card", "foot"]
    assert list(lines(part)) == ["card / foot"]
    assert [zone.name for zone in part.zones] == []
    assert [[str(key) for key, _ in step.angles_deg] for step in part.steps] == [["card / foot"]]
    assert part.mouths == ()


def test_the_index_runs_in_columns_and_names():
    part = only("""[parts.comb]
columns = [10, { repeat = 3, columns = ["i * 7 mm / 3", "5 - i * 1 mm"] }, 10]
rows = ["20 : first ( up# down# ) last"]
[parts.comb.folds]
"* | *" = 90
"up* | down*" = "mountain"
"down2 | up3" = "1/3 * 100" """)
    widths = {name: box[2] - box[0] for name, box in boxes(part).items()}
    assert widths == {
        "first": 10, "up1": Fraction(7, 3), "down1": 4, "up2": Fraction(14, 3), "down2": 3,
        "up3": 7, "down3": 2, "last": 10,
    }  # fmt: skip
    angles = {key: angle for key, (_, angle, _) in lines(part).items()}
    assert angles["up2 | down2"] == -180
    assert angles["down2 | up3"] == Fraction(100, 3)
    assert angles["down1 | up2"] == angles["first | up1"] == angles["down3 | last"] == 90


def test_the_index_runs_in_rows():
    part = only("""[parts.tiers]
columns = [20]
rows = ["30 : back", { repeat = 2, rows = ["10 - i * 1 mm / 7 : up#", "10 : down#"] }]
folds = { "* / *" = "valley" }""")
    heights = {name: box[3] - box[1] for name, box in boxes(part).items()}
    assert heights == {
        "back": 30, "up1": Fraction(69, 7), "down1": 10, "up2": Fraction(68, 7), "down2": 10,
    }  # fmt: skip


def test_a_part_may_repeat_and_its_index_runs_in_all_of_it():
    parts = made("""[parts."leaf#"]
repeat = 3
quantity = "i * 2"
when = "i != 2"
columns = [20]
rows = ["30 : leaf", "i * 1 mm / 7 : tab#"]
edits = [{ label = "tab#", text = "tab", height = "1/7" }]
folds = { "leaf / tab#" = "-i * 10" }""")
    assert [part.name for part in parts] == ["leaf1", "leaf3"]
    assert [part.quantity for part in parts] == [2, 6]
    assert [part.height for part in parts] == [30 + Fraction(1, 7), 30 + Fraction(3, 7)]
    assert [next(iter(lines(part).values()))[1] for part in parts] == [-10, -30]
    assert [part.lettering[0].panel for part in parts] == ["tab1", "tab3"]


FRAME = """[parts.frame]
columns = [10, 20, "10 / 3"]
rows = [
  "10 : u card u",
  "20 : u u u",
  "10 / 7 : rim rim rim",
  "7 : rim hole rim",
  "6 : rim rim rim",
  "8 : . . foot",
]
[parts.frame.folds]
"u / rim" = 90
"u | card" = "slit"
"card | u" = "slit"
"card / u" = -90
"rim | hole" = "none"
"hole | rim" = "none"
"rim / hole" = "none"
"hole / rim" = "perforate"
"rim / foot" = 2"""


def test_panels_may_be_rings_ls_and_us():
    part = only(FRAME)
    areas = {
        p.name: signed_area(p.outline) - sum(abs(signed_area(h)) for h in p.holes)
        for p in part.panels
    }
    third, seventh = Fraction(10, 3), Fraction(10, 7)
    assert areas == {
        "u": 10 * 10 + 10 * third + 20 * (30 + third),
        "card": 200,
        "rim": (30 + third) * (seventh + 13) - 20 * 7,
        "hole": 140,
        "foot": third * 8,
    }
    assert len(part.panel("u").outline.vertices) == 8
    assert [len(part.panel(name).holes) for name in ("rim", "u")] == [1, 0]
    assert sum(areas.values()) == sum(map(signed_area, part.outline))


def test_one_pair_of_panels_may_meet_in_a_fold_and_two_slits():
    part = only(FRAME)
    kinds = [lines(part)[key][0] for key in ("card / u", "u | card", "card | u")]
    assert kinds == [LineKind.FOLD, LineKind.SLIT, LineKind.SLIT]
    assert "rim | hole" not in lines(part)
    assert lines(part)["hole / rim"][0] is LineKind.PERFORATE
    assert ("rim", "hole") in part.rigid


def test_the_more_exact_key_wins():
    part = only("""[parts.page]
columns = [10]
rows = ["5 : up1", "5 : up2", "5 : mid", "5 : low"]
[parts.page.folds]
"* / *" = 1
"up* / *" = 2
"up* / mid" = 3
"up1 / *" = 4
"mid / low" = 5""")
    angles = {key: angle for key, (_, angle, _) in lines(part).items()}
    # one whole name beats two beginnings; a whole name and a beginning beat one beginning
    assert angles == {"up1 / up2": 4, "up2 / mid": 3, "mid / low": 5}


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ('"valley"', (LineKind.FOLD, 180)),
        ('"mountain"', (LineKind.FOLD, -180)),
        ('"slit"', (LineKind.SLIT, 0)),
        ('"perforate"', (LineKind.PERFORATE, 0)),
        ("0", (LineKind.FOLD, 0)),
        ("-180", (LineKind.FOLD, -180)),
        ('"lean / 7"', (LineKind.FOLD, Fraction(30, 7))),
        ('"-lean"', (LineKind.FOLD, -30)),
    ],
)
def test_a_line_is_folded_slit_perforated_or_scored_flat(value, expected):
    part = only(f"""[parameters]
lean = {{ type = "angle", default = 30 }}
[parts.page]
columns = [10, 10]
rows = ["5 : a b", "5 : c c"]
folds = {{ "a | b" = {value}, "* / *" = 0 }}""")
    assert lines(part)["a | b"][:2] == expected


def test_none_is_no_line_at_all_and_zero_is_a_score():
    part = only("""[parts.page]
columns = [10, 10, 10]
rows = ["5 : a b c"]
folds = { "a | b" = "none", "b | c" = 0 }""")
    assert list(lines(part)) == ["b | c"]
    assert part.rigid == (("a", "b"),)
    assert len(part.outline) == 1
    assert tuple(bounds_of(part.outline)) == (0, 0, 30, 5)


def test_a_line_is_trimmed_to_where_both_its_panels_remain():
    part = only("""[parts.page]
columns = [30, 20]
rows = ["10 : top corner", "10 : low end"]
edits = [
  { taper = "low", from = "right", inset = ["10 / 3", 0] },
  { clip = "corner", corner = "bottom left", by = ["20 / 7", 3] },
]
[parts.page.folds]
"top / low" = "slit"
"corner / end" = "perforate"
"top | corner" = 90
"low | end" = 90""")
    # the taper leaves a point of the slit, and a point is no line
    assert "top / low" not in lines(part)
    perforation = lines(part)["corner / end"][2]
    assert perforation == [((30 + Fraction(20, 7), 10), (50, 10))]
    assert lines(part)["top | corner"][2] == [((30, 13), (30, 20))]


def test_steps_say_the_order_the_stops_and_the_tucks():
    part = only("""[parts.page]
columns = [30]
rows = ["10 : lid", "20 : back", "20 : front", "5 : hem"]
steps = ["back / front, front / hem to -45", "front / hem to 100 / 3, * / back", "lid under front"]
[parts.page.folds]
"lid / back" = "mountain"
"back / front" = 90
"front / hem" = 60""")
    told = [{str(key): angle for key, angle in step.angles_deg} for step in part.steps]
    assert told == [
        {"back / front": 90, "front / hem": -45},
        {"front / hem": Fraction(100, 3), "lid / back": -180},
        {},
    ]
    assert [step.under for step in part.steps] == [(), (), (("lid", "front"),)]


def test_grain_runs_along_the_bound_edge_unless_told_otherwise():
    text = """[parts.page]
{grain}bound = "{bound}"
columns = [10, 20]
rows = ["5 : a b", "6 : c d"]
folds = {{ "* | *" = 90, "* / *" = 90 }}"""
    cases = {
        ("", "a left"): "up", ("", "a top"): "across", ("", "b right"): "up",
        ("", "a | b"): "up", ("", "a / c"): "across",
        ('grain = "across"\n', "a left"): "across", ('grain = "free"\n', "a left"): "free",
    }  # fmt: skip
    found = {case: only(text.format(grain=case[0], bound=case[1])).grain for case in cases}
    assert found == cases

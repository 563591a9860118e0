from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from dielines.lengths import Length, caliper_points, inches, millimetres
from dielines.workshop.sizes import parse_size
from dielines.workshop.stock import Grain, Printed, Sheet, StockKind
from dielines.workshop.stock_entries import grain_along
from dielines.workshop.weights import grammage_of

WHOLE = """
units = "in"
[papers."leaf print"]
roles = ["mats"]
caliper = "0.17 mm"
weight = "65 lb cover"
printed = "one side"
one_way_up = true
sheets = ["8 1/2 x 11", { size = "12 x 24", grain = "across", price = 0.9, have = 7 }]
"""


def test_a_stock_says_all_that_its_table_says(load):
    stock = load(WHOLE).stock_named("leaf print")
    assert stock.kind is StockKind.PAPER
    assert stock.caliper == millimetres("0.17")
    assert not stock.caliper_is_typical
    assert stock.grammage_gsm == grammage_of(65, "cover")
    assert stock.printed is Printed.ONE
    assert stock.is_one_way_up
    assert stock.roles == ("mats",)
    assert stock.sheets == (
        Sheet(parse_size("letter", None), Grain.UP, None),
        Sheet((inches(12), inches(24)), Grain.ACROSS, Decimal("0.9"), 7),
    )


def test_stripes_and_a_top_each_keep_a_part_upright(load):
    text = '[papers.a]\ncaliper = "0.2 mm"\nsheets = ["A4"]\n'
    assert not load(text).stock_named("a").keeps_upright
    assert load(f"{text}stripes = true").stock_named("a").keeps_upright
    assert load(f"{text}one_way_up = true").stock_named("a").keeps_upright


@pytest.mark.parametrize("have", ["0", "-1", "100001"])
def test_a_number_of_sheets_that_nobody_has_is_refused(faults, have):
    text = f'[papers.a]\ncaliper = "0.2 mm"\nsheets = [{{ size = "A4", have = {have} }}]'
    assert [fault[2] for fault in faults(text)] == ["out-of-range"]


def test_a_plain_paper_is_printed_on_no_side_and_has_no_top(load):
    stock = load('[papers.a]\ncaliper = "0.2 mm"\nsheets = ["A4"]').stock_named("a")
    assert stock.printed is Printed.NONE
    assert not stock.is_one_way_up


@pytest.mark.parametrize(
    ("word", "alike"), [("none", True), ("one side", False), ("both sides", False)]
)
def test_only_an_unprinted_paper_serves_as_its_own_mirror_image(load, word, alike):
    text = f'[papers.a]\ncaliper = "0.2 mm"\nprinted = "{word}"'
    assert load(text).stock_named("a").is_own_mirror_image is alike


@pytest.mark.parametrize(
    ("text", "caliper"),
    [
        ('caliper = "9.5 pt"', caliper_points("9 1/2")),
        ('caliper = 0.01', inches("0.01")),
        ('caliper = "1/64"', inches("1/64")),
        ('caliper = "281 µm"', millimetres("0.281")),
        ('caliper = 0.01\nlike = "cardstock, 80 lb cover"\nbulk = 2\nweight = "200 gsm"', inches("0.01")),
    ],
)  # fmt: skip
def test_a_measured_thickness_goes_before_all_else(load, text, caliper):
    stock = load(f'units = "in"\n[papers.a]\n{text}\nsheets = ["A4"]\ngrain = "long"').stock_named(
        "a"
    )
    assert stock.caliper == caliper
    assert not stock.caliper_is_typical
    assert stock.notes == ()


@pytest.mark.parametrize(
    ("text", "caliper"),
    [
        ('bulk = 1.3\nweight = "216 g/m2"', Length(Fraction("0.2808"))),
        ('bulk = 1.3\nlike = "cardstock, 220 g/m2"', Length(Fraction("0.286"))),
        ('like = "index card, 110 lb"', caliper_points(9)),
        ('like = "index card, 110 lb"\nweight = "150 gsm"', caliper_points(9)),
        ('weight = "65 lb cover"', caliper_points(8)),  # the row of that weight
        (
            'weight = "110 g/m2"',
            Length(Fraction("0.16") * 110 / 120),
        ),  # the bulk of the nearest row
        ("", caliper_points("9 1/2")),  # that of the typical cardstock
    ],
)
def test_a_thickness_that_nobody_measured_is_typical_and_said_so(load, text, caliper):
    stock = load(f'units = "in"\n[papers.a]\n{text}\nsheets = ["A4"]\ngrain = "long"').stock_named(
        "a"
    )
    assert stock.caliper == caliper
    assert stock.caliper_is_typical
    assert len(stock.notes) == 1


def test_a_board_without_a_thickness_is_as_thick_as_the_typical_board(load):
    stock = load('units = "mm"\n[boards.a]\nsheets = ["A3"]').stock_named("a")
    assert stock.caliper == millimetres(2)
    assert stock.caliper_is_typical


def test_weight_and_likeness_give_the_weight(load):
    workshop = load(
        '[papers.a]\nlike = "cardstock, 220 g/m2"\n[papers.b]\nweight = "80 gsm"\n[papers.c]'
    )
    weights = [workshop.stock_named(name).grammage_gsm for name in "abc"]
    assert weights == [220, 80, None]


def test_sheets_that_are_not_listed_are_typical_and_said_so(load):
    stock = load('units = "mm"\n[papers.a]\ncaliper = "0.2 mm"').stock_named("a")
    assert [sheet.size for sheet in stock.sheets] == [parse_size("A4", None)]
    assert len(stock.notes) == 1
    short = load('units = "mm"\n[papers.a]\ncaliper = "0.2 mm"\ngrain = "short"').stock_named("a")
    assert [sheet.grain for sheet in short.sheets] == [Grain.ACROSS]


def test_a_grain_that_is_not_said_is_assumed_and_said_so(load):
    head = '[papers.a]\ncaliper = "0.2 mm"\n'
    silent = load(head + 'sheets = ["A4 wide"]').stock_named("a")
    assert silent.sheets[0].grain is Grain.ACROSS
    assert len(silent.notes) == 1
    told = load(head + 'sheets = [{ size = "A4 wide", grain = "up" }]').stock_named("a")
    assert told.sheets[0].grain is Grain.UP
    assert told.notes == ()


def test_the_grain_of_a_sheet_goes_before_that_of_the_stock(load):
    text = '[papers.a]\ncaliper = "0.2 mm"\ngrain = "short"\nsheets = ["A4", { size = "A4", grain = "long" }]'
    assert [sheet.grain for sheet in load(text).stock_named("a").sheets] == [Grain.ACROSS, Grain.UP]


@pytest.mark.parametrize(
    ("word", "size", "grain"),
    [
        ("long", "A4", Grain.UP), ("short", "A4", Grain.ACROSS),
        ("long", "A4 wide", Grain.ACROSS), ("short", "A4 wide", Grain.UP),
        ("long", "7 x 7 mm", Grain.UP), ("short", "7 x 7 mm", Grain.UP),
        ("up", "A4 wide", Grain.UP), ("across", "A4", Grain.ACROSS), ("none", "A4", Grain.NONE),
    ],
)  # fmt: skip
def test_long_and_short_mean_the_sides_of_the_sheet(word, size, grain):
    assert grain_along(word, parse_size(size, None)) is grain


def test_a_sheet_turned_on_the_table_turns_its_grain():
    sheet = Sheet(parse_size("A4", None), Grain.UP, Decimal(3))
    assert sheet.turned == Sheet(parse_size("A4 wide", None), Grain.ACROSS, Decimal(3))
    assert sheet.turned.turned == sheet
    assert Sheet(parse_size("A4", None), Grain.NONE).turned.grain is Grain.NONE


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('caliper = "0.24 in"', "out-of-range"),  # a slip of the unit: 6 mm
        ("caliper = 0.2", "not-a-length"),  # the file declares no units
        ('caliper = "thin"', "not-a-length"),
        ("caliper = nan", "not-finite"),
        ("caliper = []", "wrong-kind"),
        ("caliper = true", "wrong-kind"),
        ("calliper = 3", "unknown-key"),
        ('weight = "65 lb"', "not-a-length"),
        ("weight = 65", "wrong-kind"),
        ("bulk = 1.3", "missing"),
        ('bulk = 50\nweight = "200 gsm"', "out-of-range"),
        ('bulk = 1e999999999\nweight = "200 gsm"', "not-a-length"),
        ('like = "cardstok"', "unknown-material"),
        ('like = "grey board, 2 mm"', "unknown-material"),  # a board is no paper
        ('grain = "lengthwise"', "unknown-word"),
        ('printed = "front"', "unknown-word"),
        ('one_way_up = "yes"', "wrong-kind"),
        ('roles = "pages"', "wrong-kind"),
        ('roles = ["tape"]', "unknown-word"),
        ("roles = [3]", "wrong-kind"),
        ('sheets = "A4"', "wrong-kind"),
        ('sheets = ["12 y 12"]', "not-a-length"),
        ("sheets = [12]", "wrong-kind"),
        ('sheets = [{ grain = "up" }]', "missing"),
        ('sheets = [{ size = "A4", price = -1 }]', "out-of-range"),
        ('sheets = [{ size = "A4", price = 1e99 }]', "not-a-length"),
        ('sheets = [{ size = "A4", price = "1" }]', "wrong-kind"),
        ('sheets = [{ size = "A4", prize = 1 }]', "unknown-key"),
        ('sheets = [{ size = "A4", grain = "sideways" }]', "unknown-word"),
    ],
)
def test_a_wrong_entry_of_a_stock_is_one_fault_at_its_line(faults, line, code):
    head = "[papers.a]"
    found = faults(f"{head}\n{line}\n")
    assert [(fault[0], fault[2]) for fault in found] == [(2, code)]


def test_a_board_makes_no_pages_but_a_paper_may_make_boards(load, faults):
    assert [fault[2] for fault in faults('[boards.a]\nroles = ["pages"]')] == ["unknown-word"]
    assert load('[papers.a]\nroles = ["boards"]').stock_for("boards").name == "a"


@pytest.mark.parametrize("line", ['printed = "none"', "one_way_up = true"])
def test_a_board_bears_no_print(faults, line):
    assert [fault[2] for fault in faults(f"[boards.a]\n{line}")] == ["unknown-key"]


@pytest.mark.parametrize("name", ['""', '"  "', '"a\\tb"', f'"{"n" * 61}"'])
def test_a_name_that_cannot_be_printed_is_refused(faults, name):
    assert [fault[2] for fault in faults(f'[papers.{name}]\ncaliper = "0.2 mm"')] == ["bad-name"]


def test_a_stock_is_a_table(faults):
    assert faults("[papers]\na = 3") == [(2, "papers.a", "wrong-kind")]

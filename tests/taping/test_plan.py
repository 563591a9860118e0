"""The tape plan of whole books: every zone, every copy, totals that add up."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from random_books import random_book
from shapely import Polygon

from dielines.lengths import Length, inches, millimetres
from dielines.paths import flattened
from dielines.taping.plan import tape_plan
from dielines.taping.plan_data import tape_plan_data
from dielines.taping.plan_text import tape_plan_text
from dielines.taping.totals import rolls_for

F = Fraction
LEAF = """
title = "Herbs"
units = "mm"
size = "page 95 x 135"
binding = "tab and channel"
pages = ["plain leaf", "side pocket"]
"""
ROLLS = """
units = "mm"
[tapes."double-sided tape"]
thickness = "0.13 mm"
rolls = [
  { width = 6, length = "2 m", price = 1.25 },
  { width = 9, length = "25 yd", price = 3 },
  { width = 25 },
]
"""


def zones_of(book):
    letters = {entry.letter: entry for entry in book.parts}
    return {(letter, zone.name) for letter, entry in letters.items() for zone in entry.part.zones}


@pytest.mark.parametrize("name", ["lakeside", "seed-swap", "first-year"])
def test_every_zone_of_every_letter_is_planned_once(sample, name):
    book = sample(name)
    plan = tape_plan(book)
    planned = [(zone.letter, zone.zone) for zone in plan.zones]
    assert len(planned) == len(set(planned))
    assert set(planned) == zones_of(book)
    assert plan.unfilled == ()


def test_the_strips_of_the_lake_album_are_those_worked_out_by_hand(sample):
    book = sample("lakeside")
    plan = {(zone.letter, zone.zone): zone for zone in tape_plan(book).zones}

    def strips(key, zone):
        return [strip.width for strip in plan[book.part(key).letter, zone].strips]

    # tabs of 1/2 less 1/8, channels of 1/4, the spine of 1 3/4, its lining of 1 7/8 in
    assert strips("page-2", "binding.tab") == [inches("3/8")]
    assert strips("page-2", "binding.channel") == [inches("1/4")]
    assert strips("joint-wrap", "spine") == [inches(1), inches("1/2"), inches("1/4")]
    assert strips("spine-lining", "lining") == [inches(1), inches("1/2"), inches("3/8")]
    turn_in = plan[book.part("joint-wrap").letter, "head"]
    assert [strip.width for strip in turn_in.strips] == [inches("1/2"), inches("1/8")]
    strip = plan[book.part("edge-front-fore-edge").letter, "outside"]
    assert [end.angle_deg for end in strip.strips[0].ends] == pytest.approx([45, 45])


@pytest.mark.parametrize("seed", range(3000, 3006))
def test_strips_of_random_books_lie_in_their_zones_and_areas_add_up(composed, seed):
    book = composed(random_book(seed))
    plan = tape_plan(book)
    for zone in plan.zones:
        part = book.part(zone.key).part
        path = next(z.path for z in part.zones if z.name == zone.zone)
        whole = Polygon(flattened(path, 0.001))
        for strip in zone.strips:
            shape = Polygon([(float(x), float(y)) for x, y in strip.path.points]).buffer(0)
            assert shape.difference(whole.buffer(0)).area < 1e-3
        assert float(zone.area) == pytest.approx(whole.area, abs=1e-2)
        assert zone.bare >= 0
        assert zone.gap.mm >= 0
    used = sum(total.width.mm * total.length.mm for total in plan.totals)
    assert used == plan.area - plan.bare + plan.cut_off


def test_copies_and_spares_are_counted(composed):
    once = {t.width: t for t in tape_plan(composed(LEAF)).totals}
    more = {t.width: t for t in tape_plan(composed(LEAF + "[make]\ncopies = 3\nspares = 2")).totals}
    book = composed(LEAF)
    letters = [entry.letter for entry in book.parts]
    plan = tape_plan(book)
    for width, total in more.items():
        pieces = sum(
            3 * (letters.count(zone.letter) + 2)
            for zone in plan.zones
            for strip in zone.strips
            if strip.width == width
        )
        assert total.pieces == pieces > 3 * once[width].pieces


def test_rolls_and_prices_are_told_where_they_are_known(composed):
    totals = {t.width: t for t in tape_plan(composed(LEAF, workshop=ROLLS)).totals}
    six, nine, wide = (totals[millimetres(width)] for width in (6, 9, 25))
    assert six.rolls is not None
    assert six.rolls >= -(-six.length.mm // 2000)
    assert six.price == six.rolls * Decimal("1.25")
    assert (nine.rolls, nine.price) == (1, Decimal(3))
    assert (wide.rolls, wide.price) == (None, None)


@pytest.mark.parametrize(
    ("pieces", "roll", "rolls"),
    [
        # 3 x 700 mm on rolls of 1000 mm: no two fit one roll, though 2100 mm are not three rolls' worth
        ({700: 3}, 1000, 3),
        ({700: 3, 300: 3}, 1000, 3),
        ({700: 3, 301: 3}, 1000, 4),
        ({F(1000, 3): 3}, 1000, 1),
        ({F(1000, 3): 4}, 1000, 2),
        # what is longer than a roll is pieced together
        ({2500: 2}, 1000, 5),
        ({7: 6000}, 1000, 42),
        ({}, 1000, 0),
    ],
)
def test_rolls_are_counted_by_whole_strips(pieces, roll, rolls):
    found = {Length(F(length)): number for length, number in pieces.items()}
    assert rolls_for(found, Length(F(roll))) == rolls


def test_a_zone_narrower_than_any_tape_stays_unfilled(composed):
    book = composed(LEAF, workshop=ROLLS.replace("width = 6,", "width = 7,"))
    plan = tape_plan(book)
    narrow = {(book.part(zone.key).key, zone.zone) for zone in plan.unfilled}
    assert ("page-1", "binding.channel") in narrow
    zone = next(zone for zone in plan.unfilled if zone.zone == "binding.channel")
    assert (zone.gap, zone.bare_share) == (zone.room, 1.0)


def test_a_zone_called_glue_takes_no_tape(composed):
    book = composed(LEAF)
    entry = book.part("page-2")
    zones = [replace(z, name="glue") if z.name == "seam" else z for z in entry.part.zones]
    part = replace(entry.part, zones=tuple(zones))
    parts = [replace(e, part=part) if e.key == "page-2" else e for e in book.parts]
    names = [zone.zone for zone in tape_plan(replace(book, parts=tuple(parts))).zones]
    assert "glue" not in names
    assert "seam" not in names


@pytest.mark.parametrize("name", ["lakeside", "seed-swap"])
def test_the_text_has_every_letter_with_tape_and_fits_the_page(sample, name):
    book = sample(name)
    plan = tape_plan(book)
    lines = tape_plan_text(plan, book).splitlines()
    assert max(map(len, lines)) <= 100
    assert all(line == line.rstrip() for line in lines)
    first = {line.split(" ")[0] for line in lines}
    assert {zone.letter for zone in plan.zones} <= first
    strips = sum(len(zone.strips) for zone in plan.zones)
    assert sum(line.count(" x ") for line in lines) >= 2 * strips


def test_the_text_tells_lengths_angles_gaps_and_totals(sample):
    book = sample("seed-swap")
    text = tape_plan_text(tape_plan(book), book)
    assert "25 x 141" in text  # the hold of the joint wrap
    assert "at 45°" in text  # a mitre
    assert "gap of 2 mm" in text  # a channel of 8 mm
    assert "no tape" not in text
    assert "TOTALS" in text


def test_the_text_names_zones_without_tape(composed):
    book = composed(LEAF, workshop=ROLLS.replace("width = 6,", "width = 7,"))
    text = tape_plan_text(tape_plan(book), book)
    assert "no tape is as narrow as 6 mm" in text


def test_zones_at_two_ends_of_one_panel_are_told_apart(composed):
    book = composed(LEAF.replace("side pocket", "tiered pockets"))
    text = tape_plan_text(tape_plan(book), book)
    lines = [" ".join(line.split()) for line in text.splitlines()]
    for words in ("front 1 left, reverse", "front 1 right, reverse"):
        assert sum(line.startswith(words) for line in lines) == 1
    assert any(line.startswith("channel, face") for line in lines)


def test_the_same_book_gives_the_same_text_and_data(composed):
    one, other = composed(LEAF), composed(LEAF)
    assert tape_plan_text(tape_plan(one), one) == tape_plan_text(tape_plan(other), other)
    assert tape_plan_data(tape_plan(one)) == tape_plan_data(tape_plan(other))


def test_the_data_say_the_same_as_the_plan(sample):
    plan = tape_plan(sample("lakeside"))
    data = tape_plan_data(plan)
    assert len(data["zones"]) == len(plan.zones)
    for zone, told in zip(plan.zones, data["zones"], strict=True):
        assert told["room_mm"] == pytest.approx(float(zone.room.mm))
        assert [s["width_mm"] for s in told["strips"]] == [float(s.width.mm) for s in zone.strips]
    assert sum(t["pieces"] for t in data["totals"]) == sum(
        len(zone.strips) * zone.number for zone in plan.zones
    )

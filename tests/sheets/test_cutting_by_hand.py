"""The words of cutting-by-hand.txt are followed as a person would, with nothing but the page.

Every piece is kept under its pencilled letter with its size; each row of a step takes one
piece and leaves two. What is a part in the end must have the size of that part.
"""

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.lengths import inches, millimetres, parse_length
from dielines.packing.order import Work
from dielines.sheets.cutting_by_hand import cutting_by_hand_text, is_cut_by_hand
from dielines.sheets.laying_out import lay_out
from dielines.sheets.way_of_cutting import By
from dielines.workshop.sizes import parse_size

SHEET = re.compile(
    r"Sheet (\d+), (.*), (.*), with (?:the trimmer|knife and rule): (once|(\d+) times)$"
)
FENCE = re.compile(r" *(\d+)\. (.{14}) (left|lower) ")
SIZE = re.compile(r"([a-z]+), (.* x .*)")


class Bench:
    """A sheet on the bench, and what is cut from it."""

    def __init__(self, size, units):
        self.pieces = {"the sheet": size}
        self.units = units
        self.parts = []

    def cut(self, fence, edge, piece, near, far):
        across, up = self.pieces.pop(piece)
        assert fence < (across if edge == "left" else up)
        sizes = (
            [(fence, up), (across - fence, up)]
            if edge == "left"
            else [(across, fence), (across, up - fence)]
        )
        for told, size in zip((near, far), sizes, strict=True):
            self.lay(told, size)

    def lay(self, told, size):
        if told.startswith("part "):
            self.parts.append((told.removeprefix("part "), size))
        elif told != "offcut":
            letter, words = SIZE.fullmatch(told).groups()
            said = parse_size(words.replace("≈ ", ""), self.units)
            assert all(abs(a.mm - b.mm) < Fraction(1, 2) for a, b in zip(said, size, strict=True))
            self.pieces[letter] = size


def followed(text, units):
    """Yield (times, parts with their sizes) for each sheet of the page."""
    bench, times, fence = None, 0, None
    for line in text.splitlines():
        if match := SHEET.match(line):
            if bench:
                yield times, bench
            size = re.sub(r" (of the \d+ you have|beyond what you have)$", "", match[3])
            bench, times = Bench(parse_size(size, units), units), int(match[5] or 1)
        elif bench and (match := FENCE.match(line)):
            fence = parse_length(match[2].strip().removeprefix("≈ "), units), match[3]
            cut_row(bench, fence, line)
        elif bench and line.startswith(" " * 30) and "between" not in line:
            cut_row(bench, fence, line)
    yield times, bench


def cut_row(bench, fence, line):
    piece, near, far = line[31:41].strip(), line[42:69].strip(), line[70:].strip()
    bench.cut(*fence, piece, near, far)


@pytest.mark.parametrize(
    ("name", "copies"), [("lakeside", 1), ("lakeside", 5), ("seed-swap", 1), ("first-year", 2)]
)
def test_following_the_page_yields_every_part_of_a_sample(sample, name, copies):
    book, workshop = sample(name, f"make.copies={copies}")
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(30_000))
    text = cutting_by_hand_text(book, layout, workshop)
    found = Counter()
    sizes = {entry.letter: (entry.part.width, entry.part.height) for entry in book.parts}
    for times, bench in followed(text, book.units):
        assert bench.pieces == {}
        for letter, (across, up) in bench.parts:
            found[letter] += times
            told = sorted(float(side.mm) for side in (across, up))
            assert told == pytest.approx(sorted(map(float, sizes[letter])), abs=0.5), letter
    spares = book.request.spares
    wanted = Counter(entry.letter for entry in book.parts)
    assert found == {letter: copies * (count + spares) for letter, count in wanted.items()}


def test_offcuts_worth_keeping_are_told_the_largest_first(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(0))
    text = " ".join(cutting_by_hand_text(book, layout, workshop).split())
    told = re.findall(r"large enough to keep: (.*?)\.", text)
    assert told
    for sheet in told:
        sizes = [parse_size(words.replace("≈ ", ""), "in") for words in sheet.split(", ")]
        areas = [float(size.across.mm * size.up.mm) for size in sizes]
        assert areas == sorted(areas, reverse=True)
        assert all(min(size) >= millimetres(49) for size in sizes)


def test_margins_come_off_first(sample):
    book, workshop = sample("lakeside")
    trimmer = replace(workshop.trimmer, margin=inches("1/7"))
    layout = lay_out(book, replace(workshop, trimmer=trimmer), By.TRIMMER, new_work=lambda: Work(0))
    text = cutting_by_hand_text(book, layout, replace(workshop, trimmer=trimmer))
    block = text.partition("Sheet 1,")[2].partition("Sheet 2,")[0]
    assert block.index("margins") < block.index("stage 1")
    for _, bench in followed(text, book.units):
        assert bench.pieces == {}


def test_a_cut_longer_than_the_trimmer_is_told(sample):
    book, workshop = sample("lakeside")
    short = replace(workshop, trimmer=replace(workshop.trimmer, length=millimetres(200)))
    layout = lay_out(book, short, By.TRIMMER, new_work=lambda: Work(0))
    assert "knife and rule for it" in cutting_by_hand_text(book, layout, short)
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(0))
    card = cutting_by_hand_text(book, layout, workshop).partition("Sheet 2")[0]
    assert "knife and rule for it" not in card


def test_lines_are_at_most_100_wide_and_blades_are_warned_of(sample):
    book, workshop = sample("first-year")
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(0))
    text = cutting_by_hand_text(book, layout, workshop)
    assert max(map(len, text.splitlines())) <= 100
    assert "blade" in text.partition("Sheet 1")[0]


def test_only_what_is_cut_from_edge_to_edge_has_such_a_page(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    assert is_cut_by_hand(layout)  # the boards
    machine = replace(layout, stocks=tuple(s for s in layout.stocks if s.terms.by is By.MACHINE))
    assert not is_cut_by_hand(machine)


def test_rows_stay_in_their_columns_with_the_longest_fractions(sample):
    book, workshop = sample("lakeside", "size=page 10 1/7 x 10 1/3")
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(0))
    text = cutting_by_hand_text(book, layout, workshop)
    assert any("\u2248 10 11/32 in" in line for line in text.splitlines())
    for _, bench in followed(text, book.units):
        assert bench.pieces == {}
    assert max(map(len, text.splitlines())) <= 100

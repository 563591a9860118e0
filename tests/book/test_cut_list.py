"""The cut list of a book: pieces, sizes, scores, notches, mirror images, joins, cautions."""

import json
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.cut_list import as_json, cut_list, merged_titles, rows_of
from dielines.book.cut_list_text import (
    WIDTH,
    cut_list_text,
    letter_lines,
    part_lines,
    work_lines,
)
from dielines.book.from_file import book_source
from dielines.book.join_words import join_words
from dielines.book.reading import book_document
from dielines.book.single import single_parts
from dielines.book.worklines import Way, Work
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.lengths import inches, millimetres
from dielines.part import exact_length
from dielines.workshop.loading import typical_workshop

LIBRARY = built_in_library()
WORKSHOP = typical_workshop("in")
TYPICAL = 'units = "in"\n'
PRINTED = """units = "in"
[papers."plain card"]
roles = ["pages"]
caliper = "1/100"
sheets = ["12 x 12"]
[papers."leaf print"]
roles = ["mats"]
caliper = "1/150"
printed = "one side"
sheets = ["12 x 12"]
"""


def joins_of(book: Book) -> list[str]:
    return list(join_words(book, book.joins))


LAKE = """units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["side pocket", "flap", "plain leaf", "plain leaf", "flap", "side pocket"]
mats = "both sides"
"""


@pytest.fixture
def composed(tmp_path: Path):
    """Compose a book from its text, in a workshop of its own."""

    def compose_text(text: str = LAKE, workshop: str = TYPICAL, settings=()) -> Book:
        (tmp_path / "workshop.toml").write_text(workshop, encoding="utf-8")
        (tmp_path / "lake.toml").write_text(text, encoding="utf-8")
        source = book_source(book_document(tmp_path / "lake.toml"), settings)
        return compose(source.request, source.workshop, source.library)

    return compose_text


def single(name: str, with_: str | None = None, **given: str):
    fragment = LIBRARY.find(with_) if with_ else None
    named = {key.replace("__", "."): text for key, text in given.items()}
    return rows_of(single_parts(LIBRARY.find(name), named, WORKSHOP, "in", fragment))


def custom(text: str):
    template = template_from_text(text)
    return rows_of(single_parts(template, {}, WORKSHOP))[0]


def places(row, way: Way):
    """Where the scores of a way lie from the left, or from the top, in inches."""
    lines = [line for line in row.worklines if line.way is way]
    return [(line.across if way is Way.UPRIGHT else line.up).near / inches(1) for line in lines]


# Worked check of the trade (common practice, no source).
def test_the_side_pocket_with_a_cover_tab_is_cut_and_scored_as_the_trade_has_it():
    row = single("side-pocket", "cover-tab", width="6 1/4", height="4 1/4", depth="1/8")[0]
    assert (row.width, row.height) == (inches("8 3/8"), inches("9 1/4"))
    assert places(row, Way.LEVEL) == [Fraction(1, 2), Fraction(5, 8), Fraction(39, 8), 5]
    assert places(row, Way.UPRIGHT) == [2, Fraction(17, 8)]
    assert {line.work for line in row.worklines if line.way is not Way.NONE} == {Work.MOUNTAIN}
    tab = next(line for line in row.worklines if line.way is Way.UPRIGHT)
    assert tab.up.size == inches("4 1/4")
    text = "\n".join(work_lines([row], "in"))
    for pair in (r"1/2 +8 3/4", r"5/8 +8 5/8", r"4 7/8 +4 3/8", r"5 +4 1/4", r"2 1/8 +6 1/4"):
        assert re.search(rf"mountain score +{pair} ", text), pair


def test_its_thumb_notches_lie_in_the_middle_of_the_mouth_on_both_layers():
    row = single("side-pocket", width="6 1/4", height="4 1/4", notch="2/3")[0]
    notches = [line for line in row.worklines if line.work is Work.NOTCH]
    assert [notch.edge for notch in notches] == ["right", "right"]
    front, back = inches("5/8") + inches("4 1/4") / 2, inches("5") + inches("4 1/4") / 2
    assert [notch.up.middle.near for notch in notches] == [front, back]
    assert {notch.up.size for notch in notches} == {inches("2/3")}
    assert {notch.across.far for notch in notches} == {inches(0)}


def test_all_that_lies_on_a_part_adds_up_to_its_size(composed):
    for row in cut_list(composed()):
        assert row.width == exact_length(row.part.width)
        for line in row.worklines:
            assert (line.across.total, line.up.total) == (row.width, row.height)


HOLED = """template = "holed"
kind = "insert"
units = "mm"
[parts.card]
columns = [90]
rows = ["60 : card"]
edits = [
  { hole = "card", at = [12, 7], diameter = 5 },
  { window = "card", margin = 20 },
  { round = "card", corner = "bottom right", radius = 6 },
  { cut = "card", line = [[10, 50], [40, 50]] },
  { score = "card", line = [[5, 0], [5, 60]], fold = "mountain" },
]
"""


def test_holes_windows_slits_and_round_corners_are_listed():
    row = custom(HOLED)
    found = {line.work: line for line in row.worklines}
    assert set(found) == {
        Work.HOLE, Work.WINDOW, Work.ROUND_CORNER, Work.SLIT, Work.MOUNTAIN
    }  # fmt: skip
    hole = found[Work.HOLE]
    assert (hole.across.middle.near, hole.up.middle.near) == (millimetres(12), millimetres(7))
    assert hole.across.size == millimetres(5)
    window = found[Work.WINDOW]
    assert (window.across.near, window.up.far) == (millimetres(20), millimetres(20))
    assert found[Work.ROUND_CORNER].detail == "bottom right"
    assert found[Work.SLIT].way is Way.LEVEL
    assert found[Work.SLIT].up.near == millimetres(50)
    text = "\n".join(work_lines([row], "mm"))
    assert re.search(r"hole +12 +78 ", text)
    assert re.search(r"hole +7 +53 ", text)
    assert "radius 6 mm" in text


def test_a_window_tells_its_four_edges_once_in_both_units():
    row = custom(HOLED.replace("margin = 20", "margin = [7, 11, 13, 17]"))
    (line,) = [line for line in row.worklines if line.work is Work.WINDOW]
    text = " ".join("\n".join(work_lines([row], "mm")).split())
    assert text.count("window") == 1
    sides = {"left": line.across.near, "right": line.across.far, "top": line.up.near,
             "bottom": line.up.far}  # fmt: skip
    assert len(set(sides.values())) == 4
    assert {side / millimetres(1) for side in sides.values()} == {7, 11, 13, 17}
    for word, gap in sides.items():
        assert f"{gap / millimetres(1)} {word}" in text


def test_a_round_notch_tells_its_circle_and_on_a_mat_that_it_lies_outside(composed):
    book = composed(settings=["usual.mat_border=1/4", "usual.notch=1"])
    rows = cut_list(book)
    letters = {row.entries[0].key: row.letter for row in rows}
    page = " ".join("\n".join(letter_lines(rows, letters["page-1"], "in")).split())
    assert page.count("circle of 1 across, its middle on the left edge") == 2
    mat = next(letter for key, letter in letters.items() if key.startswith("mat-1-"))
    told = " ".join("\n".join(letter_lines(rows, mat, "in")).split())
    assert "circle of 1 1/2 across, its middle 1/4 outside the" in told  # both grow by the border


def test_a_distance_reads_alike_from_either_edge(composed):
    text = cut_list_text(composed(), WORKSHOP.machine)
    scores = re.findall(r" score +(\S.*?)  +(\S.*?)  +(\S.*?)  +(\S.*?)  ", text)
    shown: dict[str, set[str]] = {}
    for near, far, other_near, other_far in scores:
        shown.setdefault(near, set()).add(other_near)
        shown.setdefault(far, set()).add(other_far)
    assert len(shown) > 8
    assert {inch: mm for inch, mm in shown.items() if len(mm) > 1} == {}


def test_others_are_spoken_of_only_where_there_are_others(composed):
    text = cut_list_text(composed(), WORKSHOP.machine)
    (leaf,) = [line for line in text.splitlines() if re.match(r"\w+ +page 3: plain leaf: ", line)]
    assert "others" not in leaf
    held = 'holds={what="tag", size="2 x 3", thick="9 pt", count=2}'
    book = composed(settings=[f"page.{number}.{held}" for number in (2, 3, 4)])
    heads = [
        line for line in cut_list_text(book, WORKSHOP.machine).splitlines() if "tag for" in line
    ]
    assert heads
    assert all("tag for pages 2 to 4" in line and "others" not in line for line in heads)


def test_no_heading_of_the_parts_stands_empty(composed):
    text = cut_list_text(composed(), WORKSHOP.machine).partition("PARTS\n")[2]
    heads = [block.splitlines() for block in text.partition("SCORES")[0].strip().split("\n\n")]
    assert all(any(re.match(r"[A-Z]{1,2} +\d", line) for line in block) for block in heads)


SLIT = """template = "slit"
kind = "insert"
units = "mm"
[parts.card]
columns = [30, 40]
rows = ["20 : left right", "35 : base base"]
folds = { "left | right" = "slit", "left / base" = 90, "right / base" = "perforate" }
"""


def test_slits_and_perforations_between_panels_are_listed_with_their_reach():
    lines = {line.work: line for line in custom(SLIT).worklines}
    assert set(lines) == {Work.SLIT, Work.VALLEY, Work.PERFORATION}
    assert lines[Work.SLIT].across.near == millimetres(30)
    assert lines[Work.SLIT].up.far == millimetres(35)
    assert lines[Work.PERFORATION].across.size == millimetres(40)
    text = "\n".join(work_lines([custom(SLIT)], "mm"))
    assert re.search(r"slit +30 +40 .* left \| right, top 0 to 20$", text, re.MULTILINE)


def test_an_oblique_or_curved_score_is_listed_by_its_middle_and_sent_to_the_guide():
    row = custom(HOLED.replace("[5, 60]", "[25, 60]"))
    (line,) = [line for line in row.worklines if line.work is Work.MOUNTAIN]
    assert line.way is Way.OBLIQUE
    assert "oblique, see the guide" in "\n".join(work_lines([row], "mm"))


def test_parts_cut_alike_share_a_letter_and_are_counted_for_all_copies(composed):
    book = composed(settings=["make.copies=3", "make.spares=2"])
    rows = {row.letter: row for row in cut_list(book)}
    assert sum(row.pieces for row in rows.values()) == len(book.parts)
    boards = next(row for row in rows.values() if row.entries[0].key == "front-board")
    assert boards.pieces == 2
    assert boards.total == 3 * (2 + 2)
    assert "3 copies" in cut_list_text(book, WORKSHOP.machine)


def test_left_and_right_pages_bear_different_letters_and_each_names_the_other(composed):
    book = composed()
    rows = {row.entries[0].key: row for row in cut_list(book)}
    left, right = rows["page-3"], rows["page-4"]
    assert left.letter != right.letter
    assert (left.mirror_image, right.mirror_image) == (right.letter, left.letter)
    assert rows["front-board"].mirror_image == rows["front-board"].letter  # the same both ways


def test_only_a_stock_without_a_printed_side_may_be_turned_over(composed):
    text = cut_list_text(composed(workshop=PRINTED), WORKSHOP.machine)
    blocks = {block.split("\n")[0]: block for block in text.split("\n\n")}
    page = next(block for head, block in blocks.items() if "page 3: plain leaf" in head)
    mat = next(block for head, block in blocks.items() if "mat of page 1: front" in head)
    assert "turned over" in page
    assert "never turn" not in page
    assert "never turn" in mat


def test_a_part_that_is_used_turned_by_half_is_not_called_a_mirror_image(composed):
    letters = {entry.key: entry.letter for entry in composed().parts}
    assert letters["edge-front-head"] == letters["edge-back-tail"]
    assert letters["edge-front-tail"] == letters["edge-back-head"]


def test_what_is_alike_on_both_sides_is_its_own_mirror_image_and_says_nothing_of_it(composed):
    book = composed()
    lining = next(row for row in cut_list(book) if row.entries[0].key == "spine-lining")
    assert lining.mirror_image == lining.letter
    text = cut_list_text(book, WORKSHOP.machine)
    images = re.findall(r"^(\w+) .*:.*\n    Mirror image of (\w+)\.$", text, re.MULTILINE)
    assert images
    assert {(b, a) for a, b in images} == set(images)
    assert all(a != b for a, b in images)


LONG = LAKE.replace('units = "in"', f'units = "in"\ntitle = "{"x" * 130} {"ab " * 60}"') + (
    f'[page.2]\nnote = "{"a remark " * 40}"\n'
)


@pytest.mark.parametrize("text", [LAKE, LONG, LAKE.replace('"in"', '"mm"').replace("5 x 3 1/2", "123.3 x 90")])  # fmt: skip
def test_no_line_is_longer_than_a_plain_editor_shows(composed, text):
    lines = cut_list_text(composed(text), WORKSHOP.machine).split("\n")
    assert max(map(len, lines)) <= WIDTH
    assert not [line for line in lines if line != line.rstrip()]
    assert not [line for line in lines if "\t" in line or not line.isprintable()]


def test_a_remark_of_the_person_is_printed_with_its_page(composed):
    assert "page 2: a remark a remark" in cut_list_text(composed(LONG), WORKSHOP.machine)


def test_every_assumed_value_is_named_at_the_end(composed):
    book = composed()
    text = " ".join(cut_list_text(book, WORKSHOP.machine).split())
    assumed = [note.text for note in book.notes if note.code == "assumed"]
    assert len(assumed) > 5
    assert [words for words in assumed if " ".join(words.split()) not in text] == []


def test_a_laser_is_spoken_of_only_where_the_machine_has_a_kerf(composed):
    book, machine = composed(), WORKSHOP.machine
    assert "laser" not in cut_list_text(book, machine)
    laser = replace(machine, kerf=millimetres("0.15"))
    assert "laser" in cut_list_text(book, laser)
    for text in (cut_list_text(book, machine), cut_list_text(book, laser)):
        assert "manual" in text
        assert "licensed" in text


def test_parts_of_one_stock_stand_together_with_fractions_and_mm(composed):
    lines = list(part_lines(cut_list(composed()), "in"))
    heads = [line for line in lines if "thick" in line]
    assert len(heads) == len({head.split(",")[0] for head in heads}) == 5
    (leaf,) = [line for line in lines if line.endswith("page 3: plain leaf")]
    assert re.search(r" 1  6 x 3 3/4 +≈ 152.4 x 95.2 +up ", leaf)


def test_a_book_in_mm_is_measured_in_mm_first(composed):
    book = composed(LAKE.replace('"in"', '"mm"').replace("5 x 3 1/2", "123 x 90"))
    (leaf,) = [line for line in part_lines(cut_list(book), "mm") if line.endswith("3: plain leaf")]
    assert re.search(r" 1  147 x 96 +≈ 5 25/32 x 3 25/32 +up ", leaf)  # 123 + 2x3 + 6 + 12


def test_the_joins_name_tape_and_place_in_the_order_of_working(composed):
    book = composed()
    words = list(join_words(book, book.joins))
    letters = {entry.key: entry.letter for entry in book.parts}
    a, c = letters["page-1"], letters["page-2"]
    hinge = next(line for line in words if line.startswith(f"page 2 ({c}), hinge tab"))
    assert hinge == (
        f"page 2 ({c}), hinge tab: tape 3/8 x 3 5/8 on its face, onto the face of page 1 ({a}), "
        "front; 1/16 from its binding edge, in the middle up and down"
    )
    seam = next(line for line in words if line.startswith(f"page 1 ({a}), seam"))
    assert "onto the reverse of its own back" in seam


def test_boards_are_told_by_their_edges_in_the_book_and_not_by_left_and_right(composed):
    onto_boards = [line for line in joins_of(composed()) if "side of front board" in line]
    assert len(onto_boards) >= 4
    assert not [line for line in onto_boards if re.search(r"\b(left|right)\b", line)]
    assert [line for line in onto_boards if "cover tab" in line and "from its spine edge" in line]


def test_titles_that_differ_in_their_page_only_are_told_together():
    titles = [f"page {n}: flap" for n in (9, 2, 3, 4, 7, 8)]
    assert merged_titles(["page 3: card", "page 3: card"]) == ["page 3: card"]
    assert merged_titles([*titles, "page 11: side pocket", "spine board"]) == [
        "pages 2 to 4, 7 to 9: flap", "page 11: side pocket", "spine board",
    ]  # fmt: skip


def test_the_list_for_programs_holds_the_same_in_mm(composed):
    rows = cut_list(composed())
    data = json.loads(json.dumps(as_json(rows)))
    assert [row["letter"] for row in data] == [row.letter for row in rows]
    page = data[0]
    assert (page["width"], page["height"]) == (187.325, 209.55)
    for line in page["lines"]:
        assert sum(line["across"].values()) == pytest.approx(page["width"])
        assert sum(line["up"].values()) == pytest.approx(page["height"])


def test_the_list_is_the_same_each_time(composed):
    assert cut_list_text(composed(), WORKSHOP.machine) == cut_list_text(
        composed(), WORKSHOP.machine
    )

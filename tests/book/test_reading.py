"""The two books are those that the book file was designed with; all values in them are our own."""

from __future__ import annotations

from pathlib import Path

import pytest

from dielines.book.reading import read_book, read_request
from dielines.book.request import Half, Holds, Looks, Mats, PageEdge, Rule, SizeKind
from dielines.errors import BookError
from dielines.lengths import caliper_points, inches, millimetres
from dielines.sizes.usual import Origin
from dielines.workshop.sizes import Size

HERE = Path(__file__).parent
TOP = 'units = "in"\nsize = "page 6 1/4 x 4 1/4"\nbinding = "tab and channel"\n'


def test_the_book_of_the_lake_reads_exactly(words):
    book = read_book(HERE / "lakeside.toml", words)
    assert (book.title, book.units, book.binding) == (
        "A weekend at the lake",
        "in",
        "tab-and-channel",
    )
    assert book.size.kind is SizeKind.PHOTO
    assert book.size.sides == Size(inches(5), inches("3 1/2"))
    kinds = ["side-pocket", "flap", "gate-doors", "plain-leaf", "flap"]
    assert [(page.number, page.kind) for page in book.pages] == list(enumerate(kinds, 1))
    assert [dict(page.given) for page in book.pages][0::2] == [{}, {}, {}]
    assert {key: given.value for key, given in book.pages[1].given.items()} == {"flap": "2 1/2"}
    assert {page.mats for page in book.pages} == {Mats.BOTH}
    assert {page.bound for page in book.pages} == {PageEdge.SPINE}
    assert {page.looks for page in book.pages} == {Looks.MIDDLE}
    assert {role: given.value for role, given in book.paper.items()} == {
        "pages": "cream cardstock",
        "boards": "grey board",
        "mats": "leaf print",
    }
    assert (book.copies, book.spares, book.spine, dict(book.ignored)) == (1, 0, Rule.USUAL, {})
    assert book.extra_page is Half.FRONT
    assert book.usual.length("square") == inches("3/16")
    assert book.usual["square"].origin is Origin.BOOK
    assert [n for n, row in book.usual.rows.items() if row.origin is Origin.BOOK] == ["square"]


def test_the_book_of_seeds_reads_exactly(words):
    book = read_book(HERE / "seed-swap.toml", words)
    assert (book.title, book.units) == ("Seed swap", "mm")
    assert book.size.kind is SizeKind.PAGE
    assert book.size.sides == Size(millimetres(95), millimetres(135))
    packets = Holds("seed packet", Size(millimetres(80), millimetres(115)), millimetres(2), 2)
    for page in book.pages[:8]:
        assert page.kind == "top-pocket"
        assert page.holds == (packets,)
        assert {key: given.value for key, given in page.given.items()} == {"depth": "to fit"}
    last = book.pages[8]
    assert (last.number, last.kind, last.holds, last.mats) == (9, "flap", (), Mats.NONE)
    assert {key: given.value for key, given in last.given.items()} == {"flap": 40}
    assert (book.spine, book.copies, book.spares) == (Rule.TO_FIT, 12, 1)
    assert dict(book.ignored) == {"grain": "my board has no grain"}
    assert book.usual.length("square") == millimetres(3)


def test_one_page_goes_before_every_page_of_its_kind(read):
    book = read(
        TOP
        + """pages = ["3 x side pocket", "flap"]
mats = "outer side"
[every."side pocket"]
depth = "1/4"
lip = "arched"
mats = "inner side"
note = "for all"
[page.2]
depth = "3/7"
mats = "none"
[page.3]
kind = "Top-Pocket"
"""
    )
    given = [{key: entry.value for key, entry in page.given.items()} for page in book.pages]
    assert given == [
        {"depth": "1/4", "lip": "arched"},
        {"depth": "3/7", "lip": "arched"},
        {},
        {},
    ]
    assert [page.mats for page in book.pages] == [
        Mats.INNER,
        Mats.NONE,
        Mats.OUTER,
        Mats.OUTER,
    ]
    assert [page.note for page in book.pages] == ["for all", "for all", "", ""]
    assert book.pages[2].kind == "top-pocket"


def test_what_is_said_of_a_page_keeps_its_place(read):
    book = read(TOP + 'pages = ["2 x flap"]\n[every.flap]\ngusset = 1\n[page.2]\nflap = 2\n')
    given = book.pages[1].given
    assert given["gusset"].place.position() == (6, 10)
    assert given["flap"].place.position() == (8, 8)
    given["flap"].place.report("out-of-range", "too wide")
    given["gusset"].place.report("out-of-range", "too deep")
    with pytest.raises(BookError) as caught:
        book.document.settle()
    assert [(fault.line, fault.field) for fault in caught.value.faults] == [
        (6, 'every "flap": gusset'),
        (8, "page 2: flap"),
    ]


@pytest.mark.parametrize(
    ("listed", "kinds"),
    [
        ('"9 x top pocket"', 9 * ["top-pocket"]),
        ('"2x flap", "flap"', 3 * ["flap"]),
        ('"3 × plain leaf", "1×flap"', [*3 * ["plain-leaf"], "flap"]),
        ('"Gate  Doors", "side-pocket"', ["gate-doors", "side-pocket"]),
        ('"200 X flap"', 200 * ["flap"]),
    ],
)
def test_pages_can_be_counted(read, listed, kinds):
    assert [page.kind for page in read(f"{TOP}pages = [{listed}]\n").pages] == kinds


@pytest.mark.parametrize(
    ("size", "kind", "across", "up"),
    [
        ("photo 5 x 3 1/2", SizeKind.PHOTO, inches(5), inches("3 1/2")),
        ("page 41/7 x 33/7 in", SizeKind.PAGE, inches("41/7"), inches("33/7")),
        ("Board A5 wide", SizeKind.BOARD, millimetres(210), millimetres(148)),  # ISO 216
        ("sheet letter", SizeKind.SHEET, inches("8 1/2"), inches(11)),  # ASME Y14.1
        ("page 95 x 135 mm", SizeKind.PAGE, millimetres(95), millimetres(135)),
    ],
)
def test_any_of_four_sizes_can_drive_the_book(read, size, kind, across, up):
    text = f'units = "in"\nsize = "{size}"\nbinding = "tab and channel"\npages = ["flap"]\n'
    rule = read(text).size
    assert (rule.kind, rule.sides) == (kind, Size(across, up))


def test_own_keys_of_a_page_are_read(read):
    book = read(
        TOP
        + """pages = ["side pocket"]
extra_page = "back half"
[page.1]
photo = "4 x 6"
bound = "head"
looks = "cover"
note = "the pier"
holds = [{ what = "ticket", size = "2 x 5 1/3", thick = "12 pt" }, { what = "map", size = "A6 wide" }]
"""
    )
    page = book.pages[0]
    assert page.photo == Size(inches(4), inches(6))
    assert (page.bound, page.looks, page.note) == (PageEdge.HEAD, Looks.COVER, "the pier")
    assert page.holds == (
        Holds("ticket", Size(inches(2), inches("16/3")), caliper_points(12), 1),
        Holds("map", Size(millimetres(148), millimetres(105)), None, 1),
    )
    assert dict(page.given) == {}
    assert book.extra_page is Half.BACK


def test_a_book_without_title_is_called_as_its_file(read):
    assert read(TOP + 'pages = ["flap"]\n').title == "lakeside"


def test_a_spine_can_have_a_size(read):
    book = read(TOP + 'pages = ["flap"]\n[spine]\nwidth = "1 3/7"\n')
    assert book.spine == inches("10/7")


def test_channels_can_be_computed_from_contents(read):
    book = read(TOP + 'pages = ["flap"]\n[usual]\nchannel = "to fit"\nend_channel = 0\n')
    assert book.usual.word("channel") == "to fit"
    assert book.usual.length("end_channel") == inches(0)


def test_parameters_are_left_to_later_where_they_are_not_known(document, words):
    text = TOP + 'pages = ["fan"]\n[page.1]\nblades = 7\n'
    stranger = type(words)({"fan": None}, words.bindings)
    page = read_request(document(text), stranger).pages[0]
    assert page.given["blades"].value == 7


def test_a_request_with_faults_of_pages_can_be_checked_on(document, words):
    text = TOP + 'pages = ["flap", "flip"]\n[page.1]\nflap = "4/3"\n'
    request = read_request(document(text), words)
    assert [page.number for page in request.pages] == [1]
    request.pages[0].given["flap"].place.report("out-of-range", "too wide")
    with pytest.raises(BookError) as caught:
        request.document.settle()
    assert [fault.code for fault in caught.value.faults] == ["unknown-page-kind", "out-of-range"]

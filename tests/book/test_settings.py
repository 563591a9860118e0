from __future__ import annotations

from decimal import Decimal

import pytest

from dielines.book.reading import read_request
from dielines.book.settings import value_of, with_settings
from dielines.errors import BookError
from dielines.lengths import inches
from dielines.workshop.sizes import Size

BOOK = """units = "in"
size = "page 6 1/4 x 4 1/4"
binding = "tab and channel"
pages = ["flap", "top pocket"]
[page.2]
holds = { what = "ticket", size = "2 x 3" }
depth = 7
"""


def faults_of(document, words, *settings):
    with pytest.raises(BookError) as caught:
        read_request(with_settings(document, settings), words).document.settle()
    return [(fault.file, fault.line, fault.field, fault.code) for fault in caught.value.faults]


def test_settings_go_before_what_the_file_says(document, words):
    changed = with_settings(
        document(BOOK),
        [
            "page.1.flap=2 1/3",
            "page.2.depth=3",
            "page.2.depth = 1/7",
            "size=photo 5 x 7",
            "usual.square=3/16",
            "every.top pocket.thumb=false",
            'every."flap".gusset=0.25',
            'title="1984"',
        ],
    )
    book = read_request(changed, words)
    book.document.settle()
    assert book.size.sides == Size(inches(5), inches(7))
    assert book.pages[0].given["flap"].value == "2 1/3"
    assert book.pages[0].given["gusset"].value == Decimal("0.25")
    assert book.pages[1].given["depth"].value == "1/7"
    assert book.pages[1].given["thumb"].value is False
    assert book.usual.length("square") == inches("3/16")
    assert book.title == "1984"
    assert document(BOOK).data["page"]["2"]["depth"] == 7


def test_a_setting_leaves_the_document_as_it_was(document):
    before = document(BOOK)
    with_settings(before, ["page.2.depth=3", "make.copies=4"])
    assert before.data == document(BOOK).data


def test_a_fault_of_a_setting_names_the_setting(document, words):
    settings = ["page.1.flop=2", "make.copies=0"]
    assert faults_of(document(BOOK), words, *settings) == [
        ("--set make.copies=0", 0, "make: copies", "out-of-range"),
        ("--set page.1.flop=2", 0, "page 1: flop", "unknown-key"),
    ]


def test_a_fault_of_the_file_keeps_its_line_beside_settings(document, words):
    wrong = document(BOOK.replace("depth", "dept"))
    assert faults_of(wrong, words, "usual.square=x") == [
        ("--set usual.square=x", 0, "usual: square", "not-a-size"),
        ("lakeside.toml", 7, "page 2: dept", "unknown-key"),
    ]


def test_a_table_that_was_set_takes_no_place_from_the_one_in_the_file(document, words):
    setting = 'page.2.holds={what="map", size="two"}'
    assert faults_of(document(BOOK), words, setting) == [
        (f"--set {setting}", 0, "page 2: holds: size", "not-a-size")
    ]


def test_what_is_said_later_against_a_setting_names_it(document, words):
    book = read_request(with_settings(document(BOOK), ["page.2.depth=9"]), words)
    book.pages[1].given["depth"].place.report("out-of-range", "too deep")
    with pytest.raises(BookError) as caught:
        book.document.settle()
    assert caught.value.faults[0].file == "--set page.2.depth=9"


@pytest.mark.parametrize(
    "setting",
    [
        "",
        "=",
        "flap",
        "=3",
        "page..flap=2",
        "units.x=3",
        ".".join("abcdefghij") + "=1",
        "a=" + "9" * 1000,
    ],
)
def test_a_setting_that_says_nothing_is_refused(document, setting):
    with pytest.raises(BookError) as caught:
        with_settings(document(BOOK), [setting])
    assert [fault.code for fault in caught.value.faults] == ["setting"]


def test_all_settings_that_say_nothing_are_told_at_once(document):
    with pytest.raises(BookError) as caught:
        with_settings(document(BOOK), ["flap", "size", "page.1.flap=2"])
    assert len(caught.value.faults) == 2


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("40", 40),
        ("0.1", Decimal("0.1")),
        ("2 1/2", "2 1/2"),
        ("2024-05-01", "2024-05-01"),
        ("3\nevil = 4", "3\nevil = 4"),
        ('{ what = "map" }', {"what": "map"}),
        ("[" * 2000, "[" * 2000),
        ("", ""),
    ],
)
def test_a_setting_is_read_as_in_the_file_or_as_plain_text(text, value):
    assert value_of(text) == value


def test_a_table_that_only_a_setting_makes_is_told_by_the_setting(document, words):
    (fault,) = faults_of(document(BOOK), words, "page.33.flap=2")
    assert fault == ("--set page.33.flap=2", 0, "page 33", "not-a-page")
    (fault,) = faults_of(document(BOOK), words, "page.2.depth=3", 'every."flop".gusset=2')
    assert fault[:2] == ('--set every."flop".gusset=2', 0)

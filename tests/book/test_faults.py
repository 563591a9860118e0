"""Each bad book gets its fault, at its line, under its field; a book with many gets all."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from dielines.book.reading import read_book, read_request
from dielines.documents import parse_document
from dielines.errors import BookError

HERE = Path(__file__).parent

# Lines 1 to 4 of a good book; each row below changes some of it and appends the rest.
GOOD = {
    "units": '"in"',
    "size": '"page 6 1/4 x 4 1/4"',
    "binding": '"tab and channel"',
    "pages": '["3 x flap", "side pocket"]',
}

BAD_TOP = [
    ("units", '"px"', "unknown-unit", 1, "units"),
    ("units", "25.4", "unknown-unit", 1, "units"),
    ("size", '"6 1/4 x 4 1/4"', "kind-of-size", 2, "size"),
    ("size", '"fotos 5 x 7"', "kind-of-size", 2, "size"),
    ("size", '"photo 5 x 7, page 6 x 8"', "two-sizes", 2, "size"),
    ("size", '["photo 5 x 7", "page 6 x 8"]', "wrong-kind", 2, "size"),
    ("size", '"photo 5 by 7"', "not-a-size", 2, "size"),
    ("size", '"page A17 wide"', "not-a-size", 2, "size"),
    ("size", '"page 5 x 0"', "not-a-size", 2, "size"),
    ("size", '"page -5 x 7"', "not-a-size", 2, "size"),
    ("size", '"page 5 x 1/0"', "not-a-size", 2, "size"),
    ("size", '"page 100 x 7"', "out-of-range", 2, "size"),
    ("size", "1e999999999", "wrong-kind", 2, "size"),
    ("binding", '"tab and chanel"', "unknown-binding", 3, "binding"),
    ("binding", "true", "wrong-kind", 3, "binding"),
    ("pages", '"3 x flap"', "wrong-kind", 4, "pages"),
    ("pages", "[]", "no-pages", 4, "pages"),
    ("pages", '["flip"]', "unknown-page-kind", 4, "pages: entry 1"),
    ("pages", '["flap", 3]', "wrong-kind", 4, "pages: entry 2"),
    ("pages", '["0 x flap"]', "out-of-range", 4, "pages: entry 1"),
    ("pages", '["201 x flap"]', "out-of-range", 4, "pages: entry 1"),
    ("pages", '["99999999999999999999 x flap"]', "out-of-range", 4, "pages: entry 1"),
    ("pages", '["150 x flap", "51 x flap"]', "too-many-pages", 4, "pages"),
    ("pages", '["9 flap"]', "count-of-pages", 4, "pages: entry 1"),
    ("pages", '["flap x 9"]', "count-of-pages", 4, "pages: entry 1"),
    ("pages", '[" "]', "empty", 4, "pages: entry 1"),
]

BAD_MORE = [
    ('titel = "Lake"', "unknown-key", 5, "titel"),
    ("title = 1984", "wrong-kind", 5, "title"),
    ('title = "two\\nlines"', "not-printable", 5, "title"),
    ('photo = "5 x 7"', "size-as-key", 5, "photo"),
    ('page = "95 x 135"', "size-as-key", 5, "page"),
    ("page = 3", "wrong-kind", 5, "page"),
    ('mats = "both"', "unknown-word", 5, "mats"),
    ('extra_page = "middle"', "unknown-word", 5, "extra_page"),
    ("[page.5]\nflap = 1", "not-a-page", 5, "page 5"),
    ("[page.0]\nflap = 1", "not-a-page", 5, "page 0"),
    ("[page.02]\nflap = 1", "not-a-page", 5, "page 02"),
    ("[page]\nflap = 1", "not-a-table", 6, "page.flap"),
    ("[[page]]\nflap = 1", "wrong-kind", 5, "page"),
    ("[page.2]\nflop = 1", "unknown-key", 6, "page 2: flop"),
    ("[page.2]\nflap = [1]", "wrong-kind", 6, "page 2: flap"),
    ("[page.2]\nflap = nan", "not-finite", 6, "page 2: flap"),
    ("[page.2]\nflap = 2024-05-01", "wrong-kind", 6, "page 2: flap"),
    ("[page.2]\nwidth = 5", "set-by-book", 6, "page 2: width"),
    ('[page.2]\nkind = "flip"', "unknown-page-kind", 6, "page 2: kind"),
    ('[page.2]\nkind = "gate doors"\nflap = 2', "unknown-key", 7, "page 2: flap"),
    ('[page.2]\nbound = "left"', "side-of-page", 6, "page 2: bound"),
    ('[page.2]\nbound = "bottom"', "side-of-page", 6, "page 2: bound"),
    ('[page.2]\nbound = "spin"', "unknown-word", 6, "page 2: bound"),
    ('[page.2]\nlooks = "inward"', "unknown-word", 6, "page 2: looks"),
    ('[page.2]\nphoto = "4"', "not-a-size", 6, "page 2: photo"),
    ("[page.2]\nnote = 3", "wrong-kind", 6, "page 2: note"),
    ('[page.2]\nholds = "ticket"', "wrong-kind", 6, "page 2: holds"),
    ('[page.2]\nholds = { what = "ticket" }', "missing", 6, "page 2: holds"),
    (
        '[page.2.holds]\nwhat = "x"\nsize = "2 x 3"\nthik = 1',
        "unknown-key",
        8,
        "page 2: holds: thik",
    ),
    (
        '[page.2.holds]\nwhat = "x"\nsize = "2 x 3"\nthick = -1',
        "out-of-range",
        8,
        "page 2: holds: thick",
    ),
    (
        '[[page.2.holds]]\nwhat = "x"\nsize = "2 x 3"\ncount = 1.5',
        "wrong-kind",
        8,
        "page 2: holds 1: count",
    ),
    ('[every."flip"]\nflap = 1', "unknown-page-kind", 5, 'every "flip"'),
    ("[every.flap]\nflop = 1", "unknown-key", 6, 'every "flap": flop'),
    ('[every.flap]\nkind = "flap"', "unknown-key", 6, 'every "flap": kind'),
    ('[every."gate doors"]\nbound = "right"', "side-of-page", 6, 'every "gate doors": bound'),
    (
        '[every."gate doors"]\ngusset = 1\n[every.gate-doors]\ngusset = 2',
        "said-twice",
        7,
        'every "gate-doors"',
    ),
    ("[every]\nflap = 1", "not-a-table", 6, "every.flap"),
    ("[usual]\nsqare = 1", "unknown-usual", 6, "usual: sqare"),
    ('[usual]\nsquare = "3"', "out-of-range", 6, "usual: square"),
    ('[usual]\nsquare = "3/16 px"', "not-a-size", 6, "usual: square"),
    ("[usual]\nsquare = inf", "not-finite", 6, "usual: square"),
    ("[usual]\nsquare = 1e999999999", "not-a-size", 6, "usual: square"),
    ('[usual]\nsquare = "to fit"', "not-a-size", 6, "usual: square"),
    ('[usual]\nbead = "maybe"', "unknown-word", 6, "usual: bead"),
    ('[usual]\nlining_end = "3/4"', "usual-conflict", 6, "usual: lining_end"),
    ("usual = 3", "wrong-kind", 5, "usual"),
    ('[spine]\nwidth = "to fitt"', "unknown-word", 6, "spine: width"),
    ("[spine]\nwidth = 0", "out-of-range", 6, "spine: width"),
    ("[spine]\nheight = 1", "unknown-key", 6, "spine: height"),
    ('[paper]\npagse = "grey"', "unknown-key", 6, "paper: pagse"),
    ("[paper]\npages = 3", "wrong-kind", 6, "paper: pages"),
    ("[make]\ncopies = 1001", "out-of-range", 6, "make: copies"),
    ("[make]\ncopies = 0", "out-of-range", 6, "make: copies"),
    ("[make]\ncopies = 1.5", "wrong-kind", 6, "make: copies"),
    ("[make]\nspares = true", "wrong-kind", 6, "make: spares"),
    ('[ignore]\ngrian = "none"', "unknown-rule", 6, "ignore: grian"),
    ('[ignore]\ngrain = ""', "empty", 6, "ignore: grain"),
    ("flap = 1 2", "not-toml", 5, ""),
    ("[page.2]\nflap = 1\nflap = 2", "not-toml", 7, ""),
]


def book_text(**changed: str | None) -> str:
    entries = {**GOOD, **changed}
    return "".join(f"{key} = {value}\n" for key, value in entries.items() if value is not None)


def faults_of(read, text):
    with pytest.raises(BookError) as caught:
        read(text)
    return [(fault.code, fault.line, fault.field) for fault in caught.value.faults]


def test_the_book_that_is_spoilt_below_is_good(read):
    assert len(read(book_text()).pages) == 4


@pytest.mark.parametrize(("key", "value", "code", "line", "field"), BAD_TOP)
def test_a_bad_value_at_the_top_is_told_at_its_place(read, key, value, code, line, field):
    assert faults_of(read, book_text(**{key: value})) == [(code, line, field)]


@pytest.mark.parametrize(("more", "code", "line", "field"), BAD_MORE)
def test_a_bad_entry_is_told_at_its_place(read, more, code, line, field):
    assert faults_of(read, book_text() + more + "\n") == [(code, line, field)]


@pytest.mark.parametrize("key", GOOD)
def test_what_every_book_needs_is_missed(read, key):
    assert [code for code, _, _ in faults_of(read, book_text(**{key: None}))] == ["missing"]


def test_an_empty_file_misses_all_that_a_book_needs(read):
    assert faults_of(read, "") == [("missing", 0, "")] * 4


def test_a_slip_gets_a_suggestion(read):
    for text, wanted in [
        ("[page.2]\nflop = 1", "'flap'"),
        ('[page.1]\nkind = "side poket"', "'side pocket'"),
        ("[usual]\nhinge-tab = 1", "'hinge_tab'"),
        ('[paper]\nborads = "grey"', "'boards'"),
        ('mats = "both side"', "'both sides'"),
        ('[page.1]\nbound = "foreedge"', "'fore-edge'"),
    ]:
        with pytest.raises(BookError, match=wanted):
            read(book_text() + text)


def test_all_faults_are_told_at_once(read):
    text = (
        book_text(units='"px"', size='"photo 5 y 7"', binding='"glue"', pages='["flip"]')
        + 'titel = "x"\n[page.1]\nbound = "left"\n[usual]\nsqare = 1\nsquare = 100\n'
        + "[make]\ncopies = 0\n[ignore]\ngrian = 3\n"
    )
    assert [(code, line) for code, line, _ in faults_of(read, text)] == [
        ("unknown-unit", 1),
        ("not-a-size", 2),
        ("unknown-binding", 3),
        ("unknown-page-kind", 4),
        ("unknown-key", 5),
        ("side-of-page", 7),
        ("unknown-usual", 9),
        ("unknown-rule", 14),
        ("wrong-kind", 14),
    ]  # no range is judged while the unit is unknown


def test_a_page_is_not_missed_while_the_number_of_pages_is_unknown(read):
    text = book_text(pages='["9 flap", "flap"]') + "[page.8]\nflap = 1\n"
    assert [code for code, _, _ in faults_of(read, text)] == ["count-of-pages"]


def test_what_the_book_sets_is_never_suggested(read):
    with pytest.raises(BookError) as caught:
        read(book_text() + "[page.1]\nwidht = 1\n")
    assert "'width'" not in str(caught.value)


def test_a_page_holds_no_more_than_anyone_would_list(read):
    thing = '{ what = "x", size = "2 x 3" }'
    assert (
        len(read(book_text() + f"[page.1]\nholds = [{100 * (thing + ',')}]\n").pages[0].holds)
        == 100
    )
    text = book_text() + f"[page.1]\nholds = [{101 * (thing + ',')}]\n"
    assert faults_of(read, text) == [("out-of-range", 6, "page 1: holds")]


def test_a_fault_of_every_page_of_a_kind_is_told_once(read):
    text = book_text() + '[every.flap]\nbound = "left"\nphoto = "4"\n'
    assert len(faults_of(read, text)) == 2


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("flap = 2 1/2", "quotes"),
        ("title = “Lake”", "plain quotes"),
        ("[every.top pocket]", "quotes"),
        ('size = "photo 5" x 7"', "inch"),
        ("units = 'in'\nunits = 'mm'", "keep one"),
        ("spine width = 3", "one word"),
        ("flap: 3", "Write ="),
    ],
)
def test_a_slip_in_the_writing_is_told_with_what_to_do(tmp_path, words, line, word):
    path = tmp_path / "book.toml"
    path.write_text(f"# a book\n{line}\n", "utf-8")
    with pytest.raises(BookError) as caught:
        read_book(path, words)
    (fault,) = caught.value.faults
    assert (fault.code, word in fault.remedy) == ("not-toml", True)


@pytest.mark.parametrize(
    ("text", "line", "word"),
    [
        ('title = "Lake\nunits = "in"\n', 1, "quote is missing"),
        ('units = "in"\ntitle = "Lake', 2, "quote is missing"),
        ('title = \'Lake\nunits = "in"\n\n', 1, "quote is missing"),
        ('units = "in"\npages = ["flap]\n', 2, "quote is missing"),
        ('pages = ["flap",\n  "flap"\nunits = "in"\n', 3, "] is missing"),
        ('pages = ["flap"\n[page.1]\nflap = 2\n', 2, "] is missing"),
        ('units = "in"\npages = ["flap"', 2, "] is missing"),
        ('pages = ["flap" "flap"]\n', 1, "comma or a quote is missing"),
        ('pages = ["flap, "flap"]\n', 1, "comma or a quote is missing"),
    ],
)
def test_a_missing_sign_is_told_by_its_name(tmp_path, words, text, line, word):
    path = tmp_path / "book.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(BookError) as caught:
        read_book(path, words)
    (fault,) = caught.value.faults
    assert (fault.code, fault.line) == ("not-toml", line)
    assert word in fault.message
    assert fault.remedy
    assert "illegal" not in fault.message


def test_the_end_of_a_list_is_missed_with_the_line_that_begins_it(tmp_path, words):
    path = tmp_path / "book.toml"
    path.write_text('units = "in"\npages = [\n"flap",\n"flap"\nmats = "none"\n', "utf-8")
    with pytest.raises(BookError) as caught:
        read_book(path, words)
    assert "line 2" in caught.value.faults[0].remedy


@pytest.mark.parametrize("header", ["spine", "make", "paper", "usual", "ignore", "page.1"])
def test_a_key_of_the_whole_book_below_a_header_is_told_to_stand_above(read, header):
    text = book_text() + f'[{header}]\nextra_page = "back half"\n'
    with pytest.raises(BookError) as caught:
        read(text)
    (fault,) = caught.value.faults
    assert (fault.line, fault.field.endswith("extra_page")) == (6, True)
    assert "above the first" in fault.remedy
    assert "did you mean" not in fault.message


def test_a_file_that_is_not_there_is_no_traceback(tmp_path, words):
    with pytest.raises(BookError, match=r"nowhere\.toml"):
        read_book(tmp_path / "nowhere.toml", words)


def mutated(chance: random.Random, text: str) -> str:
    """Return *text* with a few letters, words or lines moved, lost, doubled or replaced."""
    pieces = [*"0123456789/.-\"'[]{}=,#\n x×½∞", "1e9", "nan", "9" * 30, "inf", "left"]
    for _ in range(chance.randint(1, 4)):
        start = chance.randrange(len(text))
        end = start + chance.choice([0, 1, 1, 2, 5, 40])
        put = chance.choice([*pieces, "", text[start:end] * 2, text[:end][-9:]])
        text = text[:start] + put + text[end:] or "x"
    return text


def test_mutated_books_meet_no_traceback(words):
    chance = random.Random(20_240)
    books = [(HERE / name).read_text("utf-8") for name in ("lakeside.toml", "seed-swap.toml")]
    good = refused = 0
    for _ in range(500):
        text = mutated(chance, chance.choice(books))
        try:
            read_request(parse_document("b.toml", text, BookError), words).document.settle()
            good += 1
        except BookError as problem:
            refused += bool(problem.faults)
    assert good + refused == 500
    assert min(good, refused) > 50

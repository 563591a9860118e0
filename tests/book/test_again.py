"""One spoiled part is made again from ``sizes.toml`` alone, to the byte, or not at all."""

import re
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.bindings.registry import bindings
from dielines.book.again import is_sizes_document, library_for, made_again, workshop_for
from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.from_file import book_source, page_kinds
from dielines.book.outputs import SIZES, Outputs, book_files, piece_files
from dielines.book.pieces import piece_named
from dielines.book.reading import book_document
from dielines.book.recipes import path_from, path_text, proof_of
from dielines.documents import parse_document
from dielines.errors import BookError, UsageError
from dielines.language.library import built_in_library
from dielines.paths import Path as Line
from dielines.paths import Vertex
from dielines.workshop.loading import typical_workshop

MACHINE = typical_workshop("in").machine
LAKE = """units = "in"
size = "photo 5 x 10/3"
binding = "tab and channel"
pages = ["side pocket", "top pocket", "flap", "leaning leaf", "side pocket"]
mats = "both sides"
[page.1]
depth = "1/7"
[paper]
pages = "thin card"
"""
LEANING = """template = "leaning-leaf"
kind = "page"
version = 3
units = "mm"
[parameters]
width = { type = "length", default = 140 }
height = { type = "length", default = 90 }
lean = { type = "length", default = "width / 7" }
edge = { type = "choice", default = "plain", choices = ["plain", "cut"] }
[parts.page]
columns = ["width"]
rows = ["height : page"]
bound = "page left"
edits = [{ clip = "page", corner = "top right", by = "lean" }]
"""
WORKSHOP = """units = "in"
[papers."thin card"]
caliper = "9/1000"
sheets = ["12 x 12"]
[machine]
reads = ["svg"]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book, a template of the person's own and a workshop file, and the folder of its files."""
    (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
    (tmp_path / "leaning-leaf.toml").write_text(LEANING, encoding="utf-8")
    (tmp_path / "workshop.toml").write_text(WORKSHOP, encoding="utf-8")
    (tmp_path / "made").mkdir()
    return tmp_path


def composed(folder: Path) -> Book:
    source = book_source(book_document(folder / "lake.toml"))
    return compose(source.request, source.workshop, source.library)


def made(folder: Path) -> Book:
    """Compose the book and leave its ``sizes.toml`` in its folder."""
    book = composed(folder)
    (folder / "made" / SIZES).write_bytes(book_files("lake", book, MACHINE).texts[SIZES])
    return book


def again(folder: Path, wanted: str) -> Outputs:
    document = book_document(folder / "made" / SIZES)
    assert is_sizes_document(document)
    result = made_again(document, wanted, library_for(document, None))
    return piece_files(result.book_name, result.piece, MACHINE)


def change(folder: Path, old: str, new: str) -> None:
    path = folder / "made" / SIZES
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_every_part_comes_out_to_the_byte_without_the_book(folder):
    book = made(folder)
    (folder / "lake.toml").unlink()
    for letter in dict.fromkeys(entry.letter for entry in book.parts):
        first = piece_files("lake", piece_named(book, letter), MACHINE)
        assert again(folder, letter).contents == first.contents
        assert all(name.startswith(f"lake.{letter}.") for name in first.contents)


@pytest.mark.parametrize("binding", bindings())
def test_every_part_of_every_kind_of_page_comes_out_again(folder, binding):
    kinds = sorted(page_kinds(built_in_library()))
    text = f'units = "mm"\nsize = "page 150 x 110"\nbinding = "{binding}"\nmats = "both sides"\n'
    pages = ", ".join(f'"{kind}"' for kind in [*kinds, "side pocket"])
    (folder / "lake.toml").write_text(f"{text}pages = [{pages}]\n", encoding="utf-8")
    book = made(folder)
    document = book_document(folder / "made" / SIZES)
    library = library_for(document, None)
    for letter in dict.fromkeys(entry.letter for entry in book.parts):
        piece = piece_named(book, letter)
        result = made_again(document, letter, library).piece
        assert (result.key, result.title) == (piece.key, piece.title)
        assert proof_of(result.part) == proof_of(piece.part)


def test_the_thickness_of_that_time_is_used_and_not_that_of_the_workshop_now(folder):
    made(folder)
    text = (folder / "made" / SIZES).read_text(encoding="utf-8")
    assert 'cardstock = "0.2286 mm"' in text  # 9/1000 in
    before = again(folder, "A").contents
    (folder / "workshop.toml").write_text(WORKSHOP.replace("9/", "14/"), encoding="utf-8")
    assert again(folder, "A").contents == before


def test_letter_key_and_title_of_any_part_cut_alike_name_the_same(folder):
    book = made(folder)
    twins = [e for e in book.parts if e.letter == book.part("front-board").letter]
    assert len(twins) == 2
    files = [again(folder, name).contents for e in twins for name in (e.key, e.title, e.letter)]
    assert all(content == files[0] for content in files)
    assert piece_named(book, "Page 2") == piece_named(book, "page-2")


def test_a_name_that_is_none_is_told_with_what_there_is(folder):
    made(folder)
    with pytest.raises(UsageError, match="page 2"):
        again(folder, "pgae 2")
    with pytest.raises(UsageError, match=r"A   page 1: side pocket\n  B   page 1: reinforcement"):
        again(folder, "something else entirely")


def codes(folder: Path, wanted: str) -> list[str]:
    with pytest.raises(BookError) as caught:
        again(folder, wanted)
    return [fault.code for fault in caught.value.faults]


def test_a_template_of_another_version_is_not_taken_for_the_one_of_that_time(folder):
    book = made(folder)
    (folder / "leaning-leaf.toml").write_text(LEANING.replace("= 3", "= 4"), encoding="utf-8")
    assert codes(folder, "page-4") == ["changed"]
    assert again(folder, "page-1").contents
    assert book.part("page-4").part.version == 3


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('corner = "top right"', 'corner = "bottom right"'),
        ('by = "lean"', 'by = "lean * 0.999"'),
    ],
)
def test_a_template_whose_shape_changed_without_a_new_version_is_found_by_the_proof(
    folder, old, new
):
    made(folder)
    text = LEANING.replace(old, new)
    assert text != LEANING
    (folder / "leaning-leaf.toml").write_text(text, encoding="utf-8")
    assert codes(folder, "page-4") == ["changed"]


def test_a_usual_size_that_changed_since_does_not_matter(folder):
    made(folder)
    before = again(folder, "page-4").contents
    text = LEANING.replace('"width / 7"', '"width / 6"')
    (folder / "leaning-leaf.toml").write_text(text, encoding="utf-8")
    assert again(folder, "page-4").contents == before


def test_a_part_that_its_template_makes_no_more_is_told(folder):
    made(folder)
    text = LEANING.replace("[parts.page]", "[parts.leaf]")
    (folder / "leaning-leaf.toml").write_text(text, encoding="utf-8")
    assert codes(folder, "page-4") == ["changed"]


def test_a_template_that_is_gone_is_told_by_name(folder):
    made(folder)
    (folder / "leaning-leaf.toml").unlink()
    with pytest.raises(UsageError, match="leaning-leaf"):
        again(folder, "page-4")


def test_a_size_that_somebody_changed_gives_another_part_and_is_refused(folder):
    book = made(folder)
    change(folder, 'seam = "12.7 mm"', 'seam = "12.8 mm"')
    assert codes(folder, book.part("page-1").letter) == ["changed"]


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('seam = "12.7 mm"', 'seam = "-4 mm"', "out-of-range"),
        ('seam = "12.7 mm"', 'seem = "12.7 mm"', "unknown-parameter"),
        ("version = 1", 'version = "one"', "wrong-kind"),
        ("mirrored = ", "mirored = ", "missing"),
        ('towards = "outer"', 'towards = "upward"', "unknown-word"),
    ],
)
def test_a_damaged_file_is_told_with_its_place(folder, old, new, code):
    made(folder)
    change(folder, old, new)
    found = codes(folder, "A")
    assert code in found


@pytest.mark.parametrize(
    "text", ["1 2, 3", "1 2", "a b, c d, e f", "0 0, 1 1e300, 5 5", "", "0 nan, 1 1", "0 0, 1/0 1"]
)
def test_an_outline_that_is_none_is_a_fault(folder, text):
    book = made(folder)
    mat = next(entry for entry in book.parts if entry.role == "mats")
    path = folder / "made" / SIZES
    whole = path.read_text(encoding="utf-8")
    head, table = whole.split(f"[parts.{mat.letter}]")
    table = re.sub(r'outline_1 = ".*"', f'outline_1 = "{text}"', table, count=1)
    path.write_text(f"{head}[parts.{mat.letter}]{table}", encoding="utf-8")
    assert codes(folder, mat.letter) == ["not-an-outline"]


def test_paths_read_back_exactly():
    path = Line((Vertex(Fraction(1, 7), 0.1 + 0.2), Vertex(5, -3, Fraction(-1)), Vertex(1e-9, 2.0)))
    back = path_from(path_text(path))
    assert back == path
    assert [type(v.x) for v in back.vertices] == [Fraction, Fraction, float]


def test_the_proof_tells_parts_apart_by_the_last_digit_of_anything_drawn(folder):
    parts = [entry.part for entry in composed(folder).parts]
    proofs = {proof_of(part) for part in parts}
    letters = {entry.letter for entry in composed(folder).parts}
    assert len(proofs) >= len(letters)
    assert proof_of(parts[0]) == proof_of(composed(folder).parts[0].part)


def test_workshop_and_templates_are_found_beside_the_file_or_in_the_folder_above(folder):
    made(folder)
    document = book_document(folder / "made" / SIZES)
    assert workshop_for(document, None).machine.reads == ("svg",)
    assert "leaning-leaf" in library_for(document, None).own
    own = WORKSHOP.replace("svg", "dxf")
    (folder / "made" / "workshop.toml").write_text(own, encoding="utf-8")
    assert workshop_for(document, None).machine.reads == ("dxf",)
    assert workshop_for(document, folder / "workshop.toml").machine.reads == ("svg",)
    assert "leaning-leaf" not in library_for(document, folder / "made").own


def test_a_book_is_no_sizes_file():
    assert not is_sizes_document(parse_document("lake.toml", LAKE, BookError))

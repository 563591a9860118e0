from __future__ import annotations

import tomllib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.documents import parse_document
from dielines.errors import BookError, Defect
from dielines.lengths import Length, inches, millimetres
from dielines.sizes.exact import millimetres_text, read_millimetres
from dielines.sizes.reasons import Sizes
from dielines.sizes.sizes_file import read_sizes, sizes_of, sizes_text
from dielines.sizes.usual import usual_sizes

PARTS = {
    "A": {
        "template": "side-pocket",
        "version": 3,
        "width": inches("16/3"),
        "thumb": True,
        "lean": Fraction(100, 7),
        "lip": "arched",
        "graft": {"tab": inches(2), "of": {"deep": millimetres("-0.24")}},
    },
    "B mirrored": {"template": "flap", "thumb": False},
}


def found_sizes() -> Sizes:
    sizes = Sizes("in")
    sizes.take_usual(usual_sizes("in"))
    sizes.count("junctions", 7, "pages")
    sizes.derive("page_2.flap", "5 / 3 + 2 * margin")
    sizes.derive("thin", "0.24 mm / 7")
    sizes.derive("negative", "0 - thin")
    return sizes


def read_back(text: str):
    document = parse_document("sizes.toml", text, BookError)
    sizes = sizes_of(document)
    document.settle()
    return sizes


def test_every_size_reads_back_as_it_was():
    reasons = found_sizes().reasons()
    title = 'The "lake"\\ — été \x7f\t#'
    back = read_back(sizes_text(title, reasons, PARTS))
    assert (back.title, back.units) == (title, "in")
    assert dict(back.sizes) == {name: reason.value for name, reason in reasons.by_name.items()}
    assert back.parts == PARTS
    assert back.parts["A"]["thumb"] is True


def test_writing_what_was_read_gives_the_same_text():
    text = sizes_text("x", found_sizes().reasons(), PARTS)
    assert sizes_text("x", found_sizes().reasons(), read_back(text).parts) == text


def test_sizes_are_written_exactly_with_inches_beside_them():
    lines = sizes_text("x", found_sizes().reasons(), {}).split("\n")
    assert 'square = "3.175 mm"  # 1/8 in' in lines
    assert '"page_2.flap" = "2921/60 mm"  # ≈ 1 59/64 in = 5 / 3 + 2 x margin' in lines
    assert "junctions = 7" in lines


def test_a_stranger_can_read_the_file_as_toml():
    data = tomllib.loads(sizes_text("x", found_sizes().reasons(), PARTS))
    assert data["sizes"]["margin"] == "3.175 mm"
    assert data["parts"]["A"]["graft"]["of"]["deep"] == "-0.24 mm"


@pytest.mark.parametrize("word", ["3 mm", "-1/3 mm", "2/3"])
def test_a_word_that_would_read_back_as_a_size_is_refused(word):
    with pytest.raises(Defect):
        sizes_text("x", found_sizes().reasons(), {"A": {"lip": word}})


bits = st.integers(min_value=1, max_value=2**96 - 1)  # as far as formulas go


@given(bits, bits)
def test_any_length_reads_back(top, bottom):
    mm = Fraction(top, bottom)
    assert read_millimetres(millimetres_text(Length(mm))) == Length(mm)


@pytest.mark.parametrize("mm", [Fraction(1, 2**40), Fraction(1, 3**50), Fraction(-(10**29), 7)])
def test_lengths_at_the_bounds_of_formulas_read_back(mm):
    assert read_millimetres(millimetres_text(Length(mm))) == Length(mm)


HEAD = 'title = "x"\nunits = "mm"\n'


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("", "missing", 0),
        (HEAD, "missing", 1),
        (HEAD + "[sizes]\na = 0.5\n", "wrong-kind", 4),
        (HEAD + '[sizes]\na = "3 in"\n', "wrong-kind", 4),
        (HEAD + '[sizes]\na = "1/0 mm"\n', "wrong-kind", 4),
        (HEAD + "[sizes]\na = true\n", "wrong-kind", 4),
        (HEAD + "[sizes]\n[parts]\nA = 3\n", "wrong-kind", 5),
        (HEAD + "[sizes]\n[parts.A]\nx = [1]\n", "wrong-kind", 5),
        (HEAD.replace("mm", "px") + "[sizes]\n", "unknown-word", 2),
        ("[sizes\n", "not-toml", 1),
    ],
)
def test_a_spoilt_file_is_told_where(tmp_path, text, code, line):
    path = tmp_path / "sizes.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(BookError) as caught:
        read_sizes(path)
    assert (code, line) in [(fault.code, fault.line) for fault in caught.value.faults]

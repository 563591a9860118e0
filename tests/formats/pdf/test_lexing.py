"""Words of content streams, spelled in every way that the standard allows (ISO 32000-1, 7.2, 7.3)."""

from contextlib import suppress

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.formats.out_of_bounds import OutOfBounds
from dielines.formats.pdf.bounds import Allowance
from dielines.formats.pdf.lexing import Broken, Name, operations


def taken(content: bytes, allowance: Allowance | None = None) -> list:
    return [tuple(each) for each in operations(content, allowance or Allowance())]


def test_operands_stand_before_their_operator():
    assert taken(b"1 0 0 1 .5 -3. cm\n+7 w q") == [
        ("cm", [1.0, 0.0, 0.0, 1.0, 0.5, -3.0]), ("w", [7.0]), ("q", []),
    ]  # fmt: skip


def test_white_space_of_all_kinds_and_comments_part_words():
    assert taken(b"%one 2 l\r1\x00 2%three\n\x0cm%end") == [("m", [1.0, 2.0])]


def test_words_need_no_space_around_brackets():
    assert taken(b"[1[2]](a)/N<<>>Tj") == [("Tj", [[1.0, [2.0]], b"a", Name("N"), {}])]


@pytest.mark.parametrize(
    ("spelled", "meant"),
    [
        (b"(a(b)c)", b"a(b)c"),
        (rb"(a\(b\\c\))", b"a(b\\c)"),
        (rb"(\101\61\0612)", b"A112"),
        (b"(one\\\ntwo\\\r\nthree)", b"onetwothree"),
        (rb"(\n\t\q)", b"\n\tq"),
        (b"<48 65\n6C6>", b"Hel`"),
        (b"<>", b""),
    ],
)
def test_strings(spelled, meant):
    assert taken(spelled + b" Tj") == [("Tj", [meant])]


def test_names_may_spell_signs_by_number():
    assert taken(b"/A#20B#c3#a9 gs") == [("gs", [Name("A B\xe9")])]


def test_dictionaries_keep_their_pairs_whatever_the_values_are():
    told = taken(b"/OC <</A true/B null/C [1 (x)]/D <</E /F>>>> BDC")[0][1][1]
    assert told == {"A": "true", "B": "null", "C": [1.0, b"x"], "D": {"E": "F"}}


def test_a_picture_within_the_content_is_passed_over():
    content = b"q BI /W 2 /H 1 ID \x00\xff(((EIx) EI Q 1 2 m"
    assert [name for name, _ in taken(content)] == ["q", "BI", "Q", "m"]


@pytest.mark.parametrize(
    "content", [b"(never ends", b"<12 xy>", b"[1 2 m", b"<< /A 1 S", b"1 " * 600]
)
def test_what_never_ends_is_told(content):
    with pytest.raises(Broken):
        taken(content)


@pytest.mark.parametrize("content", [b"[" * 50 + b"]" * 50, b"<</A" * 50, b"9" * 50 + b" w"])
def test_what_goes_beyond_a_bound_is_refused(content):
    with pytest.raises(OutOfBounds):
        taken(content)


def test_words_are_counted():
    assert len(taken(b"q Q " * 10, Allowance(tokens=21))) == 20
    with pytest.raises(OutOfBounds):
        taken(b"q Q " * 10, Allowance(tokens=20))


@given(st.binary(max_size=60))
def test_any_bytes_come_to_an_end(content):
    with suppress(Broken, OutOfBounds):
        taken(content)


numbers = st.floats(-1e6, 1e6).map(lambda x: f"{x:.5f}".encode())
strings = st.binary(max_size=12).map(lambda x: pikepdf.String(x).unparse())
words = st.one_of(
    numbers, strings, st.sampled_from([b"/Name", b"/A#20B", b"[1 (x) /N]", b"<</K (v)>>"])
)


@given(st.lists(st.tuples(st.lists(words, max_size=4), st.sampled_from(["m", "l", "cm", "Tj", "BDC"])), max_size=6))  # fmt: skip
def test_another_library_takes_the_same_content_apart_the_same_way(lines):
    content = b"\n".join(b" ".join([*operands, name.encode()]) for operands, name in lines)
    pdf = pikepdf.new()
    stream = pikepdf.Stream(pdf, content)
    theirs = [(str(name), [plain(word) for word in operands])
              for operands, name in pikepdf.parse_content_stream(stream)]  # fmt: skip
    assert [(name, list(operands)) for name, operands in taken(content)] == theirs


def plain(word):
    if isinstance(word, pikepdf.Array):
        return [plain(each) for each in word]
    if isinstance(word, pikepdf.Dictionary):
        return {key[1:]: plain(value) for key, value in word.items()}
    if isinstance(word, pikepdf.Name):
        return str(word)[1:]
    return bytes(word) if isinstance(word, pikepdf.String) else float(word)

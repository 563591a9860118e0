"""Notes survive every letter and length, and nobody's file breaks their reader."""

import pytest

from dielines.formats.dxf.notes import LINE_LENGTH, from_lines, pairs_of, to_lines, value_of


@pytest.mark.parametrize(
    "text", ["", "a" * 1000, "Été 🌱", '"quoted" \\ \\U+0041', "a\nb\r\n\0\x7f", "],["]
)
def test_a_note_reads_back(text):
    lines = to_lines([("title", text), ("metadata", text, text)])
    assert all(
        line.isascii() and line.isprintable() and len(line) <= LINE_LENGTH + 10 for line in lines
    )
    assert not any("\\U+" in line for line in lines)
    assert from_lines(lines) == [("title", text), ("metadata", text, text)]


@pytest.mark.parametrize(
    "line",
    [
        "dielines: ",
        "dielines: {}",
        "dielines: []",
        'dielines: ["a", 1]',
        "dielines: " + "[" * 100000,
        "dielines+ x",
    ],
)
def test_what_is_no_note_is_passed_over(line):
    assert from_lines([line, 'dielines: ["title", "Lake"]']) == [("title", "Lake")]


def test_more_text_than_allowed_is_not_read():
    endless = ['dielines: ["a"', *["dielines+ " + " " * 100_000] * 30, "dielines+ ]"]
    assert from_lines(endless) == []


def test_half_a_letter_becomes_a_question_mark():
    assert from_lines(['dielines: ["title", "\\ud83c"]']) == [("title", "?")]


def test_values_are_found_by_their_key():
    notes = [
        ("title",),
        ("title", "Lake"),
        ("title", "Pond"),
        ("metadata", "a", "b"),
        ("metadata", "c"),
    ]
    assert value_of(notes, "title") == "Lake"
    assert value_of(notes, "unit", "mm") == "mm"
    assert pairs_of(notes, "metadata") == (("a", "b"),)

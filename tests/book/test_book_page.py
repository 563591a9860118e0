"""The page about the book file: each piece of a book on it reads without faults, and nothing is left out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dielines.book.page_keys import OWN_KEYS
from dielines.book.reading import KEYS
from dielines.sizes.exact import exact_words
from dielines.sizes.usual import UsualSize, usual_sizes
from dielines.workshop.roles import ROLES

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "book-file.md").read_text("utf-8")
PIECES = re.findall(r"^```toml\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
BASE = {
    "units": '"in"',
    "size": '"photo 5 x 7"',
    "binding": '"tab and channel"',
    "pages": '["side pocket"]',
}


def whole(piece: str) -> str:
    """Return *piece* with what a book needs in front of it."""
    top = re.split(r"^\[", piece, flags=re.MULTILINE)[0]
    missing = [key for key in BASE if not re.search(rf"^{key} +=", top, re.MULTILINE)]
    return "".join(f"{key} = {BASE[key]}\n" for key in missing) + piece


@pytest.mark.parametrize("piece", PIECES)
def test_each_piece_of_a_book_reads_without_faults(read, piece):
    assert read(whole(piece)).pages


def test_the_pieces_show_every_key():
    shown = "\n".join(PIECES)
    for key in KEYS:
        assert re.search(rf"^\[?{key}\b", shown, re.MULTILINE), key
    for key in OWN_KEYS:
        assert re.search(rf"^{key} +=", shown, re.MULTILINE), key


def said(row: UsualSize, units: str) -> str:
    if row.length is None:
        return row.word
    return exact_words(row.length, units).removesuffix(f" {units}")


def test_the_table_of_usual_sizes_is_the_one_that_is_used():
    inches, mm = usual_sizes("in").rows, usual_sizes("mm").rows
    for name, row in inches.items():
        line = f"| `{name}` | {said(row, 'in')} | {said(mm[name], 'mm')} | {row.help} |"
        assert line in PAGE.split("\n")
        for word, meaning in row.words.items():
            assert f'| `{name}` | `"{word}"` | {meaning} |' in PAGE.split("\n")


def test_every_role_of_a_material_is_named():
    sentence = re.search(r"Roles are (.*)\.\n", PAGE)
    assert sentence is not None
    assert set(re.findall(r"`(\w+)`", sentence[1])) == set(ROLES)

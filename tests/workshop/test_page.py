"""The page about the workshop file, and the sample, held against the program."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dielines.errors import BookError
from dielines.lengths import inches, millimetres
from dielines.workshop.hand_tools import HAND_FIELDS, SCORING_BOARD_FIELDS, TRIMMER_FIELDS
from dielines.workshop.loading import load_workshop
from dielines.workshop.machine_entry import DASH_FIELDS
from dielines.workshop.machine_entry import FIELDS as MACHINE_FIELDS
from dielines.workshop.materials import materials
from dielines.workshop.reading import FIELDS
from dielines.workshop.roles import ROLES
from dielines.workshop.stock_entries import FIELDS as STOCK_FIELDS
from dielines.workshop.stock_entries import SHEET_FIELDS
from dielines.workshop.tape import FIELDS as TAPE_FIELDS
from dielines.workshop.tape import ROLL_FIELDS

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "workshop.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```toml([^\n]*)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
EXAMPLES = [text for words, text in BLOCKS if "faulty" not in words]
SAMPLE = ROOT / "samples" / "workshop.toml"


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_of_the_page_is_a_workshop_file(load, text):
    assert load(text).stock_for("pages")


def test_the_faulty_example_has_the_faults_that_the_page_tells(load):
    text = next(text for words, text in BLOCKS if "faulty" in words)
    with pytest.raises(BookError) as error:
        load(text)
    told = re.findall(r"^faulty\.toml:(.*)$", PAGE, re.MULTILINE)
    assert [str(fault).partition("workshop.toml:")[2] for fault in error.value.faults] == told


@pytest.mark.parametrize(
    "field",
    [
        *FIELDS, *MACHINE_FIELDS, *DASH_FIELDS, *TRIMMER_FIELDS, *SCORING_BOARD_FIELDS, *HAND_FIELDS,
        *TAPE_FIELDS, *ROLL_FIELDS, *SHEET_FIELDS, *(f for fields in STOCK_FIELDS.values() for f in fields),
    ],
    ids=lambda field: field.name,
)  # fmt: skip
def test_every_key_stands_in_an_example_and_every_word_for_it_on_the_page(field):
    assert any(
        re.search(rf"(^|[\[{{,.] *){field.name}\b", line)
        for text in EXAMPLES
        for line in text.splitlines()
    )
    assert all(word in PAGE for word in field.words)


def test_every_role_and_every_typical_stock_stands_on_the_page():
    assert all(f"`{role}`" in PAGE for role in ROLES)
    assert all(f"`{name}`" in PAGE for name in materials())


def test_the_sample_holds_and_has_what_the_books_beside_it_name():
    workshop = load_workshop(SAMPLE, ROOT)
    assert workshop.stock_named("cream cardstock").caliper == millimetres("0.24")
    assert workshop.stock_named("leaf print").is_one_way_up
    assert workshop.stock_for("boards").name == "grey board"
    assert workshop.tape.widths[0] == inches("1/8")

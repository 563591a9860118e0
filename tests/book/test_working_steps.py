"""All that is glued is told in the order of working: reinforcement, seams, joins, mats."""

import re
from pathlib import Path

import pytest

from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.join_words import join_words
from dielines.book.mats import ROLE as MATS
from dielines.book.reading import book_document
from dielines.book.working_steps import OPEN_END, strengthened, working_steps

LAKE = """units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["side pocket", "flap", "plain leaf", "plain leaf", "flap", "side pocket"]
mats = "both sides"
[usual]
reinforcement_lap = "5/16"
mat_border = "3/16"
"""


@pytest.fixture
def composed(tmp_path: Path):
    """Compose the book, with settings, in a workshop of which nothing is told."""

    def compose_book(*settings: str) -> Book:
        (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
        (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
        source = book_source(book_document(tmp_path / "lake.toml"), settings)
        return compose(source.request, source.workshop, source.library)

    return compose_book


def letters_of(book: Book) -> dict[str, str]:
    return {entry.key: entry.letter for entry in book.parts}


def test_every_reinforcement_has_its_step_before_all_joins(composed):
    book = composed()
    steps = list(working_steps(book))
    covering = {entry.letter for entry in book.parts if entry.part.covers}
    told = {re.search(r"\((\w+)\)", step)[1] for step in steps if "before folding" in step}
    assert told == covering
    first_seam = next(i for i, step in enumerate(steps) if "tape" in step)
    assert all("before folding" in step for step in steps[:first_seam])
    assert first_seam == len([step for step in steps if "before folding" in step])


def test_a_reinforcement_says_which_panels_of_which_side_and_how_far_it_laps(composed):
    book = composed()
    letters = letters_of(book)
    steps = list(working_steps(book))
    (first,) = [s for s in steps if f"({letters['page-1-reinforcement']}) of page 1," in s]
    assert "the face of its cover tab and channel, lapping 5/16 onto the page" in first
    (strip,) = [s for s in steps if f"({letters['hinge-strip-backing']})" in s]
    assert "reverse" in strip
    alike = [s for s in steps if f"({letters['page-2-reinforcement']})" in s]
    assert len(alike) == 1
    assert "pages 2 to 5," in alike[0]


def test_a_reinforcement_goes_onto_the_part_that_it_covers(composed):
    book = composed()
    for entry in book.parts:
        target = strengthened(book, entry)
        assert (target is None) == (not entry.part.covers)
        if target is not None:
            assert set(entry.part.covers) <= {panel.name for panel in target.part.panels}


def test_mats_close_with_their_border_and_every_letter(composed):
    book = composed()
    *_, last = working_steps(book)
    letters = {entry.letter for entry in book.parts if entry.role == MATS}
    assert set(re.findall(r"\b[A-Z]{1,2}\b", last)) == letters
    assert "3/16 in bare" in last
    assert not [s for s in working_steps(composed("mats=none")) if s.startswith("mat")]


def test_a_pocket_bound_by_a_tab_is_open_at_its_spine_end_unless_a_bead_closes_it(composed):
    without = list(working_steps(composed()))
    assert without.count(OPEN_END) == 1
    beaded = list(working_steps(composed("usual.bead=on")))
    assert OPEN_END not in beaded
    beads = [s for s in beaded if "bead of glue" in s]
    assert [step[:6] for step in beads] == ["page 1", "page 6"]
    flat = 'pages=["flap", "plain leaf", "flap"]'
    assert OPEN_END not in list(working_steps(composed(flat)))


def test_an_insert_with_tape_of_its_own_says_where(composed):
    held = 'page.1.holds={what="envelope", size="3 x 2", thick="19 pt"}'
    book = composed(held)
    (envelope,) = [entry for entry in book.parts if entry.role == "inserts"]
    steps = [s for s in working_steps(book) if f"({envelope.letter})" in s]
    assert len(steps) == len(envelope.part.zones) > 1


def test_edge_strips_of_both_boards_are_told_together(composed):
    book = composed()
    strips = [join for join in book.joins if join.part.startswith("edge-")]
    told = [s for s in join_words(book, book.joins) if s.startswith("edge strip")]
    assert len(told) * 2 == len(strips) == 12
    letters = letters_of(book)
    heads = [s for s in told if ", head of both boards" in s]
    both = f"({letters['edge-front-head']}, {letters['edge-back-head']})"
    assert len(heads) == 2
    assert all(both in s and f"({letters['front-board']})" in s for s in heads)
    assert not [s for s in told if "front board" in s or "back board" in s]

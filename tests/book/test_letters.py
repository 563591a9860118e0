"""Letters: what is cut alike shares one, mirror images do not unless they are alike."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import islice

import pytest

from dielines.bindings.bound import BoundPart
from dielines.book.letters import canonical, letter_names, lettered
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.part import Purpose, Side, Stroke, Zone
from dielines.part_motion import mirrored
from dielines.paths import Path, Vertex, circle, line, rectangle, reversed_path

CALIPERS = {"cardstock": Fraction(24, 100)}


@pytest.fixture(scope="module")
def leaf():
    """A leaf of 3 x 2 1/3 in with its fold off the middle."""
    text = """
template = "leaf"
kind = "insert"
units = "in"
[parts.leaf]
grain = "up"
columns = [1, 2]
rows = ["2 1/3 : one two"]
folds = { "one | two" = 90 }
"""
    return build(template_from_text(text), {}, CALIPERS).parts[0]


def letters(*parts, roles=()) -> list[str]:
    roles = roles or ["pages"] * len(parts)
    return lettered(
        [
            BoundPart(f"k{i}", "", part, role)
            for i, (part, role) in enumerate(zip(parts, roles, strict=True))
        ]
    )


def test_letters_go_from_z_to_aa_and_on():
    names = list(islice(letter_names(), 26 + 26 * 26 + 1))
    assert names[:2] + names[25:28] == ["A", "B", "Z", "AA", "AB"]
    assert names[-2:] == ["ZZ", "AAA"]
    assert len(set(names)) == len(names)


def test_parts_that_are_cut_alike_share_a_letter_whatever_they_are_called(leaf):
    other = replace(leaf, name="other", template="another", version=7)
    assert letters(leaf, other, leaf) == ["A", "A", "A"]


def test_mirror_images_have_letters_of_their_own_unless_they_are_alike(leaf):
    assert letters(leaf, mirrored(leaf), mirrored(mirrored(leaf))) == ["A", "B", "A"]
    plain = replace(leaf, lines=())
    assert letters(plain, mirrored(plain)) == ["A", "A"]


def test_every_difference_in_the_paper_makes_another_letter(leaf):
    zone = Zone("z", "one", Side.FACE, rectangle(1, 2, 3, 5))
    slit = Stroke("one", Purpose.CUT, line((1, 2), (3, 5)))
    (fold,) = leaf.lines
    others = [
        replace(leaf, grain="across"),
        replace(leaf, lines=(replace(fold, angle_deg=Fraction(-90)),)),
        replace(leaf, strokes=(slit,)),
        replace(leaf, strokes=(replace(slit, purpose=Purpose.MARK),)),
        replace(leaf, zones=(zone,)),
        replace(leaf, zones=(replace(zone, side=Side.REVERSE),)),
        replace(leaf, outline=(*leaf.outline, circle((20, 20), 3))),
    ]
    assert letters(leaf, *others) == list("ABCDEFGH")


def test_parts_of_different_stock_never_share(leaf):
    assert letters(leaf, leaf, leaf, roles=["pages", "mats", "pages"]) == ["A", "B", "A"]


def test_where_a_path_begins_and_which_way_it_runs_makes_no_difference(leaf):
    ring = leaf.outline[0]
    turned = Path((*ring.vertices[2:], *ring.vertices[:2]))
    assert (
        letters(
            leaf, replace(leaf, outline=(turned,)), replace(leaf, outline=(reversed_path(ring),))
        )
        == ["A"] * 3
    )
    arc = Path((Vertex(0, 0, 0.4), Vertex(3, 0), Vertex(2, 2)))
    assert canonical(arc) == canonical(reversed_path(arc))
    assert canonical(arc) != canonical(Path((Vertex(0, 0, -0.4), Vertex(3, 0), Vertex(2, 2))))


def test_what_was_calculated_in_two_ways_is_still_the_same(leaf):
    ring = leaf.outline[0]
    nearly = Path(tuple(Vertex(float(v.x) + 1e-9, float(v.y) - 1e-9) for v in ring.vertices))
    off = Path(tuple(Vertex(float(v.x) + (1e-4 if v.x else 0), v.y) for v in ring.vertices))
    assert letters(leaf, replace(leaf, outline=(nearly,)), replace(leaf, outline=(off,))) == list(
        "AAB"
    )


def test_a_whole_book_shares_letters_between_equal_parts_only(book_of):
    """Four pockets: both ends are mirror images, and the inner ones are. Reinforcement likewise.

    Hinge tabs, channel and lap are a plain rectangle, alike when mirrored; so is
    the backing of the strip. Short edge strips are alike when mirrored only where
    their two halves are: here the inner half is shorter by a board's thickness.
    """
    text = (
        'units = "in"\nsize = "page 6 1/4 x 4 1/4"\nbinding = "tab and channel"\n'
        'pages = ["4 x side pocket"]\nmats = "both sides"\n'
    )
    book = book_of(text)
    letter = {entry.key: entry.letter for entry in book.parts}
    pages = [letter[f"page-{n}"] for n in (1, 2, 3, 4)]
    assert len(set(pages)) == 4
    assert letter["page-2-reinforcement"] == letter["page-3-reinforcement"]
    assert letter["page-1-reinforcement"] != letter["page-4-reinforcement"]
    assert letter["front-board"] == letter["back-board"] != letter["spine-board"]
    assert letter["edge-front-fore-edge"] == letter["edge-back-fore-edge"]
    assert letter["edge-front-head"] == letter["edge-back-tail"]
    assert letter["edge-front-tail"] == letter["edge-back-head"]
    assert letter["edge-front-head"] != letter["edge-front-tail"]
    assert letter["mat-1-front-inner"] == letter["mat-4-back-outer"]
    assert letter["mat-1-front-inner"] != letter["mat-1-back-outer"]
    first = [entry.letter for entry in book.parts]
    assert [name for i, name in enumerate(first) if name not in first[:i]] == list(
        islice(letter_names(), len(set(first)))
    )

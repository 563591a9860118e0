"""Parts that a template needs several of: one part and one set of joins for each."""

from __future__ import annotations

import pytest

ROW = 'units = "in"\nsize = "page 6 x 4"\nbinding = "tab and channel"\npages = ["2 x stamp leaf"]\n'

STAMP_LEAF = """
template = "stamp-leaf"
kind = "page"
units = "in"
[parameters]
width = {{ type = "length", default = 6 }}
height = {{ type = "length", default = 4 }}
[parts.page]
bound = "page left"
columns = ["width"]
rows = ["height : page"]
[parts.packet]
quantity = {quantity}
columns = ["1/2", 1]
rows = ["1 : seam back", "1 : . front"]
edits = [
  {{ tape = "seam", side = "face", inset = "1/16", onto = "back" }},
  {{ tape = "back", side = "reverse", inset = "1/16" }},
]
folds = {{ "seam | back" = 180, "back / front" = 180 }}
[[joins]]
repeat = {quantity}
zone = "packet.back"
onto = "page.page"
at = ["i * 1 in", "1/3"]
"""


def rows(book) -> list[str]:
    return [f"{j.part} {j.zone} > {j.onto_part}" for j in book.joins if "page-1" in j.part][:-2]


@pytest.mark.parametrize("quantity", [1, 3])
def test_every_copy_has_its_seam_and_its_place(quantity, book_beside):
    template = STAMP_LEAF.format(quantity=quantity)
    book = book_beside(ROW, stamp_leaf=template)
    names = ["page-1-packet", *(f"page-1-packet-{n}" for n in range(2, quantity + 1))]
    assert [e.key for e in book.parts if e.key.startswith("page-1-packet")] == names
    assert {e.part.quantity for e in book.parts} == {1}
    assert rows(book) == [
        *(f"{name} seam > {name}" for name in names),
        *(f"{name} back > page-1" for name in names),
    ]
    assert [join.order for join in book.joins] == list(range(1, len(book.joins) + 1))
    places = [j.offset.x for j in book.joins if j.zone == "back" and "page-1" in j.part]
    assert len(set(places)) == quantity


def test_nothing_is_joined_to_a_part_of_which_there_is_none(book_beside):
    template = STAMP_LEAF.format(quantity=0).replace("repeat = 0\n", "").replace("i * ", "")
    book = book_beside(ROW, stamp_leaf=template)
    keys = {entry.key for entry in book.parts}
    assert not [key for key in keys if "packet" in key]
    assert {join.part for join in book.joins} | {join.onto_part for join in book.joins} <= keys

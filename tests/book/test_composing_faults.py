"""Books that cannot be made: each fault at the book's own line, and all of them at once."""

from __future__ import annotations

import pytest

from dielines.errors import BookError

TOP = 'units = "in"\nsize = "{size}"\nbinding = "{binding}"\npages = {pages}\n'


def text_of(
    pages: str, more: str = "", size: str = "page 6 1/4 x 4 1/4", binding: str = "tab and channel"
) -> str:
    return TOP.format(size=size, binding=binding, pages=pages) + more


def faults(make, *args, **templates) -> list[tuple[int, str, str]]:
    """Line, field and code of all faults of a book."""
    with pytest.raises(BookError) as caught:
        make(text_of(*args), **templates)
    return [(f.line, f.field, f.code) for f in caught.value.faults]


def test_a_parameter_that_its_template_does_not_take_is_told_where_it_stands(book_of):
    found = faults(book_of, '["flap", "side pocket"]', "[page.1]\nflap = 7\n[page.2]\nseam = 9\n")
    assert [(line, field) for line, field, _ in found] == [(6, "page 1: flap"), (8, "page 2: seam")]


def test_parameters_of_a_whole_kind_are_told_once(book_of):
    found = faults(book_of, '["3 x flap"]', '[every.flap]\nflap = "6 1/4"\n')
    assert [(line, field) for line, field, _ in found] == [(6, 'every "flap": flap')]


def test_a_usual_size_that_a_page_does_not_take_is_told_where_the_book_says_it(book_of):
    """It used to give way in silence to what the template has of its own."""
    with pytest.raises(BookError) as caught:
        book_of(text_of('["plain leaf", "side pocket"]', '[usual]\nnotch = "2 1/2"\n'))
    (fault,) = caught.value.faults
    assert (fault.line, fault.field) == (6, "usual: notch")
    assert "page 2: side pocket" in fault.message


def test_usual_sizes_that_nobody_asked_for_give_way(book_of):
    """A page 2 in high has no room for the usual notch and seam; the frame none for its own rim."""
    book = book_of(text_of('["2 x half pocket"]', size="page 6 x 2"))
    assert book.part("page-1").part.height


def test_a_page_too_small_or_without_room_for_a_photo_is_told_at_the_size(book_of):
    assert faults(book_of, '["2 x plain leaf"]', "", "page 1 x 4") == [(2, "size", "out-of-range")]
    assert faults(book_of, '["2 x plain leaf"]', "", "photo 1 x 4") == [(2, "size", "out-of-range")]
    more = "[usual]\nmargin = 2\n"
    assert faults(book_of, '["2 x plain leaf"]', more, "page 6 x 4") == [
        (2, "size", "out-of-range")
    ]


def test_a_page_too_large_for_its_template_is_told_at_the_size(book_of):
    """Templates go to 16 in."""
    found = faults(book_of, '["2 x plain leaf"]', "", "page 17 x 4")
    assert {(line, field) for line, field, _ in found} == {(2, "size")}


def test_unknown_materials_and_impossible_pages_are_told_together(book_of):
    more = '[paper]\npages = "moon paper"\nboards = "grey bord"\n[page.1]\nflap = 9\n'
    found = faults(book_of, '["2 x flap"]', more)
    assert [(line, code) for line, _, code in found][:2] == [
        (6, "unknown-stock"),
        (7, "unknown-stock"),
    ]
    assert found[2][:2] == (9, "page 1: flap")


def test_an_insert_that_cannot_be_made_is_told_with_the_rest(book_of):
    more = '[page.1]\nflap = 9\nholds = { what = "tag", size = "1/4 x 40" }\n'
    found = faults(book_of, '["2 x flap"]', more)
    assert {(line, field) for line, field, _ in found} == {
        (6, "page 1: flap"), (7, "page 1: holds")
    }  # fmt: skip
    every = '[every.flap]\nholds = { what = "tag", size = "1/4 x 3" }\n'
    found = faults(book_of, '["plain leaf", "flap"]', every)
    assert {(line, field) for line, field, _ in found} == {(6, "page 2: holds")}


def test_a_page_that_is_to_be_bound_elsewhere_is_told(book_of):
    found = faults(book_of, '["2 x flap"]', '[page.2]\nbound = "head"\n')
    assert found == [(6, "page 2: bound", "not-at-spine")]
    found = faults(book_of, '["flap", "plain leaf"]', '[every."Flap"]\nbound = "fore-edge"\n')
    assert found == [(6, "page 1: bound", "not-at-spine")]


def test_sizes_that_tabs_and_case_cannot_have_are_told_where_the_book_says_them(book_of):
    for name, value in (("taper", 2), ("hold", 6), ("turn_in", 3), ("cover_tab", '"1/2"')):
        found = faults(book_of, '["2 x plain leaf"]', f"[usual]\n{name} = {value}\n")
        assert {(line, field) for line, field, _ in found} == {(6, f"usual: {name}")}


def test_a_spine_that_no_board_can_have_is_told_at_the_spine(book_of):
    found = faults(book_of, '["2 x plain leaf"]', "[spine]\nwidth = 13\n")
    assert {(line, field) for line, field, _ in found} == {(6, "spine: width")}


def test_a_concertina_spine_without_gaps_is_told(book_of):
    found = faults(
        book_of, '["2 x plain leaf"]', "[usual]\nchannel = 0\n", "page 6 x 4", "concertina spine"
    )
    assert {(line, field) for line, field, _ in found} == {(6, "usual: channel")}


# ------------------------------------------------------------------ strangers' pages

LEAF = """
template = "{name}"
kind = "page"
units = "in"
[parameters]
width = {{ type = "length", default = 6 }}
height = {{ type = "length", default = 4 }}
[parts.page]
{bound}
columns = [{columns}]
rows = [{rows}]
folds = {{ "* | *" = 90, "* / *" = 90 }}
"""


def leaf(name: str, bound: str, columns: str = '"width"', rows: str = '"height : page"') -> str:
    line = f'bound = "{bound}"' if bound else ""
    return LEAF.format(name=name, bound=line, columns=columns, rows=rows)


@pytest.mark.parametrize("bound", ["", "page top", "page bottom"])
def test_a_page_without_an_edge_at_its_side_cannot_be_bound(bound, book_beside):
    """And it is told at the list of pages, where the book names it."""
    found = faults(
        book_beside, '["plain leaf", "odd leaf"]', "[page.1]\ncorner = 0\n",
        odd_leaf=leaf("odd-leaf", bound),
    )  # fmt: skip
    assert found == [(4, "page 2", "no-bound-edge")]


def test_a_page_bound_at_a_fold_cannot_be_glued_to_a_tab(book_beside):
    template = leaf("open-leaf", "one | two", '"width", "width"', '"height : one two"')
    found = faults(book_beside, '["plain leaf", "open leaf"]', open_leaf=template)
    assert found == [(4, "page 2", "no-bound-edge")]


def test_a_page_where_a_tab_has_no_room_is_told_with_all_others_like_it(book_beside):
    """A hook hangs down from the head, an eighth left of the bound edge, where a tab would be."""
    rows = '"1/2 : arm arm arm", "height : hook . page"'
    template = leaf("hooked", "page left", '"1", "1/8", "width"', rows)
    found = faults(book_beside, '["hooked", "plain leaf", "hooked"]', hooked=template)
    assert [(line, code) for line, _, code in found] == [(4, "cannot-be-bound")] * len(found)
    assert [field for _, field, _ in found] == ["page 1", "page 3"]


def test_a_stranger_that_looks_like_a_page_is_bound_like_one(book_beside):
    book = book_beside(text_of('["3 x kite"]'), kite=leaf("kite", "page left"))
    assert [e.key for e in book.parts if e.key.startswith("page-")][::2] == [
        "page-1",
        "page-2",
        "page-3",
    ]

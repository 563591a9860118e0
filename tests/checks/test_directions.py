"""What a reader calls the sides of panels, wherever these lie in the closed book."""

import pytest
from seam_spoils import MORE, POCKETS

from dielines.checks.directions import side_of_way, side_words, way_words


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def test_a_page_of_the_front_half_is_mirrored_and_its_left_is_the_fore_edge(book):
    words = [
        side_words(book, "page-1", "front", side) for side in ("left", "right", "top", "bottom")
    ]
    assert words == ["fore-edge", "binding edge", "head", "tail"]


def test_a_page_of_the_back_half_has_its_binding_edge_at_the_left(book):
    words = [
        side_words(book, "page-6", "front", side) for side in ("left", "right", "top", "bottom")
    ]
    assert words == ["binding edge", "fore-edge", "head", "tail"]


def test_a_pocket_folded_up_from_the_tail_has_its_lower_edge_at_the_head(book):
    assert side_words(book, "page-3", "pocket", "bottom") == "head"
    assert side_words(book, "page-3", "page", "bottom") == "tail"


def test_a_pocket_glued_onto_a_page_has_its_place_in_the_book(folded_of):
    assert side_words(folded_of(MORE), "page-4-pocket", "front", "bottom") == "head"


def test_a_wall_that_stands_on_the_page_has_a_side_that_looks_to_no_edge(book):
    assert way_words(book, "page-1", "tail", (0, 1)) == ""
    assert side_words(book, "page-1", "tail", "top") == "top edge"


def test_a_part_without_a_place_is_named_as_it_lies_on_the_flat_part(book):
    assert way_words(book, "nowhere", "front", (1, 0)) == ""
    assert side_words(book, "nowhere", "front", "left") == "left edge"


@pytest.mark.parametrize(
    ("way", "side"), [((3, -2), "right"), ((-3, 2), "left"), ((1, 4), "top"), ((1, -4), "bottom")]
)
def test_a_direction_looks_to_the_side_where_it_goes_farthest(way, side):
    assert side_of_way(*way) == side

"""Joins that would have a part in two places. Amounts are those of the spoiling; limits from memory."""

from fractions import Fraction

import pytest
from composed import advised, album, composed, correct_books, found_in, plain
from spoiling import changed_join, with_angle, with_part, without_join

from dielines.checks.finding import Severity
from dielines.checks.rules import joins_disagree as rule

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
THIRD = Fraction(7, 3)


@pytest.fixture(scope="module")
def book():
    return plain(composed(album(FOUR)))


def told(book):
    return {
        (f.spot.part, f.spot.panel): (f.severity, round(float(f.amount.value), 4))
        for f in found_in(rule, book)
    }


def moved(book, part, onto, dx=0, dy=0):
    old = next(j for j in book.joins if j.part == part and j.onto_part == onto)
    offset = old.offset._replace(x=old.offset.x + dx, y=old.offset.y + dy)
    return changed_join(book, part, old.zone, onto, offset=offset)


def test_joins_of_correct_books_agree(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_channel_that_is_taped_too_high_on_the_spine(book):
    found = told(moved(book, "page-2", "spine-board", dy=THIRD))
    assert found == {("page-2", "binding.channel"): (Severity.ERROR, round(7 / 3, 4))}


def test_a_channel_that_is_a_little_off_is_a_warning(book):
    found = told(moved(book, "page-3", "spine-board", dy=Fraction(1, 3)))
    assert found == {("page-3", "binding.channel"): (Severity.WARNING, round(1 / 3, 4))}


def test_a_channel_that_is_taped_into_the_place_of_its_neighbour(book):
    by = Fraction(50, 7)
    found = told(moved(book, "hinge-strip", "spine-board", dx=by))
    # What the junctions add may shift a channel by half of itself, and by one more.
    ((key, (severity, amount)),) = found.items()
    assert key == ("hinge-strip", "channel")
    assert severity is Severity.ERROR
    junction = (0.0095 + 0.005) * 25.4
    bulk = 4 * junction + (0.0095 + 2 * 0.005) * 25.4
    assert amount == pytest.approx(float(by) - bulk / 2 - junction, abs=2e-4)


def test_a_hinge_tab_that_is_taped_too_high_lifts_all_that_hangs_on_it(book):
    found = told(moved(book, "page-2", "page-1", dy=THIRD))
    assert {amount for _, amount in found.values()} == {round(7 / 3, 4)}
    assert ("page-4", "binding.channel") in found
    assert ("page-1", "binding.channel") not in found
    # the loop of the case: the back board goes with the pages, the wrap does not
    assert ("joint-wrap", "back_hold") in found


def test_a_wrap_that_is_stuck_on_askew(book):
    found = told(moved(book, "joint-wrap", "back-board", dy=THIRD))
    assert found == {("joint-wrap", "back_hold"): (Severity.ERROR, round(7 / 3, 4))}


def test_a_hinge_tab_that_is_taped_too_far_from_the_edge_leaves_a_gap_at_the_spine(book):
    found = told(moved(book, "page-2", "page-1", dx=THIRD))
    assert {amount for _, amount in found.values()} == {round(7 / 3, 4)}


def test_a_channel_that_is_folded_by_less_than_a_right_angle(book):
    part = book.part("page-2").part
    fold = next(
        str(line.key) for line in part.folds if line.key.panels() == {"page", "binding.channel"}
    )
    angle = 88 if next(x.angle_deg for x in part.folds if str(x.key) == fold) > 0 else -88
    found = found_in(rule, with_part(book, "page-2", with_angle(part, fold, angle)))
    turned = [f for f in found if f.amount.unit == "degrees"]
    assert {round(float(f.amount.value), 6) for f in turned} == {2}
    assert {f.spot.part for f in turned} >= {"page-3", "page-4", "hinge-strip"}


def test_parts_that_nothing_holds_are_told_once_for_all_that_hang_together(book):
    loose = without_join(without_join(book, "page-2", "binding.tab"), "hinge-strip", "front_tab")
    found = [f for f in found_in(rule, loose) if f.amount.unit == "parts"]
    assert [f.spot.part for f in found] == ["page-2", "page-3"]
    # page 3 and page 4, the hinge strip, the back board and its three edge strips
    assert [int(f.amount.value) for f in found] == [1, 7]


def test_a_lining_that_nothing_holds(book):
    found = told(without_join(book, "spine-lining", "lining"))
    assert found == {("spine-lining", ""): (Severity.ERROR, 1)}


def test_the_shared_fin_of_a_strip_in_pieces_is_folded_round_its_fellow():
    pages = ", ".join(['"plain leaf"'] * 9)
    book = composed(album(pages, binding="concertina spine"))
    assert len([e for e in book.parts if e.key.startswith("comb-spine-")]) > 1
    assert told(book) == {}
    key = next(j.part for j in book.joins if j.zone == "overlap")
    spoiled = moved(
        book, key, next(j.onto_part for j in book.joins if j.zone == "overlap"), dy=THIRD
    )
    assert any(part == key for part, _ in told(spoiled))


def test_a_spine_too_narrow_for_its_channels_is_one_fault_that_a_wider_spine_mends():
    narrow = composed(album(FOUR), "spine.width=3/7")
    (found,) = found_in(rule, narrow)
    assert (found.spot.part, found.severity) == ("spine-board", Severity.ERROR)
    settings = advised(narrow, found)
    assert [text.partition("=")[0] for text in settings] == ["spine.width"]
    assert found_in(rule, composed(album(FOUR), *settings)) == []


def test_a_channel_taped_too_high_on_a_narrow_spine_is_told_by_itself():
    narrow = composed(album(FOUR), "spine.width=3/7")
    found = told(moved(narrow, "page-2", "spine-board", dy=THIRD))
    assert set(found) >= {("page-2", "binding.channel"), ("spine-board", "")}

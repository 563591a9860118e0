"""Joints: at least two board thicknesses (common practice, no source), 1/8 in (Cockerell, p. 176),
at most about 10 mm (from memory)."""

from fractions import Fraction

import pytest
from composed import WORKSHOP, advised, album, composed, correct_books, found_in
from spoiling import changed_join, changed_part, stretched

from dielines.checks.finding import Severity
from dielines.checks.rules import joint as rule

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
JOINT = 5 / 16 * 25.4
BOARD = 0.08 * 25.4
#: wrap and lining of .014 in, backing of .006 in, tape of .005 in
LAYERS = (0.014 + 0.006 + 0.014 + 0.005) * 25.4
THIN = WORKSHOP.replace('caliper = "0.08 in"', 'caliper = "0.02 in"')


@pytest.fixture(scope="module")
def book():
    return composed(album(FOUR))


def told(book):
    return [
        (f.severity, f.spot.panel, round(float(f.amount.value), 4)) for f in found_in(rule, book)
    ]


def hold_moved(book, board, by):
    zone = {"front-board": "front_hold", "back-board": "back_hold", "spine-board": "spine"}[board]
    old = next(
        j for j in book.joins if j.part == "joint-wrap" and j.onto_part == board and j.zone == zone
    )
    return changed_join(
        book, "joint-wrap", zone, board, offset=old.offset._replace(x=old.offset.x + by)
    )


def test_correct_books_have_joints_to_open_in(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_board_that_was_stuck_on_too_near_to_the_spine(book):
    by = Fraction(31, 7)  # 4.4286 mm: 3.5089 mm are left
    found = told(hold_moved(book, "front-board", by))
    narrow = JOINT - float(by)
    assert (Severity.ERROR, "front_joint", round(2 * BOARD - narrow, 4)) in found
    assert (Severity.WARNING, "", round(float(by), 4)) in found


def test_a_joint_that_has_room_for_the_boards_but_not_for_what_covers_it(book):
    by = Fraction(7, 2)  # 4.4375 mm are left, two boards are 4.064
    found = told(hold_moved(book, "back-board", -by))
    needed = 2 * BOARD + LAYERS
    assert (Severity.WARNING, "back_joint", round(needed - JOINT + float(by), 4)) in found


def test_a_spine_board_out_of_the_middle(book):
    by = Fraction(5, 3)
    assert told(hold_moved(book, "spine-board", by)) == [
        (Severity.WARNING, "", round(2 * 5 / 3, 4))
    ]


def test_a_spine_board_that_was_cut_too_wide(book):
    wider = changed_part(book, "spine-board", lambda p: stretched(p, "x", 5, Fraction(9, 7)))
    assert told(wider) == [(Severity.WARNING, "", round(9 / 7, 4))]


def test_a_board_that_reaches_into_the_joint(book):
    wider = changed_part(book, "back-board", lambda p: stretched(p, "x", 50, Fraction(5, 7)))
    assert told(wider) == [(Severity.WARNING, "", round(5 / 7, 4))]


@pytest.mark.parametrize(
    ("joint", "severity", "amount"),
    [
        ("1/16", Severity.ERROR, 2 * BOARD - 25.4 / 16),
        ("11/64", Severity.WARNING, 2 * BOARD + LAYERS - 25.4 * 11 / 64),
        ("7/8", Severity.REMARK, 25.4 * 7 / 8 - 10),
    ],
)
def test_joints_that_were_asked_for_and_the_advice_followed(joint, severity, amount):
    lines = ("[usual]", f'joint = "{joint}"')
    book = composed(album(FOUR, *lines))
    found = found_in(rule, book)
    assert {f.severity for f in found} == {severity}
    assert {round(float(f.amount.value), 4) for f in found} == {round(amount, 4)}
    settings = advised(book, found[0])
    assert found_in(rule, composed(album(FOUR, *lines), *settings)) == []


def test_a_joint_narrower_than_any_handbook_has_it_is_a_remark_where_boards_are_thin():
    lines = ("[usual]", 'joint = "3/32"')
    book = composed(album(FOUR, *lines), workshop=THIN)
    (finding,) = found_in(rule, book)
    assert finding.severity is Severity.REMARK
    assert float(finding.amount.value) == pytest.approx(25.4 / 32)
    settings = advised(book, finding)
    assert found_in(rule, composed(album(FOUR, *lines), *settings, workshop=THIN)) == []

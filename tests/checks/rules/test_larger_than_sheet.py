"""Parts larger than a sheet of their stock. All of it is arithmetic."""

from fractions import Fraction

import pytest
from flat_spoils import SIXTHS, VAST, flat_book, found_in, settings_of, spoiled
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import larger_than_sheet as rule

OWN = VAST.replace('"2000 x 2000"]', '"230 x 225"]')
BY = Fraction(22, 7)


def book_in(folded_of, text, *settings, workshop=""):
    folded = folded_of(text, *settings, workshop=workshop)
    return flat_book(folded.book, folded.workshop)


@pytest.fixture
def own(folded_of):
    return book_in(
        folded_of,
        SIXTHS,
        workshop=OWN.replace('area = "2000 x 2000"', 'area = "2000 x 2000"\nmargin = 0'),
    )


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_parts_that_fit_are_silent(own):
    assert found_in(rule, own) == []


def test_a_part_that_is_too_wide(own):
    found = the_finding(own, "page-2", lambda p: longer_panel(p, "flap", "x", BY))
    assert found.severity is Severity.ERROR
    assert found.amount.value == Fraction(229.5) + BY - 230


def test_a_part_that_is_too_high(own):
    found = the_finding(own, "page-1", lambda p: longer_panel(p, "front", "y", BY))
    assert found.amount.value == pytest.approx(float(224 + BY - 225))


def test_a_part_that_would_fit_but_for_the_grain(folded_of):
    across = OWN.replace('grain = "up"', 'grain = "across"')
    found = found_in(rule, book_in(folded_of, SIXTHS, workshop=across))
    assert "page-2" in {finding.spot.part for finding in found}  # 229.5 wide, 225 at most


def test_what_the_machine_cannot_reach_does_not_count(folded_of):
    margin = OWN.replace('area = "2000 x 2000"', 'area = "2000 x 2000"\nmargin = "5/2"')
    found = found_in(rule, book_in(folded_of, SIXTHS, workshop=margin))
    assert {f.spot.part: float(f.amount.value) for f in found} == {"page-1": 4.0, "page-2": 4.5}


def test_a_small_machine_cuts_small_parts_only(folded_of):
    small = OWN.replace('area = "2000 x 2000"', 'area = "210 x 224"\nmargin = 0')
    found = found_in(rule, book_in(folded_of, SIXTHS, workshop=small))
    assert {f.spot.part: float(f.amount.value) for f in found}["page-2"] == 5.5  # lying turned


def test_a_print_with_a_top_may_not_be_turned(folded_of):
    print_ = OWN + (
        '[papers."vines"]\nroles = ["mats"]\ncaliper = "0.17 mm"\none_way_up = true\n'
        'sheets = [{ size = "300 x 300", grain = "across" }]\n'
    )
    folded = book_in(folded_of, SIXTHS + "", "mats=inner side", workshop=print_)
    roles = {folded.book.part(f.spot.part).role for f in found_in(rule, folded)}
    assert "mats" in roles


def test_sheets_that_are_only_assumed_give_a_warning(folded_of):
    found = found_in(rule, book_in(folded_of, SIXTHS, "size=photo 260 x 190"))
    assert found
    assert {f.severity for f in found} == {Severity.WARNING}


def test_the_cover_tab_advised_makes_both_end_pages_fit(folded_of):
    narrow = VAST.replace('"2000 x 2000"]', '"188 x 300"]').replace(
        'area = "2000 x 2000"', 'area = "2000 x 2000"\nmargin = 0'
    )
    plain = SIXTHS.replace('"side pocket", "flap"', '"side pocket", "plain leaf"')
    folded = book_in(folded_of, plain, workshop=narrow)
    found = found_in(rule, folded)
    assert {f.spot.part: float(f.amount.value) for f in found} == {"page-1": 2.0, "page-4": 5.0}
    for finding in found:
        advice = settings_of(folded.book, finding.advice)
        assert advice == ["usual.cover_tab=45"]
        assert found_in(rule, book_in(folded_of, plain, *advice, workshop=narrow)) == []

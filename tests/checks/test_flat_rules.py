"""No rule on flat parts gives a false alarm: not on the samples, not on correct books."""

from importlib import import_module

import pytest
from flat_spoils import correct_book, flat_book, found_in

from dielines.checks.finding import Severity

NAMES = (
    "strip_too_narrow", "neck_too_narrow", "sliver_too_sharp", "score_near_edge",
    "score_near_score", "score_off_groove", "larger_than_sheet", "cut_in_tape", "cuts_doubled",
    "grain", "does_not_add_up", "score_leaves_part", "reinforcement_inside", "lap_shows",
    "fold_in_tape",
)  # fmt: skip
RULES = {name: import_module(f"dielines.checks.rules.{name}") for name in NAMES}
THRESHOLDS = {
    "strip_too_narrow": ("TORN", "SAFE"),
    "neck_too_narrow": ("TORN", "SAFE"),
    "sliver_too_sharp": ("SHARPEST",),
    "score_near_edge": ("UNFOLDABLE", "NEAREST"),
    "score_near_score": ("NEAREST", "CREASE"),
    "grain": ("STIFF",),
    "does_not_add_up": ("NEARLY",),
}


@pytest.mark.parametrize("name", NAMES)
def test_the_samples_hold(samples, name):
    for folded in samples.values():
        assert found_in(RULES[name], flat_book(folded.book, folded.workshop)) == []


@pytest.mark.parametrize("seed", range(40))
def test_correct_books_hold(folded_of, seed):
    folded = correct_book(folded_of, seed)
    found = [finding for rule in RULES.values() for finding in found_in(rule, folded)]
    assert [one for one in found if one.severity is not Severity.REMARK] == []


@pytest.mark.parametrize("seed", range(40, 46))
def test_a_remark_on_correct_books_is_that_tape_covers_a_slit(folded_of, seed):
    folded = correct_book(folded_of, seed)
    kinds = {request.kind for request in folded.book.request.pages}
    told = [name for name, rule in RULES.items() if found_in(rule, folded)]
    assert told in ([], ["cut_in_tape"])
    assert told == [] or "photo-slits" in kinds or "ticket-page" in kinds


@pytest.mark.parametrize("name", THRESHOLDS)
def test_the_reason_names_the_thresholds_of_the_rule(name):
    for threshold in THRESHOLDS[name]:
        assert f"{float(getattr(RULES[name], threshold)):g}" in RULES[name].WHY


@pytest.mark.parametrize("name", NAMES)
def test_folding_makes_no_difference_to_flat_parts(samples, name):
    for folded in samples.values():
        assert found_in(RULES[name], folded) == []

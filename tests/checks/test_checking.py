"""All rules held against one book: order, what the book bids to ignore, what is chosen."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from dielines.checks.checking import Found, Report, check_book
from dielines.checks.finding import Finding, Severity, Spot
from dielines.errors import BookError

BOOK = """
title = "Checked"
units = "mm"
size = "photo 97 x 133"
binding = "tab and channel"
pages = ["flap", "plain leaf"]
"""
ERROR, WARNING, REMARK = Severity


def rule(*findings: Finding) -> SimpleNamespace:
    """A rule that finds the same in every book."""
    return SimpleNamespace(check=lambda folded: iter(findings))


def a(severity: Severity, words: str = "it is so") -> Finding:
    return Finding(severity, Spot(), words, "change it")


@pytest.fixture
def chosen():
    return {
        "first rule": rule(a(REMARK), a(WARNING), a(ERROR, "one")),
        "second rule": rule(a(WARNING, "two"), a(ERROR, "three"), a(WARNING, "two")),
        "third rule": rule(),
    }


def test_the_worst_comes_first_and_alike_keep_the_order_of_rules(folded_of, chosen):
    found = check_book(folded_of(BOOK), chosen).found
    assert [(f.rule, f.finding.severity, f.finding.message) for f in found] == [
        ("first rule", ERROR, "one"),
        ("second rule", ERROR, "three"),
        ("first rule", WARNING, "it is so"),
        ("second rule", WARNING, "two"),
        ("first rule", REMARK, "it is so"),
    ]


def test_what_a_rule_says_twice_is_told_once(folded_of, chosen):
    report = check_book(folded_of(BOOK), chosen)
    assert [f.finding.message for f in report.found].count("two") == 1


def test_findings_are_had_by_severity(folded_of, chosen):
    report = check_book(folded_of(BOOK), chosen)
    assert [len(report.of(severity)) for severity in Severity] == [2, 2, 1]
    assert all(f.finding.severity is WARNING for f in report.of(WARNING))


def test_a_book_holds_when_no_error_is_left(folded_of, chosen):
    assert not check_book(folded_of(BOOK), chosen).holds
    milder = {"one": rule(a(WARNING), a(REMARK))}
    assert check_book(folded_of(BOOK), milder).holds
    assert Report((), ()).holds


@pytest.mark.parametrize("written", ["wedge", "Wedge", " wedge "])
def test_a_rule_is_ignored_with_its_reason_however_its_name_is_written(folded_of, written):
    folded = folded_of(BOOK + f'[ignore]\n"{written}" = "It is to be so."\n')
    chosen = {"wedge": rule(a(ERROR), a(ERROR, "again"), a(ERROR)), "other": rule(a(REMARK))}
    report = check_book(folded, chosen)
    assert report.silenced == (("wedge", "It is to be so.", 2),)
    assert report.found == (Found("other", a(REMARK)),)
    assert report.holds


@pytest.mark.parametrize("written", ["spine-too-narrow", "Spine_Too_Narrow", "spine  too narrow"])
def test_a_name_of_several_words_may_be_written_with_dashes_or_capitals(folded_of, written):
    folded = folded_of(BOOK + f'[ignore]\n"{written}" = "I bend it."\n')
    report = check_book(folded, {"spine too narrow": rule(a(WARNING))})
    assert report.silenced == (("spine too narrow", "I bend it.", 1),)


def test_an_ignored_rule_that_finds_nothing_is_told_with_none(folded_of):
    folded = folded_of(BOOK + '[ignore]\nwedge = "Not needed."\n')
    assert check_book(folded, {"wedge": rule()}).silenced == (("wedge", "Not needed.", 0),)


def test_only_what_is_chosen_is_held(folded_of):
    folded = folded_of(BOOK + '[ignore]\nwedge = "Not needed."\n')
    assert check_book(folded, {"other": rule()}) == Report((), ())


@pytest.mark.parametrize("reason", ["", "   "])
def test_a_rule_is_not_ignored_without_a_reason(sources, reason):
    with pytest.raises(BookError, match="ignore: wedge"):
        sources(BOOK + f'[ignore]\nwedge = "{reason}"\n')


def test_a_book_is_left_as_it_was(folded_of, chosen):
    folded = folded_of(BOOK)
    before = folded.book
    check_book(folded, chosen)
    assert folded.book is before
    assert check_book(folded, chosen) == check_book(folded, chosen)

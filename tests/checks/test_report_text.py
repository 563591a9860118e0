import math
from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.checks.checking import Found, Report
from dielines.checks.finding import Advice, Amount, Finding, Severity, Spot
from dielines.checks.report_text import as_data, report_lines, settings_of, summary, value_text
from dielines.lengths import inches, millimetres
from dielines.paths import Point

INCHES = """
title = "Garden"
units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["side pocket", "flap"]
"""


@pytest.fixture(scope="module")
def book(folded_of):
    return folded_of(INCHES).book


FINDING = Finding(
    Severity.ERROR,
    Spot("page-1", "back", Point(Fraction(1, 3), Fraction(2, 7))),
    "the back is too long",
    "make it shorter",
    Amount(Fraction(25, 16)),
    (Advice("usual.depth", inches("3/16")), Advice("every.side pocket.depth", "to fit")),
)
REPORT = Report((Found("a rule", FINDING),), (("grain", "none", 2),))


def test_lengths_of_advice_are_what_a_person_writes_and_are_exact(book):
    assert value_text(book, inches("3/16")) == "3/16"
    assert value_text(book, inches("2 1/64")) == "2 1/64"
    assert value_text(book, millimetres("3.7")) == "3.7 mm"
    assert (
        value_text(replace(book, request=replace(book.request, units="mm")), millimetres("3.7"))
        == "3.7"
    )
    assert value_text(book, "to fit") == "to fit"


def test_advice_is_printed_as_it_is_typed_into_a_shell(book):
    assert settings_of(book, FINDING) == ["usual.depth=3/16", '"every.side pocket.depth=to fit"']


def test_a_finding_is_told_with_its_place_and_what_to_do(book):
    lines = list(report_lines(book, REPORT))
    assert lines[0] == "error: a rule: A page 1: side pocket, back"
    assert lines[1:3] == ["  The back is too long.", "  Make it shorter."]
    assert "  --set usual.depth=3/16" in lines
    assert lines[-1].startswith("ignored: grain")


def test_data_hold_every_number_in_mm(book):
    data = as_data(book, REPORT)
    (found,) = data["findings"]
    assert (data["holds"], found["letter"], found["panel"]) == (False, "A", "back")
    assert found["point"] == pytest.approx([1 / 3, 2 / 7])
    assert math.isclose(found["amount"]["value"], 25 / 16)
    assert found["set"] == {"usual.depth": "3/16", "every.side pocket.depth": "to fit"}
    assert data["ignored"] == [{"rule": "grain", "reason": "none", "findings": 2}]


def test_the_summary_counts_each_severity():
    remark = Found("b", replace(FINDING, severity=Severity.REMARK))
    assert summary(Report((*REPORT.found, remark, remark), ())) == "1 error, 2 remarks"


def found_on(part, setting, message="the back of {} is too long"):
    words = {"page-1": "page 1 (A)", "page-2": "page 2 (C)"}[part]
    spot = Spot(part, "back")
    advice = (Advice(setting, inches("3/16")),)
    return Found(
        "a rule", replace(FINDING, spot=spot, message=message.format(words), advice=advice)
    )


def test_what_is_the_same_on_two_pages_is_told_once_with_all_settings(book):
    one, other = found_on("page-1", "page.1.depth"), found_on("page-2", "page.2.depth")
    lines = list(report_lines(book, Report((one, other), ())))
    assert sum(line.startswith("error") for line in lines) == 1
    assert "  The same: page 2 (C)." in lines
    assert lines.index("  --set page.1.depth=3/16") < lines.index("  --set page.2.depth=3/16")
    both = list(report_lines(book, Report((found_on("page-1", "x"), found_on("page-2", "x")), ())))
    assert both.count("  --set x=3/16") == 1


def test_what_differs_or_is_twice_on_one_page_is_told_by_itself(book):
    one = found_on("page-1", "x")
    for other in (found_on("page-2", "x", "the back of {} is too short"), one):
        lines = list(report_lines(book, Report((one, other), ())))
        assert sum(line.startswith("error") for line in lines) == 2
        assert not any("The same" in line for line in lines)

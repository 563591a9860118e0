"""Every rule, whichever are found: what it says of itself and of books, and when it is silent.

Nothing here knows what a rule looks for; a new file in the folder of rules is held to
all of it.
"""

from __future__ import annotations

import ast
import itertools
import math
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from random_books import random_book

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks import registry
from dielines.checks import rules as package
from dielines.checks.checking import Found, Report, check_book
from dielines.checks.finding import Finding, Severity
from dielines.checks.registry import rules
from dielines.checks.report_text import value_text
from dielines.folding.folded_book import FoldedBook
from dielines.lengths import Length

ROOT = Path(__file__).parents[2]
FOLDER = Path(package.__file__).parent
FILES = sorted(file.stem for file in FOLDER.glob("*.py") if file.stem != "__init__")
EVERY = pytest.mark.parametrize("name", list(rules()))
WORST_FIRST = list(Severity)

SAMPLES = ("lakeside", "seed-swap", "first-year")
BOOKS, AT_ONCE = 200, 8  #: random books, and how many of them a test looks at
LONGEST = 400  #: letters of a message or remedy

#: random books in which a rule is right to warn, and why
RIGHTLY = {
    (151, "pocket blocked"): "two seams of 5/8 in and a notch of 3/4 in are wider than the pocket",
}


def stem_of(name: str) -> str:
    """Return the name of the file of a rule: "turn-in short" is in turn_in_short.py."""
    return name.replace(" ", "_").replace("-", "_")


def folded(file: Path, workshop: Path | None = None) -> FoldedBook:
    source = book_source(book_document(file), [], workshop)
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


@pytest.fixture(scope="module")
def reports() -> dict[str, tuple[FoldedBook, Report]]:
    """The samples and what all rules find in them."""
    books = {name: folded(ROOT / "samples" / name / f"{name}.toml") for name in SAMPLES}
    return {name: (book, check_book(book)) for name, book in books.items()}


# ------------------------------------------------------------------ what a rule says of itself


def test_every_file_in_the_folder_is_a_rule_with_a_name_of_its_own():
    assert len(rules()) == len(FILES)
    assert sorted(map(stem_of, rules())) == FILES


@EVERY
def test_its_name_is_the_fault_in_plain_words(name):
    words = name.replace("-", " ").split(" ")
    assert all(word.isalpha() and word.islower() for word in words), name
    assert 1 <= len(words) <= 6


@EVERY
def test_it_says_why_in_a_sentence_how_bad_at_worst_and_by_which_source(name):
    rule = rules()[name]
    assert rule.WHY[0].isupper()
    assert rule.WHY.endswith(".")
    assert rule.WORST in Severity
    assert rule.SOURCE.strip()
    assert not rule.SOURCE.endswith(".")
    for text in (rule.WHY, rule.SOURCE):
        assert "  " not in text
        assert "\n" not in text


@EVERY
def test_its_file_begins_with_what_it_finds_and_its_check_says_what_it_yields(name):
    tree = ast.parse((FOLDER / f"{stem_of(name)}.py").read_text(encoding="utf-8"))
    (check,) = (n for n in tree.body if isinstance(n, ast.FunctionDef) and n.name == "check")
    for documented in (tree, check):
        first = (ast.get_docstring(documented) or "").partition("\n")[0]
        assert first.endswith(".")
    assert [argument.arg for argument in check.args.args] == ["folded"]


@EVERY
def test_it_has_a_test_file_of_its_own_that_runs_its_check(name):
    stem = stem_of(name)
    text = (ROOT / "tests" / "checks" / "rules" / f"test_{stem}.py").read_text(encoding="utf-8")
    assert stem in text
    assert text.count("\ndef test_") >= 3


# ------------------------------------------------------------------ what a rule says of books


def faults_of(book: FoldedBook, found: Found) -> Iterator[str]:
    """Yield what is wrong with a finding itself."""
    finding = found.finding
    if WORST_FIRST.index(finding.severity) < WORST_FIRST.index(rules()[found.rule].WORST):
        yield f"{finding.severity.value} is worse than {rules()[found.rule].WORST.value}"
    for text in (finding.message, finding.remedy):
        yield from faults_of_text(text)
    yield from faults_of_spot(book, finding)
    if finding.amount and not math.isfinite(float(finding.amount.value)):
        yield "an amount that is no number"
    for advice in finding.advice:
        if not advice.setting or "=" in advice.setting:
            yield f"{advice.setting!r} is no setting"
        if isinstance(advice.value, Length) and not value_text(book.book, advice.value):
            yield "advice without a value"


def faults_of_text(text: str) -> Iterator[str]:
    if not text.strip() or text != " ".join(text.split()):
        yield f"white space or nothing in {text!r}"
    if text.endswith("."):
        yield f"a full stop ends {text!r}"
    if len(text) > LONGEST:
        yield f"{len(text)} letters: {text[:60]!r}"
    for word in ("Fraction(", "Length(", "FoldKey", "binding.", "None", "nan", "_"):
        if word in text:
            yield f"{word!r} stands in {text!r}"


def faults_of_spot(book: FoldedBook, finding: Finding) -> Iterator[str]:
    spot = finding.spot
    if not spot.part:
        if spot.panel or spot.point:
            yield f"a place without a part: {spot}"
        return
    parts = {entry.key: entry.part for entry in book.book.parts}
    if spot.part not in parts:
        yield f"no part {spot.part!r}"
        return
    part = parts[spot.part]
    if spot.panel and spot.panel not in [panel.name for panel in part.panels]:
        yield f"no panel {spot.panel!r} in {spot.part}"
    if spot.point:
        x, y = map(float, spot.point)
        # what sticks out is told where it is: near the part, at most its own size away
        if not (-part.width <= x <= 2 * part.width and -part.height <= y <= 2 * part.height):
            yield f"{spot.point} lies far from {spot.part}"


def told(book: FoldedBook, report: Report) -> list[str]:
    """Return what is wrong with the findings of a report."""
    return [f"{f.rule}: {fault}" for f in report.found for fault in faults_of(book, f)]


def worse_than_remarks(report: Report) -> list[str]:
    return [
        f"{found.rule}: {found.finding.spot}: {found.finding.message}"
        for found in report.found
        if found.finding.severity is not Severity.REMARK
    ]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_rule_has_more_than_remarks_on_a_sample(reports, name):
    book, report = reports[name]
    assert worse_than_remarks(report) == []
    assert told(book, report) == []
    assert report.holds


@pytest.fixture(scope="module")
def workshop(tmp_path_factory) -> Path:
    """The typical workshop with sheets that are large enough for any page."""
    typical = (ROOT / "dielines" / "data" / "workshop-millimetres.toml").read_text("utf-8")
    file = tmp_path_factory.mktemp("large") / "workshop.toml"
    file.write_text(re.sub(r"sheets = .*", 'sheets = ["1000 x 1400 mm"]', typical), "utf-8")
    return file


@pytest.mark.parametrize("first", range(0, BOOKS, AT_ONCE))
def test_no_rule_has_more_than_remarks_on_a_correct_book(tmp_path, workshop, first):
    wrong = {}
    for seed in range(first, first + AT_ONCE):
        file = tmp_path / f"{seed}.toml"
        file.write_text(random_book(seed), "utf-8")
        book = folded(file, workshop)
        report = check_book(book)
        worse = [f for f in worse_than_remarks(report) if (seed, f.split(":")[0]) not in RIGHTLY]
        if faults := worse + told(book, report):
            wrong[seed] = faults
    assert wrong == {}


# ------------------------------------------------------------------ always the same


def test_a_book_that_is_checked_again_has_the_same_findings_in_the_same_order(reports):
    for name, (book, report) in reports.items():
        again = folded(ROOT / "samples" / name / f"{name}.toml")
        assert check_book(again) == report
        assert check_book(book) == report


def test_the_order_does_not_hang_on_how_a_process_hashes(tmp_path):
    file = tmp_path / "garden.toml"
    file.write_text(random_book(5), "utf-8")
    command = [sys.executable, "-m", "dielines_cli", "check", str(file), "--json"]
    told_by_each = [
        subprocess.run(
            command, capture_output=True, env={**os.environ, "PYTHONHASHSEED": seed}, check=False
        ).stdout
        for seed in ("1", "4711")
    ]
    assert told_by_each[0] == told_by_each[1]
    assert b'"findings"' in told_by_each[0]


# ------------------------------------------------------------------ a rule that does not load


@pytest.fixture
def folder_of_rules(tmp_path, monkeypatch) -> Iterator[Path]:
    """A copy of the folder of rules that the registry looks into."""
    copy = tmp_path / "rules"
    shutil.copytree(FOLDER, copy, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(package, "__path__", [str(copy)])
    registry.rules.cache_clear()
    yield copy
    registry.rules.cache_clear()
    for name in [n for n in sys.modules if n.startswith(f"{package.__name__}.new_")]:
        del sys.modules[name]


NUMBERS = itertools.count()


@pytest.mark.parametrize(
    "text",
    [
        "def check(folded",
        "from ..nowhere import nothing\n",
        "WHY = 'A rule without a name.'\n",
        "1 / 0\n",
    ],
)
def test_a_file_that_does_not_load_is_an_error_and_is_not_skipped(folder_of_rules, text):
    (folder_of_rules / f"new_{next(NUMBERS)}.py").write_text(text)
    with pytest.raises((SyntaxError, ImportError, AttributeError, ZeroDivisionError)):
        rules()


def test_a_new_file_is_a_rule_without_a_list_to_edit(folder_of_rules):
    before = set(rules())
    registry.rules.cache_clear()
    text = '"""A new one."""\nNAME = "new one"\ndef check(folded):\n    return ()\n'
    (folder_of_rules / f"new_{next(NUMBERS)}.py").write_text(text)
    assert set(rules()) - before == {"new one"}

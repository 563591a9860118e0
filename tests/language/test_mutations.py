"""Damaged templates meet faults, never a traceback, and cost no more than a bound.

Nothing published: the bound is the language's own.
"""

import time
import traceback

import pytest

from dielines.language.work import MAX_WORK, Work

#: what one step may add at once beyond the bound before it is noticed
STEP = 20 * MAX_WORK


@pytest.fixture
def spent(monkeypatch):
    """Return a list to which every building adds what it may still do."""
    buildings: list[Work] = []
    begin = Work.__init__

    def counted(work):
        begin(work)
        buildings.append(work)

    monkeypatch.setattr(Work, "__init__", counted)
    return buildings


def outcomes(texts, meeting) -> dict[str, int]:
    """Return how many of the texts came to what; a crash is told with its text."""
    counts: dict[str, int] = {}
    for text in texts:
        try:
            outcome = meeting(text)
        except Exception:
            pytest.fail(f"{traceback.format_exc()}\n{text}")
        counts[outcome] = counts.get(outcome, 0) + 1
    return counts


def test_the_texts_are_all_made_before_they_are_damaged(template_texts, meeting):
    assert set(outcomes(template_texts, meeting)) == {"made"}


def test_three_hundred_damaged_texts_meet_no_traceback(template_texts, damaged_texts, meeting):
    counts = outcomes(damaged_texts(template_texts, 2026, 300), meeting)
    assert sum(counts.values()) == 300
    # a machine that damages too much, or nothing, finds nothing
    assert counts["made"] > 30
    assert counts["faults"] > 150


def test_the_same_seed_makes_the_same_texts(template_texts, damaged_texts):
    first = list(damaged_texts(template_texts, 7, 40))
    assert first == list(damaged_texts(template_texts, 7, 40))
    assert first != list(damaged_texts(template_texts, 8, 40))


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(20))
def test_a_hundred_thousand_damaged_texts_meet_no_traceback(
    seed, template_texts, damaged_texts, meeting
):
    slowest, text_of_slowest = 0.0, ""
    for text in damaged_texts(template_texts, seed, 5_000):
        begin = time.process_time()
        outcomes([text], meeting)
        taken = time.process_time() - begin
        if taken > slowest:
            slowest, text_of_slowest = taken, text
    print(f"seed {seed}: the slowest took {slowest:.3f} s\n{text_of_slowest}")


HEAD = 'template = "much"\nkind = "insert"\nunits = "mm"\n'
MAP = "[parts.a]\ncolumns = [{ repeat = 200, columns = [10] }]\n"
ROWS = "rows = [" + ", ".join(f'"10 : ( {letter}# )"' for letter in "abcdefghijklmnopqrst") + "]\n"
LEAF = '[parts.a]\ncolumns = [1000]\nrows = ["1000 : a"]\n'
MARK = '{ mark = "a", repeat = 200, line = [["i * 1 mm", 5], ["i * 1 mm + 5", 9]] }, '
FOLDED = MAP + 'rows = ["10 : ( b# )"]\nfolds = { "* | *" = "valley" }\n'
TOO_MUCH = {
    "repeats inside repeats": '[parts."a#"]\nrepeat = 200\n' + FOLDED.partition("\n")[2],
    "cells": MAP + ROWS + 'folds = { "* | *" = 90, "* / *" = 90 }\n',
    "patterns of folds": MAP
    + ROWS
    + "[parts.a.folds]\n"
    + "".join(f'"a{i}* | *" = 90\n' for i in range(5000)),
    "marks": f"{LEAF}edits = [{MARK * 300}]\n",
    "long lines": LEAF
    + 'edits = [{ mark = "a", repeat = 200, line = ['
    + ", ".join(f'["{i} + 1 + 1 + 1 + 1 + 1", "i * 1 mm + {i % 2} mm"]' for i in range(390))
    + "] }]\n",
    "holes among holes": LEAF
    + "edits = ["
    + "".join(
        f'{{ holes = "a", edge = "top", inset = {5 + 2 * i}, diameter = 1, start = 5, count = 200 }}, '
        for i in range(100)
    )
    + "]\n",
    "notches": LEAF
    + "edits = ["
    + "".join(
        f'{{ notch = "a", edge = "top", diameter = "1/2", at = {i + 1} }}, ' for i in range(900)
    )
    + "]\n",
    "through": FOLDED
    + 'edits = [{ mark = "b3", repeat = 200, through = ["b1*", "b2*"], '
    + 'line = [[1, "i / 100 * 1 mm"], [2, "i / 100 * 1 mm"]] }]\n',
    "tape": FOLDED
    + "edits = ["
    + '{ tape = ["b2*", "b3*", "b4*", "b5*"], side = "face", inset = 1, onto = "b1" }, ' * 200
    + "]\n",
    "steps": FOLDED + "steps = [" + '"* | *", ' * 15_000 + "]\n",
    "crossing lines": "[parts.a]\noutline = [[0, 0], [400, 0], [400, 400], [0, 400]]\n"
    + "panels = { b = [1, 1] }\n[parts.a.lines]\n"
    + "".join(f"l{i} = [[0, {i}], [400, {400 - i}]]\n" for i in range(300)),
    "lines": "[parts.a]\noutline = [[0, 0], [400, 0], [400, 400], [0, 400]]\n"
    + "panels = { b = [1, 1] }\n[parts.a.lines]\n"
    + "".join(f"l{i} = [[0, {i}], [400, {i + 1}]]\n" for i in range(3000)),
    "boards": "[parts.a]\nturn_in = 1\nboards = ["
    + ", ".join(f'{{ board = "b{i}", width = 10, height = {i + 1} }}' for i in range(3000))
    + "]\n",
    "joins": '[parts."a#"]\nrepeat = 200\ncolumns = [10]\nrows = ["10 : b"]\n'
    + 'edits = [{ tape = "b", side = "face" }]\n'
    + '[[joins]]\nrepeat = 200\nzone = "a#.b"\nonto = "a1.b"\n' * 500,
}


@pytest.mark.parametrize("what", TOO_MUCH)
def test_much_work_is_told_before_it_is_done(what, spent, faults_of):
    codes = [fault.code for fault in faults_of(HEAD + TOO_MUCH[what])]
    assert codes == ["too-much-work"]
    assert all(work.done < MAX_WORK + STEP for work in spent)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("".join(f"key{i} = 1\n" for i in range(9_000)), "unknown-key"),
        (f"{LEAF}edits = [{'{ tapper = 1 }, ' * 9_000}]\n", "no-verb"),
        (MAP + 'rows = ["10 : ( a# )"]\n', "no-fold-key"),
    ],
)
def test_at_most_fifty_faults_are_told(text, code, faults_of):
    assert [fault.code for fault in faults_of(HEAD + text)] == [code] * 50


def test_a_template_has_at_most_a_hundred_parts(faults_of):
    parts = "".join(LEAF.replace("parts.a", f"parts.a{i}") for i in range(101))
    assert [fault.code for fault in faults_of(HEAD + parts)] == ["too-many"]


def test_a_comb_of_sixty_fins_is_not_too_much(spent, faults_of):
    comb = (
        '[parts.comb]\ncolumns = [20, { repeat = 60, columns = ["22 / 3", "20 / 3", 6] }, 20]\n'
        'rows = ["107 : a ( up# down# gap# ) b"]\n'
        'folds = { "* | *" = 90, "up* | down*" = "mountain" }\n'
        'edits = [{ tape = "up#", repeat = 60, side = "reverse", inset = 1, onto = "down#" }]\n'
    )
    assert faults_of(HEAD + comb) == ()
    assert 0 < sum(work.done for work in spent) < MAX_WORK * 2 / 3

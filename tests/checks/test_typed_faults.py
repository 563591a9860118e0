"""Books that people got wrong: each is right but for one slip, typed by hand.

Random books all come from our own composer; what is here does not: book files,
workshop files and templates as a person writes them, and parts and joins changed by
hand after composing. Of each slip the rule is named that must catch it, and that rule
has nothing but remarks to say of the book without the slip.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

import pytest
from spoiling import changed_join, changed_part, longer_panel, moved_zone, stretched

from dielines.bindings.bound import folded as folded_poses
from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.checking import Found, check_book
from dielines.checks.finding import Severity
from dielines.checks.registry import rules
from dielines.checks.report_text import value_text
from dielines.folding.folded_book import FoldedBook
from dielines.landing import land
from dielines.part import Side, Zone
from dielines.part_motion import mirrored
from dielines.paths import Point, bounds_of, rectangle


@dataclass(frozen=True)
class Slip:
    """A book, what it is made with, and what went wrong in it.

    *wrong* is what was typed in the place of what should stand there, in any of the
    texts; *changed* is what a hand did to the composed book. *rules* name what must
    catch it, *severity* how bad the worst of that is, *amount* by how much (mm unless
    the rule counts in something else).
    """

    words: str
    rules: set[str]
    book: str
    wrong: tuple[str, str] = ("", "")
    templates: dict[str, str] = field(default_factory=dict)
    workshop: str = ""
    changed: Callable[[Book], Book] = lambda book: book
    severity: Severity = Severity.ERROR
    amount: float | None = None


ALBUM = """
title   = "By hand"
units   = "in"
size    = "photo 5 x 3 1/2"
binding = "tab and channel"
pages   = ["plain leaf", "{kind}", "plain leaf", "plain leaf"]
"""
PLAIN = ALBUM.format(kind="plain leaf")
POCKET = """
template = "my-pocket"
kind     = "page"
units    = "in"
help     = "A pocket, open at its fore-edge."
[parameters]
width  = { type = "length", default = 5, min = 2, max = 16, help = "across" }
height = { type = "length", default = 4, min = 2, max = 16, help = "up" }
[parts.page]
stock = "cardstock"
grain = "spine"
bound = "front left"
mouth = { front = "right" }
columns = ["width"]
rows = [
  "1/2 in : seam",
  "1/8 in : head",
  "height : front",
  "1/8 in : tail",
  "height : back",
]
edits = [
  { taper = "seam", inset = "1/8" },
  { notch = "front", edge = "right", diameter = "3/4", through = ["back"] },
  { tape = "seam", side = "face", inset = "1/16", onto = "back" },
]
steps = ["seam / head, head / front", "front / tail, tail / back"]
[parts.page.folds]
"* / *" = -90
"""
WITH_POCKET = {"book": ALBUM.format(kind="my pocket"), "templates": {"my-pocket": POCKET}}
FLAPS = """
template = "my-flap"
kind     = "page"
units    = "in"
help     = "A leaf with a flap."
[parameters]
width  = { type = "length", default = 5, min = 2, max = 16, help = "across" }
height = { type = "length", default = 4, min = 2, max = 16, help = "up" }
[parts.page]
stock = "cardstock"
grain = "spine"
bound = "page left"
columns = ["width", "1/8 in", "width - 1/4 in"]
rows = ["height : page gusset flap"]
folds = { "page | gusset" = 90, "gusset | flap" = 90 }
"""
WITH_FLAP = {"book": ALBUM.format(kind="my flap"), "templates": {"my-flap": FLAPS}}
ROLL = """
template = "my-roll"
kind     = "page"
units    = "in"
help     = "A leaf that rolls up into itself."
[parameters]
width  = { type = "length", default = 5, min = 2, max = 16, help = "across" }
height = { type = "length", default = 4, min = 2, max = 16, help = "up" }
[parts.page]
stock = "cardstock"
grain = "spine"
bound = "page left"
columns = ["width", "1/8 in", "width - 1/16 in", "1/16 in", "width - 1/8 in"]
rows = ["height : page outer_gusset outer inner_gusset inner"]
steps = ["outer | inner_gusset, inner_gusset | inner", "page | outer_gusset, outer_gusset | outer"]
folds = { "* | *" = 90 }
"""
WITH_ROLL = {"book": ALBUM.format(kind="my roll"), "templates": {"my-roll": ROLL}}
MAP = """
template = "my-map"
kind     = "page"
units    = "in"
help     = "A leaf that is folded in four."
[parameters]
width  = { type = "length", default = 5, min = 2, max = 16, help = "across" }
height = { type = "length", default = 4, min = 2, max = 16, help = "up" }
[parts.page]
stock = "cardstock"
grain = "spine"
bound = "page left"
columns = ["width", "width - 1/8 in"]
rows = ["height - 1/8 in : head_left head_right", "height : page right"]
steps = ["head_left / page, head_right / right", "page | right, head_left | head_right"]
[parts.page.folds]
"head_left / page" = "valley"
"head_right / right" = "valley"
"page | right" = "valley"
"head_left | head_right" = "mountain"
"""
WITH_MAP = {"book": ALBUM.format(kind="my map"), "templates": {"my-map": MAP}}
SEEDS = """
title   = "Seeds"
units   = "mm"
size    = "page 95 x 135"
binding = "tab and channel"
pages   = ["4 x top pocket"]
[every."top pocket"]
holds   = { what = "seed packet", size = "80 x 115", thick = 2 }
depth   = "to fit"
"""
BENCH = """
units = "in"
[papers."card"]
roles = ["pages", "inserts"]
caliper = "0.24 mm"
grain = "long"
sheets = ["12 x 18", "18 x 24"]
[papers."leaf print"]
roles = ["mats"]
caliper = "0.17 mm"
grain = "up"
printed = "one side"
sheets = ["12 x 12"]
[tapes."tape"]
thickness = "0.13 mm"
rolls = ["1/8", "1/4", "3/8", "1/2", "3/4", "1"]
"""


def unmirrored(book: Book) -> Book:
    """Page 3, of the back half, cut as if it were one of the front half."""
    return changed_part(book, "page-3", mirrored)


def glued_mouth(book: Book) -> Book:
    """A second strip of tape, 3/8 in wide, along the mouth of the pocket of page 2, onto its back."""
    part = book.part("page-2").part
    box = part.panel("front").bounds()
    mouth = box.left if part.bound.side == "right" else box.right - Fraction(95, 10)
    strip = rectangle(mouth, box.bottom + 2, mouth + Fraction(95, 10), box.top - 2)
    zone = Zone("mouth", "front", Side.REVERSE, strip, "back")
    poses = folded_poses(part, "back")
    lying = bounds_of([land(poses["front"], poses["back"], strip).path])
    (seam,) = (j for j in book.joins if (j.part, j.zone) == ("page-2", "seam"))
    join = replace(
        seam, zone="mouth", panel="front", side=Side.REVERSE,
        offset=Point(lying.left, lying.bottom), width=lying.width, height=lying.height,
    )  # fmt: skip
    book = changed_part(book, "page-2", lambda p: replace(p, zones=(*p.zones, zone)))
    return replace(book, joins=(*book.joins, join))


def moved_tab(book: Book) -> Book:
    """The hinge tab of page 2 laid half an inch too low on page 1."""
    (join,) = (j for j in book.joins if j.part == "page-2" and j.onto_part == "page-1")
    lower = Point(join.offset.x, join.offset.y - Fraction(127, 10))
    return changed_join(book, "page-2", join.zone, offset=lower)


SLIPS = (
    Slip(
        "the back of a pocket is a sixteenth too long",
        {"sticks out"},
        **WITH_POCKET,
        wrong=('"height : back"', '"height + 1/16 in : back"'),
        amount=25.4 / 16,
        severity=Severity.WARNING,
    ),
    Slip(
        "the back of a pocket is cut three eighths too short for its seam",
        {"seam off target"},
        **WITH_POCKET,
        changed=lambda book: changed_part(
            book, "page-2", lambda p: longer_panel(p, "back", "y", Fraction(-25.4 * 3 / 8))
        ),
    ),
    Slip(
        "the back is folded before the seam, whose tape then looks away",
        {"tape faces away"},
        **WITH_POCKET,
        wrong=(
            '["seam / head, head / front", "front / tail, tail / back"]',
            '["front / tail, tail / back", "seam / head, head / front"]',
        ),
    ),
    Slip(
        "nobody says in which order a pocket is folded",
        {"order unclear"},
        **WITH_POCKET,
        changed=lambda book: changed_part(book, "page-2", lambda p: replace(p, steps=())),
    ),
    Slip(
        "a second zone of tape glues the mouth of a pocket",
        {"mouth", "pocket blocked"},
        **WITH_POCKET,
        changed=glued_mouth,
    ),
    Slip(
        "the tape of a seam is on the wrong side",
        {"tape faces away"},
        **WITH_POCKET,
        wrong=('tape = "seam", side = "face"', 'tape = "seam", side = "reverse"'),
    ),
    Slip(
        "the notch of the back is cut into its other edge",
        {"notches apart", "mouth"},
        **WITH_POCKET,
        wrong=(
            'diameter = "3/4", through = ["back"] },',
            'diameter = "3/4" },\n  { notch = "back", edge = "left", diameter = "3/4" },',
        ),
    ),
    Slip(
        "the paper of a pocket lies with its grain across",
        {"grain"},
        **WITH_POCKET,
        wrong=('grain = "spine"', 'grain = "across"'),
        severity=Severity.REMARK,
    ),
    Slip(
        "a flap is a quarter of an inch wider than its page",
        {"sticks out"},
        **WITH_FLAP,
        wrong=('"width - 1/4 in"]', '"width + 1/4 in"]'),
        amount=25.4 / 4,
    ),
    Slip(
        "the leaves of a roll fold are equally wide",
        {"zero clearance"},
        **WITH_ROLL,
        wrong=('"width - 1/16 in", "1/16 in", "width - 1/8 in"]', '"width", "1/16 in", "width"]'),
        severity=Severity.REMARK,
    ),
    Slip(
        "the inner gusset of a roll fold is the wider one",
        {"through each other", "pierced", "gusset too narrow"},
        **WITH_ROLL,
        wrong=(
            '"1/8 in", "width - 1/16 in", "1/16 in", "width - 1/8 in"]',
            '"1/16 in", "width - 1/16 in", "1/8 in", "width - 1/8 in"]',
        ),
        amount=25.4 / 16,
    ),
    Slip(
        "one fold of a map has the wrong sign",
        {"loop open", "flat folding"},
        **WITH_MAP,
        wrong=('"head_left | head_right" = "mountain"', '"head_left | head_right" = "valley"'),
    ),
    Slip(
        "the channel of the hinge strip is cut narrower than the gusset of the flap in it",
        {"channel too narrow"},
        ALBUM.format(kind="flap"),
        changed=lambda book: changed_part(
            book, "hinge-strip", lambda p: longer_panel(p, "channel", "x", Fraction(-48, 10))
        ),
        severity=Severity.WARNING,
    ),
    Slip(
        "mats of board lie on pages made for paper",
        {"channel too narrow"},
        PLAIN + 'mats = "both sides"\n[usual]\nchannel = "1/16"\nend_channel = "1/8"\n',
        workshop=BENCH,
        wrong=('caliper = "0.17 mm"', 'caliper = "1.1 mm"'),
        severity=Severity.WARNING,
    ),
    Slip(
        "seed packets are wider than their pockets",
        {"contents do not fit"},
        SEEDS,
        wrong=('size = "80 x 115"', 'size = "99 x 115"'),
    ),
    Slip(
        "six packets are put where one was meant",
        {"contents do not fit", "gusset too narrow"},
        SEEDS.replace('"to fit"', "3"),
        wrong=("thick = 2 }", "thick = 2, count = 6 }"),
        severity=Severity.WARNING,
    ),
    Slip(
        "the cover tab is too short to reach its board",
        {"cover tab reach"},
        PLAIN + '[usual]\ncover_tab = "2"\n',
        wrong=('cover_tab = "2"', 'cover_tab = "1"'),
        severity=Severity.WARNING,
    ),
    Slip(
        "the joint is narrower than two boards",
        {"joint"},
        PLAIN + '[usual]\njoint = "5/16"\n',
        wrong=('joint = "5/16"', 'joint = "1/16"'),
    ),
    Slip(
        "the spine is typed half an inch too narrow",
        {"spine too narrow"},
        PLAIN + '[spine]\nwidth = "1 3/4"\n',
        wrong=('"1 3/4"', '"3/4"'),
        severity=Severity.WARNING,
    ),
    Slip(
        "the person owns no tape that is narrow enough",
        {"tape width unknown"},
        PLAIN,
        workshop=BENCH,
        wrong=('["1/8", "1/4", "3/8", "1/2", "3/4", "1"]', '["2"]'),
        severity=Severity.WARNING,
    ),
    Slip(
        "the sheets are too small for a pocket",
        {"larger than sheet"},
        ALBUM.format(kind="side pocket"),
        workshop=BENCH,
        wrong=('sheets = ["12 x 18", "18 x 24"]', 'sheets = ["8 x 8"]'),
    ),
    Slip(
        "the lap of the reinforcement is longer than the tab that covers it",
        {"lap shows"},
        PLAIN + '[usual]\nreinforcement_lap = "3/8"\n',
        wrong=('reinforcement_lap = "3/8"', 'reinforcement_lap = "7/8"'),
        severity=Severity.WARNING,
    ),
    Slip(
        "the boards are cut an inch too low",
        {"sticks out of case", "square not as wanted"},
        PLAIN,
        changed=lambda book: changed_part(
            book, "front-board", lambda p: stretched(p, "y", 40, Fraction(-254, 10))
        ),
    ),
    Slip(
        "a page of the back half is cut like one of the front half",
        {"halves differ", "joins disagree", "sticks out of case"},
        ALBUM.format(kind="flap"),
        changed=unmirrored,
    ),
    Slip(
        "a hinge tab is laid half an inch too low",
        {"seam off target", "joins disagree", "sticks out of case", "square not as wanted"},
        PLAIN,
        changed=moved_tab,
    ),
    Slip(
        "the tape of a hinge tab is stuck over its fold",
        {"fold in tape", "tape outside overlap"},
        PLAIN,
        changed=lambda book: changed_part(
            book, "page-2", lambda p: moved_zone(p, "binding.tab", dx=-4)
        ),
        severity=Severity.WARNING,
    ),
    Slip(
        "the tape of a hinge tab is stuck over its free edge",
        {"cut in tape"},
        PLAIN,
        changed=lambda book: changed_part(
            book, "page-2", lambda p: moved_zone(p, "binding.tab", dx=4)
        ),
        severity=Severity.WARNING,
    ),
)


def folded(folder: Path, slip: Slip, wrong: bool, settings: Sequence[str] = ()) -> FoldedBook:
    """Return the book of a slip, with or without what is wrong in it, with *settings*."""
    texts = {"book.toml": slip.book, "own-workshop": slip.workshop}
    texts |= {f"{name}.toml": text for name, text in slip.templates.items()}
    if wrong:
        old, new = slip.wrong
        assert not old or sum(text.count(old) for text in texts.values()) == 1, old
        texts = {name: text.replace(old, new) if old else text for name, text in texts.items()}
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8")
    own = folder / "own-workshop" if slip.workshop else None
    source = book_source(book_document(folder / "book.toml"), settings, own)
    book = compose(source.request, source.workshop, source.library)
    return FoldedBook(slip.changed(book) if wrong else book, source.workshop)


def found_by(book: FoldedBook, names: set[str]) -> list[Found]:
    return list(check_book(book, {name: rules()[name] for name in sorted(names)}).found)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.words)
def test_a_slip_is_caught(tmp_path, slip):
    found = found_by(folded(tmp_path, slip, wrong=True), slip.rules)
    worst = list(Severity)
    assert found
    assert min(worst.index(f.finding.severity) for f in found) <= worst.index(slip.severity)
    if slip.amount is not None:
        amounts = [float(f.finding.amount.value) for f in found if f.finding.amount]
        assert any(amount == pytest.approx(slip.amount, abs=0.01) for amount in amounts)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.words)
def test_without_the_slip_its_rules_have_nothing_worse_than_remarks_to_say(tmp_path, slip):
    found = found_by(folded(tmp_path, slip, wrong=False), slip.rules)
    worse = [f for f in found if f.finding.severity is not Severity.REMARK]
    assert worse == []
    if slip.severity is Severity.REMARK:
        assert found == []


TYPED = [slip for slip in SLIPS if slip.wrong[0]]  # what was cut wrong no setting mends


@pytest.mark.parametrize("slip", TYPED, ids=lambda slip: slip.words)
def test_who_follows_all_advice_of_a_rule_does_not_hear_of_it_again(tmp_path, slip):
    wrong = folded(tmp_path, slip, wrong=True)
    for rule in slip.rules & set(rules()):
        found = [f.finding for f in found_by(wrong, {rule})]
        if not found or not all(finding.advice for finding in found):
            continue
        advice = {a.setting: value_text(wrong.book, a.value) for f in found for a in f.advice}
        settings = [f"{setting}={value}" for setting, value in advice.items()]
        mended = folded(tmp_path, slip, wrong=True, settings=settings)
        assert found_by(mended, {rule}) == [], settings


def test_there_are_twenty_slips_and_more():
    assert len({slip.words for slip in SLIPS}) == len(SLIPS) >= 20

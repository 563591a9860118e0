"""A small piece to cut first: true sizes, the right kind of score, tape that holds.

A card of 120 x 90 mm with a tab (it fits a sheet of A6). Two squares tell
whether the file came through at its true size; the smaller drops into the hole
of the larger with 0.4 mm to spare. Eight strips, numbered from the left, each
fold along one kind of score. The tab folds over, its tape inside, and its far
edge ends on the short slit. Sizes and the row of dashes are our choice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from .dashes import Dashes, dashed
from .drawing import Caption, Drawing, Group, Item, Layer
from .lengths import inches, millimetres
from .paths import Path, Point, line, polyline, rectangle

WIDTH, HEIGHT = Fraction(120), Fraction(90)  #: of the card without its tab
STRIP, SLIT, SCORE_AT = Fraction(15), Fraction(42), Fraction(26)
TAB = Fraction(12)  #: as a seam tab in a book in mm
TAB_FOOT, TAB_TOP, TAPER = Fraction(42), Fraction(80), Fraction(3)
TAPE_INSET = Fraction(3, 2)  #: on each side: the tab's width less 3 mm
SQUARES_AT = Fraction(56)
CAPITALS = 2.0  #: height of the lettering


@dataclass(frozen=True, slots=True)
class Setting:
    """One way to score: a layer of its own, or dashes on PERFORATE."""

    name: str
    layer: Layer
    dashes: Dashes | None = None

    def pieces(self, score: Path) -> tuple[Path, ...]:
        """Return *score* as this setting has it."""
        return dashed(score, self.dashes) if self.dashes else (score,)


def _in_dashes(dash: int, gap: int) -> Setting:
    return Setting(f"cut {dash}, leave {gap}", Layer.PERFORATE, Dashes(dash, gap))


SETTINGS = (
    Setting("valley", Layer.SCORE_VALLEY),
    Setting("mountain", Layer.SCORE_MOUNTAIN),
    Setting("perforate", Layer.PERFORATE),
    *(_in_dashes(dash, gap) for dash, gap in ((1, 1), (3, 2), (2, 1), (3, 1), (5, 1))),
)


def proof_piece() -> Drawing:
    """Return the piece to cut first, all layers."""
    items = (*_scores(), *_squares(), *_tab(), *_slits(), Item(Layer.CUT, _outline(), "outline"))
    group = Group("test-piece", "Test piece", items, tuple(_captions()))
    return Drawing(
        float(WIDTH + TAB),
        float(HEIGHT),
        (group,),
        title="Test piece",
        description="Squares of 1 in and 25 mm, scores at every setting, a tab on its tape",
    )


def _outline() -> Path:
    right, far = WIDTH, WIDTH + TAB
    return polyline(
        [(Fraction(0), Fraction(0)), (right, Fraction(0)), (right, TAB_FOOT),
         (far, TAB_FOOT + TAPER), (far, TAB_TOP - TAPER), (right, TAB_TOP),
         (right, HEIGHT), (Fraction(0), HEIGHT)],
        closed=True,
    )  # fmt: skip


def _squares() -> Iterator[Item]:
    for left, side, name in (
        (Fraction(15), inches(1).mm, "1 in square"),
        (Fraction(60), millimetres(25).mm, "25 mm square"),
    ):
        square = rectangle(left, SQUARES_AT, left + side, SQUARES_AT + side)
        yield Item(Layer.CUT, square, name)


def _scores() -> Iterator[Item]:
    for i, setting in enumerate(SETTINGS):
        score = line((i * STRIP, SCORE_AT), ((i + 1) * STRIP, SCORE_AT))
        for piece in setting.pieces(score):
            yield Item(setting.layer, piece, setting.name)


def _slits() -> Iterator[Item]:
    for i in range(1, len(SETTINGS)):
        yield Item(Layer.CUT, line((i * STRIP, Fraction(0)), (i * STRIP, SLIT)), "slit")


def _tab() -> Iterator[Item]:
    """Yield fold, tape, and the slit on which the far edge ends when the tab is folded over."""
    middle, landing = (TAB_FOOT + TAB_TOP) / 2, WIDTH - TAB
    yield Item(Layer.SCORE_VALLEY, line((WIDTH, TAB_FOOT), (WIDTH, TAB_TOP)), "fold of the tab")
    tape = rectangle(WIDTH + TAPE_INSET, TAB_FOOT + 4, WIDTH + TAB - TAPE_INSET, TAB_TOP - 4)
    yield Item(Layer.TAPE_FACE, tape, "tape of the tab")
    yield Item(Layer.CUT, line((landing, middle - 3), (landing, middle + 3)), "end of the tab")


def _captions() -> Iterator[Caption]:
    for i, setting in enumerate(SETTINGS):
        at = Point(i * STRIP + 9, Fraction(1))
        yield Caption(Layer.LABEL, f"{i + 1} {setting.name}", at, CAPITALS, 90.0)
    for left, name in ((15, "1 in"), (60, "25 mm")):
        yield Caption(Layer.LABEL, name, Point(Fraction(left), SQUARES_AT - 4), CAPITALS)

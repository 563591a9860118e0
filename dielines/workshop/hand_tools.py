"""Hand tools, and how exactly a hand works with them."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Field, Kind
from ..lengths import ZERO, Length, millimetres
from .entries import Entry
from .reach import Reach
from .sizes import Size

SHORTEST_TOOL, LONGEST_TOOL = millimetres(50), millimetres(3000)
FINEST_GROOVES, COARSEST_GROOVES = millimetres("0.5"), millimetres(30)
SURE_HAND, SHAKY_HAND = millimetres(0), millimetres(5)

WIDEST_TRIM = millimetres(50)

TRIMMER_FIELDS = (
    Field("length", Kind.SIZE),
    Field("margin", Kind.SIZE),
    Field("gap", Kind.SIZE),
)
SCORING_BOARD_FIELDS = (Field("grooves", Kind.SIZE), Field("length", Kind.SIZE))
HAND_FIELDS = (
    Field("cut", Kind.SIZE),
    Field("score", Kind.SIZE),
    Field("tape", Kind.SIZE),
)


@dataclass(frozen=True, slots=True)
class Trimmer:
    """A paper trimmer."""

    length: Length  #: of the longest cut
    margin: Length = ZERO  #: trimmed off each edge of a sheet before anything else
    gap: Length = ZERO  #: waste between neighbours

    @property
    def reach(self) -> Reach:
        """What can be cut out with it: no side is longer than its cut."""
        return Reach(Size(self.length, self.length))


@dataclass(frozen=True, slots=True)
class ScoringBoard:
    """A board with grooves at equal distances, from a fence."""

    grooves: Length  #: from one groove to the next
    length: Length  #: from the fence to the last groove

    def has_groove_at(self, distance: Length) -> bool:
        """Return whether a score at *distance* from the edge falls into a groove."""
        return distance <= self.length and (distance / self.grooves).denominator == 1


@dataclass(frozen=True, slots=True)
class HandErrors:
    """Usual errors of the hand, as standard deviations: two of three are smaller."""

    cut: Length
    score: Length
    tape: Length


def read_trimmer(entry: Entry) -> Trimmer:
    """Return the trimmer that the table ``[trimmer]`` says."""
    return Trimmer(
        entry.length("length", SHORTEST_TOOL, LONGEST_TOOL),
        *(
            entry.length(key, ZERO, WIDEST_TRIM) if entry.has(key) else ZERO
            for key in ("margin", "gap")
        ),
    )


def read_scoring_board(entry: Entry) -> ScoringBoard:
    """Return the scoring board that the table ``[scoring_board]`` says."""
    return ScoringBoard(
        grooves=entry.length("grooves", FINEST_GROOVES, COARSEST_GROOVES),
        length=entry.length("length", SHORTEST_TOOL, LONGEST_TOOL),
    )


def read_hand(entry: Entry) -> HandErrors:
    """Return the errors that the table ``[hand]`` says."""
    cut, score, tape = (
        entry.length(key, SURE_HAND, SHAKY_HAND) for key in ("cut", "score", "tape")
    )
    return HandErrors(cut, score, tape)

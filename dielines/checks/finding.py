"""What a rule found: where, how much, and what to change."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from ..lengths import Length
from ..paths import Number, Point


class Severity(Enum):
    """How bad a finding is; the first is the worst."""

    ERROR = "error"  #: it cannot be made, or does not hold, as it is
    WARNING = "warning"  #: it can be made, and will disappoint
    REMARK = "remark"  #: a matter of taste, custom or a handbook's range


@dataclass(frozen=True, slots=True)
class Spot:
    """Where something is wrong: a part by its key, a panel, a point of the flat part (mm)."""

    part: str = ""  #: empty for the book as a whole
    panel: str = ""
    point: Point | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """A setting that mends it, as ``--set`` takes it: ``page.2.flap`` and a size or a word.

    With this setting in its book (all advice of one finding together) the rule is silent.
    """

    setting: str
    value: Length | str


@dataclass(frozen=True, slots=True)
class Amount:
    """By how much: *value* is in mm unless *unit* says otherwise (degrees, pages, 1 for a share)."""

    value: Number
    unit: str = "mm"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a rule found. Words are plain and end without a full stop.

    *message* says what is wrong with which amount, in units of the book; *remedy*
    says what to change, by how much.
    """

    severity: Severity
    spot: Spot
    message: str
    remedy: str
    amount: Amount | None = None
    advice: tuple[Advice, ...] = ()

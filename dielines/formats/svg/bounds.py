"""How much of a stranger's file is read: bounds on bytes, elements, depth, work and size."""

from __future__ import annotations

from dataclasses import dataclass

from ..out_of_bounds import OutOfBounds

MAX_BYTES = 20_000_000
MAX_ELEMENTS = 200_000  #: in the file, and again once ``use`` has been followed
MAX_DEPTH = 200  #: of elements within elements, ``use`` included
MAX_STEPS = 500_000  #: path commands and vertices, chords of curves included
MAX_TEXT = 10_000  #: characters of a title or description, roughly
MAX_NUMBER = 1e15  #: of any number in the file
MAX_DIGITS = 100  #: characters of any number in the file


@dataclass
class Allowance:
    """What may still be spent on one file."""

    steps: int = MAX_STEPS
    elements: int = MAX_ELEMENTS

    def take_steps(self, count: int) -> None:
        """Spend *count* vertices or path commands; raises OutOfBounds when they are used up."""
        self.steps -= count
        if self.steps < 0:
            raise OutOfBounds("too-much-path", f"its paths take more than {MAX_STEPS:,} steps")

    def take_elements(self, count: int) -> None:
        """Spend *count* elements to be drawn; raises OutOfBounds when they are used up."""
        self.elements -= count
        if self.elements < 0:
            raise OutOfBounds("too-many-elements", f"it draws more than {MAX_ELEMENTS:,} elements")

"""Path data of any SVG file, command by command, drawn with a pen.

Source: SVG 2, paths.html, "The grammar for path data": white space and commas
may be left out wherever a number can end, flags are one character. After an
error nothing more is drawn (SVG 2, "Error handling in path data").
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from .arcs import ArcWords
from .numbers import NUMBER, WHITE, spelled
from .tracing import Pen, Place

_COMMAND = re.compile(rf"[{WHITE}]*([MmZzLlHhVvCcSsQqTtAa])")
_NUMBER = re.compile(rf"[{WHITE}]*,?[{WHITE}]*({NUMBER})")
_FLAG = re.compile(rf"[{WHITE}]*,?[{WHITE}]*([01])")
_NUMBERS = {
    letter: (_NUMBER,) * count
    for letter, count in {
        "M": 2,
        "L": 2,
        "H": 1,
        "V": 1,
        "C": 6,
        "S": 4,
        "Q": 4,
        "T": 2,
        "Z": 0,
    }.items()
}
_PATTERNS = _NUMBERS | {"A": (_NUMBER, _NUMBER, _NUMBER, _FLAG, _FLAG, _NUMBER, _NUMBER)}
_REPEATED = {"M": "L", "m": "l", "Z": "", "z": ""}  #: what numbers without a letter go on with


class Command(NamedTuple):
    """A command letter with its numbers, as written."""

    letter: str
    numbers: tuple[float, ...]


def draw_path(data: str, pen: Pen) -> bool:
    """Draw *data*; return whether all of it was path data."""
    draftsman = _Draftsman(pen)
    is_whole = True
    for command in commands(data):
        if command is None:
            is_whole = False
        else:
            draftsman.draw(command)
    pen.lift()
    return is_whole


def commands(data: str) -> Iterator[Command | None]:
    """Yield the commands of *data*, and None at the end where an error cuts it short.

    >>> list(commands("M100-200.5.5"))
    [Command(letter='M', numbers=(100.0, -200.5)), None]
    """
    position, letter, end = 0, "", len(data.rstrip(WHITE))
    while position < end:
        match = _COMMAND.match(data, position)
        is_first = letter == "" and position == 0
        letter = match[1] if match else _REPEATED.get(letter, letter)
        found = _numbers(letter, data, match.end() if match else position)
        if found is None or (is_first and letter not in "Mm"):
            yield None
            return
        numbers, position = found
        yield Command(letter, numbers)


def _numbers(letter: str, data: str, position: int) -> tuple[tuple[float, ...], int] | None:
    """Return the numbers of one command and where they end, or None."""
    if not letter:
        return None
    numbers = []
    for pattern in _PATTERNS[letter.upper()]:
        match = pattern.match(data, position)
        number = spelled(match[1]) if match else None
        if match is None or number is None:
            return None
        numbers.append(number)
        position = match.end()
    return tuple(numbers), position


class _Draftsman:
    """Moves the pen by commands and remembers what smooth curves go on from."""

    def __init__(self, pen: Pen) -> None:
        self.pen = pen
        self.origin: Place = (0.0, 0.0)  #: what the numbers of this command are counted from
        self.cubic_control: Place | None = None
        self.quadratic_control: Place | None = None

    def draw(self, command: Command) -> None:
        """Draw one command."""
        letter = command.letter.upper()
        self.origin = self.pen.here if command.letter.islower() else (0.0, 0.0)
        _DRAW[letter](self, *command.numbers)
        if letter not in "CS":
            self.cubic_control = None
        if letter not in "QT":
            self.quadratic_control = None

    def place(self, x: float, y: float) -> Place:
        """Return the place that two numbers of this command mean."""
        return self.origin[0] + x, self.origin[1] + y

    def move(self, x: float, y: float) -> None:
        self.pen.move(*self.place(x, y))

    def line(self, x: float, y: float) -> None:
        self.pen.line(*self.place(x, y))

    def across(self, x: float) -> None:
        self.pen.line(self.origin[0] + x, self.pen.here[1])

    def along(self, y: float) -> None:
        self.pen.line(self.pen.here[0], self.origin[1] + y)

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        first, self.cubic_control = self.place(x1, y1), self.place(x2, y2)
        self.pen.cubic(first, self.cubic_control, self.place(x, y))

    def smooth_cubic(self, x2: float, y2: float, x: float, y: float) -> None:
        first, self.cubic_control = self.mirrored(self.cubic_control), self.place(x2, y2)
        self.pen.cubic(first, self.cubic_control, self.place(x, y))

    def quadratic(self, x1: float, y1: float, x: float, y: float) -> None:
        self.quadratic_control = self.place(x1, y1)
        self.pen.quadratic(self.quadratic_control, self.place(x, y))

    def smooth_quadratic(self, x: float, y: float) -> None:
        self.quadratic_control = self.mirrored(self.quadratic_control)
        self.pen.quadratic(self.quadratic_control, self.place(x, y))

    def arc(
        self, rx: float, ry: float, turn: float, large: float, sweep: float, *end: float
    ) -> None:
        self.pen.arc(ArcWords(rx, ry, turn, large == 1, sweep == 1), self.place(*end))

    def close(self) -> None:
        self.pen.close()

    def mirrored(self, control: Place | None) -> Place:
        """Return the last control point mirrored where the pen is; the pen's place without one."""
        x, y = self.pen.here
        return (x, y) if control is None else (2 * x - control[0], 2 * y - control[1])


_DRAW: dict[str, Callable[..., None]] = {
    "M": _Draftsman.move,
    "L": _Draftsman.line,
    "H": _Draftsman.across,
    "V": _Draftsman.along,
    "C": _Draftsman.cubic,
    "S": _Draftsman.smooth_cubic,
    "Q": _Draftsman.quadratic,
    "T": _Draftsman.smooth_quadratic,
    "A": _Draftsman.arc,
    "Z": _Draftsman.close,
}

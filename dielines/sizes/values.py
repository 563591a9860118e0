"""What one value in a book file says: a text, a size, a number. Each reader raises Refusal."""

from __future__ import annotations

from collections.abc import Callable, Collection
from decimal import Decimal
from enum import Enum
from typing import TypeVar

from ..documents import Refusal, suggestion
from ..errors import LengthError
from ..fields import Kind, is_kind, name_of_kind
from ..lengths import Length, Unit, inches, length_of, millimetres, parse_caliper, show
from ..workshop.sizes import Size, parse_size

T = TypeVar("T")
Choice = TypeVar("Choice", bound=Enum)

MOST_CHARACTERS = 400
SIDES = {  #: the shortest and the longest side of a photo, page, board or sheet
    "in": (inches("1/4"), inches(60)),
    "mm": (millimetres(5), millimetres(1500)),
}


def text_of(value: object) -> str:
    """Return the text of one line that *value* is."""
    if not isinstance(value, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(value)}", _quotes(value))
    text = value.strip()
    if not text:
        raise Refusal("empty", "nothing is written here")
    if len(text) > MOST_CHARACTERS:
        raise Refusal("too-long", f"longer than {MOST_CHARACTERS} characters")
    if not text.isprintable():
        raise Refusal("not-printable", "signs that cannot be printed, such as a line break")
    return text


def _quotes(value: object) -> str:
    return f'Write it in quotes: "{value}".' if is_kind(value, Kind.NUMBER) else ""


def count_of(value: object, least: int, most: int) -> int:
    """Return the whole number from *least* to *most* that *value* is."""
    if not isinstance(value, int) or isinstance(value, bool):
        got = str(value)[:20] if isinstance(value, Decimal | str) else name_of_kind(value)
        raise Refusal("wrong-kind", f"expected a whole number, got {got}")
    if not least <= value <= most:
        said = value if len(str(abs(value))) < 13 else "that number"
        raise Refusal("out-of-range", f"{said} is outside {least} to {most}")
    return value


def size_said(value: object, units: Unit) -> Length:
    """Return the length that *value* says; a bare number counts in *units*."""
    return _measured(lambda: length_of(_size(value), units))


def thickness_of(value: object, units: Unit) -> Length:
    """Return the thickness that *value* says; ``pt`` means a caliper point."""
    said = _size(value)
    return _measured(
        lambda: parse_caliper(said, units) if isinstance(said, str) else length_of(said, units)
    )


def _size(value: object) -> int | Decimal | str:
    """Return *value*, which can say a size."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal | str):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(value)}")
    if isinstance(value, Decimal) and not value.is_finite():
        raise Refusal("not-finite", f"{value} is not a finite number")
    return value


def within(length: Length, least: Length, most: Length, units: Unit) -> Length:
    """Return *length*, which lies from *least* to *most*."""
    if least <= length <= most:
        return length
    limits = f"{show(least, units, 64)} to {show(most, units, 64)}"
    raise Refusal("out-of-range", f"{show(length, units, 64)} is outside {limits}")


def size_of(value: object, units: Unit) -> Size:
    """Return the two sides that *value* says, across x up: "5 x 3 1/2", "A5 upright"."""
    text = text_of(value)
    size = _measured(lambda: parse_size(text, units))
    return Size(*(within(side, *SIDES[units], units) for side in size))


def _measured(reader: Callable[[], T]) -> T:
    """Return what *reader* returns, and say a LengthError as a Refusal."""
    try:
        return reader()
    except LengthError as problem:
        raise Refusal("not-a-size", problem.message, offset=problem.offset) from problem


def choice_of(value: object, choices: type[Choice]) -> Choice:
    """Return the member of *choices* whose word *value* is."""
    word = text_of(value).casefold()
    words = {str(choice.value): choice for choice in choices}
    if word not in words:
        raise Refusal("unknown-word", none_of(word, words))
    return words[word]


def none_of(word: str, words: Collection[str]) -> str:
    """Return the message that *word* is none of *words*, with a suggestion."""
    return f"{word[:60]!r} is none of {', '.join(words)}{suggestion(word, words)}"

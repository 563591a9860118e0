"""The words, numbers and signs of an expression, each with its place in the text."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction

from ..documents import Refusal
from ..lengths import MAX_DIGITS, MM_PER_UNIT
from .values import Value, bare, length

MAX_CHARACTERS = 200
MAX_TOKENS = 80

UNIT_WORDS = ("in", "inch", "inches", "mm", "cm")
_UNITS = {"in": "in", "inch": "in", "inches": "in", "mm": "mm", "cm": "cm"}
_UNITS |= dict.fromkeys(('"', "″", "”", "''"), "in")

_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_UNIT = r"""(?:"|″|”|''|(?ai:inches|inch|in|mm|cm)(?!\w))"""
_NUMBER = re.compile(
    rf"""(?: (?P<whole>[0-9]+) \s+ (?P<top>[0-9]+) \s*[/⁄]\s* (?P<bottom>[0-9]+) (?![0-9.])
        | (?P<whole_before_sign>[0-9]+)? \s* (?P<sign>[{_VULGAR}])
        | (?P<tight_top>[0-9]+) [/⁄] (?P<tight_bottom>[0-9]+) (?![0-9.])
        | (?P<loose_top>[0-9]+) \s*[/⁄]\s* (?P<loose_bottom>[0-9]+) (?= \s* {_UNIT})
        | (?P<decimal> [0-9]+ (?:\.[0-9]*)? | \.[0-9]+) )
    (?: \s* (?P<unit>{_UNIT}) )?""",
    re.VERBOSE,
)
_HYPHENATED = re.compile(r"[0-9]+[-‐‑–−][0-9]+[/⁄][0-9]+")
_WORD = re.compile(r"[^\W\d]\w*(?:\.[^\W\d]\w*)*")
_SIGN = re.compile(r"\*\*|<=|>=|==|!=|[-+*/⁄^<>(),=−–]")
_SPACE = re.compile(r"\s*")
_NO_NUMBER = bare(0)
_WRITTEN_OTHERWISE = {"−": "-", "–": "-", "⁄": "/"}


class TokenKind(Enum):
    """What a token is."""

    NUMBER = auto()
    WORD = auto()
    SIGN = auto()
    END = auto()


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of an expression; *offset* counts characters from the start of the text."""

    kind: TokenKind
    text: str
    offset: int
    value: Value = _NO_NUMBER  #: of a number
    is_fraction: bool = False  #: a number written as 7/8, without a whole in front

    def is_sign(self, sign: str) -> bool:
        """Return whether this is the sign or the word *sign*."""
        return self.text == sign and self.kind is not TokenKind.NUMBER


def tokens_of(text: str) -> list[Token]:
    """Return the tokens of *text*, an END behind them; raises Refusal.

    The text is known to have no more than MAX_CHARACTERS.
    """
    tokens: list[Token] = []
    position = _after_space(text, 0)
    while position < len(text):
        if len(tokens) == MAX_TOKENS:
            message = f"an expression of more than {MAX_TOKENS} words, numbers and signs"
            raise Refusal("too-long", message, "Give a part of it a name in [derived].", position)
        token, position = _token(text, position)
        tokens.append(token)
        position = _after_space(text, position)
    return [*tokens, Token(TokenKind.END, "", len(text))]


def _after_space(text: str, position: int) -> int:
    match = _SPACE.match(text, position)
    return match.end() if match else position


def _token(text: str, position: int) -> tuple[Token, int]:
    if match := _NUMBER.match(text, position):
        return _number(text, match), match.end()
    if match := _WORD.match(text, position):
        return Token(TokenKind.WORD, match[0], position), match.end()
    if match := _SIGN.match(text, position):
        return _sign(match[0], position), match.end()
    message = f"{text[position]!r} has no meaning here"
    raise Refusal("bad-character", message, offset=position)


def _sign(sign: str, position: int) -> Token:
    if sign in ("**", "^"):
        raise Refusal("powers", "there are no powers; write a * a", offset=position)
    if sign == "=":
        raise Refusal("bad-character", "'=' compares nothing; write ==", offset=position)
    return Token(TokenKind.SIGN, _WRITTEN_OTHERWISE.get(sign, sign), position)


def _number(text: str, match: re.Match[str]) -> Token:
    start = match.start()
    if hyphenated := _HYPHENATED.match(text, start):
        raise _two_readings(hyphenated[0], start)
    if any(len(digits) > MAX_DIGITS for digits in re.findall("[0-9]+", match[0])):
        raise Refusal("digits", f"a number of more than {MAX_DIGITS} digits", offset=start)
    amount = _amount(match)
    unit = match["unit"]
    value = length(amount * MM_PER_UNIT[_UNITS[unit.lower()]]) if unit else bare(amount)
    is_fraction = bool(match["tight_top"] or match["loose_top"])
    return Token(TokenKind.NUMBER, match[0], start, value, is_fraction)


def _two_readings(text: str, offset: int) -> Refusal:
    whole, fraction = re.split("[^0-9/⁄]", text)
    remedy = f"Write {whole} {fraction} for the mixed number, {whole} - {fraction} to take away."
    return Refusal("two-readings", f"{text} can be read in two ways", remedy, offset)


def _amount(match: re.Match[str]) -> Fraction:
    if match["decimal"]:
        return Fraction(match["decimal"])
    if match["sign"]:
        fraction = unicodedata.normalize("NFKC", match["sign"]).replace("⁄", "/")
        return int(match["whole_before_sign"] or 0) + Fraction(fraction)
    top = match["top"] or match["tight_top"] or match["loose_top"]
    bottom = match["bottom"] or match["tight_bottom"] or match["loose_bottom"]
    if int(bottom) == 0:
        raise Refusal("zero-division", "division by zero", offset=match.start())
    return int(match["whole"] or 0) + Fraction(int(top), int(bottom))

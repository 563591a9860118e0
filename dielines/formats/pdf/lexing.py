"""The words of a content stream (ISO 32000-1, 7.2 and 7.8.2), one operator at a time."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from ..out_of_bounds import OutOfBounds
from .bounds import MAX_DEPTH, MAX_STACK, Allowance

MOST_DIGITS = 40

_WHITE = rb"\x00\t\n\x0c\r "
_REGULAR = rb"[^" + _WHITE + rb"()<>\[\]{}/%]"
_BLANK = re.compile(rb"(?:[" + _WHITE + rb"]+|%[^\r\n]*)*")
_WORD = re.compile(_REGULAR + rb"+|/" + _REGULAR + rb"*|<<|>>|[\[\](<>{})]")
_NUMBER = re.compile(rb"[+-]?(?:\d+\.?\d*|\.\d+)")
_HEX = re.compile(rb"[0-9A-Fa-f" + _WHITE + rb"]*>")
_IN_STRING = re.compile(rb"[()\\]")
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|\r\n|[\s\S])")
_ESCAPED = {
    b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\x0c",
    b"\n": b"", b"\r": b"", b"\r\n": b"",
}  # fmt: skip
_IMAGE_END = re.compile(rb"[" + _WHITE + rb"]EI(?=[" + _WHITE + rb"]|\Z)")


class Name(str):
    """A name, without its slash."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Word:
    """An operator."""

    name: str


#: A number, a string, a name, a list, or a dictionary by its keys.
Operand = float | bytes | Name | list["Operand"] | dict[str, "Operand"]


class Operation(NamedTuple):
    """An operator and what stands before it."""

    operator: str
    operands: list[Operand]


class Broken(Exception):
    """A content stream that cannot be taken apart."""


def operations(content: bytes, allowance: Allowance) -> Iterator[Operation]:
    """Yield the operators of *content* in order; raises Broken or OutOfBounds."""
    lexer = _Lexer(content, allowance)
    operands: list[Operand] = []
    while (token := lexer.next()) is not None:
        if not isinstance(token, Word):
            operands.append(token)
            if len(operands) > MAX_STACK:
                raise Broken
        elif token.name == "BI":
            lexer.pass_image()
            yield Operation("BI", [])
            operands = []
        else:
            yield Operation(token.name, operands)
            operands = []


class _Lexer:
    """Takes a content stream apart from its start."""

    def __init__(self, content: bytes, allowance: Allowance) -> None:
        self._content = content
        self._at = 0
        self._allowance = allowance

    def next(self, depth: int = 0) -> Operand | Word | None:
        """Return the next operand or operator, None at the end."""
        self._allowance.take_token()
        text = self._raw()
        if text is None:
            return None
        if text in (b"<<", b"["):
            return self._compound(text, depth + 1)
        if text == b"(":
            return self._string()
        if text == b"<":
            return self._hex()
        if text.startswith(b"/"):
            return Name(_unescaped(text[1:]))
        if _NUMBER.fullmatch(text):
            return _number(text)
        return Word(text.decode("latin-1"))

    def _raw(self) -> bytes | None:
        self._at = _BLANK.match(self._content, self._at).end()  # type: ignore[union-attr]
        match = _WORD.match(self._content, self._at)
        if match is None:
            return None
        self._at = match.end()
        return match[0]

    def _compound(self, opening: bytes, depth: int) -> Operand:
        """Return the list or dictionary that has just been opened."""
        if depth > MAX_DEPTH:
            raise OutOfBounds("too-deep", f"its lists lie more than {MAX_DEPTH} deep")
        closing = ">>" if opening == b"<<" else "]"
        found: list[Operand] = []
        while (token := self.next(depth)) != Word(closing):
            if token is None:
                raise Broken
            found.append(Name(token.name) if isinstance(token, Word) else token)
        return found if opening == b"[" else _paired(found)

    def _string(self) -> bytes:
        start, depth = self._at, 1
        while depth:
            match = _IN_STRING.search(self._content, self._at)
            if match is None:
                raise Broken
            sign, self._at = match[0], match.end()
            if sign == b"\\":
                self._at += 1
            else:
                depth += 1 if sign == b"(" else -1
        return _ESCAPE.sub(_sign, self._content[start : self._at - 1])

    def _hex(self) -> bytes:
        match = _HEX.match(self._content, self._at)
        if match is None:
            raise Broken
        self._at = match.end()
        digits = b"".join(match[0][:-1].replace(b"\x00", b" ").split())
        return bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode("ascii"))

    def pass_image(self) -> None:
        """Go to the end of a picture that stands in the stream."""
        match = _IMAGE_END.search(self._content, self._at)
        self._at = match.end() if match else len(self._content)


def _number(text: bytes) -> float:
    if len(text) > MOST_DIGITS:
        raise OutOfBounds("number-out-of-range", f"a number has more than {MOST_DIGITS} digits")
    return float(text)


def _paired(found: list[Operand]) -> dict[str, Operand]:
    pairs = zip(found[::2], found[1::2], strict=False)
    return {key: value for key, value in pairs if isinstance(key, Name)}


def _sign(match: re.Match[bytes]) -> bytes:
    code = match[1]
    if code[:1].isdigit() and code[:1] < b"8":
        return bytes([int(code, 8) & 255])
    return _ESCAPED.get(code, code)


def _unescaped(name: bytes) -> str:
    """Return a name with its signs by number, ``#20``, as they are meant."""
    plain = re.sub(rb"#([0-9A-Fa-f]{2})", lambda match: bytes.fromhex(match[1].decode()), name)
    return plain.decode("utf-8", "replace")

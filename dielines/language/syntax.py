"""From the text of an expression to its tree; nothing is calculated here.

Binding, loosest first: ``or``, ``and``, ``not``, comparisons, ``+ -``, ``* /``, sign.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from ..documents import Refusal, suggestion
from .tokens import MAX_CHARACTERS, UNIT_WORDS, Token, TokenKind, tokens_of
from .values import Value, ValueKind, flag

MAX_DEPTH = 12
NAME = re.compile(r"[a-z][a-z0-9_]*")
_DOTTED_NAME = re.compile(r"[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*")

#: Values that each function takes; none: one or more.
FUNCTIONS: dict[str, tuple[str, ...]] = {
    "min": (),
    "max": (),
    "sum": (),
    "if": ("condition", "then", "else"),
    "round": ("size", "step"),
    "round_up": ("size", "step"),
    "round_down": ("size", "step"),
    "mod": ("size", "step"),
}
TRUTHS = {"true": True, "false": False}
CONNECTIVES = ("and", "or", "not")
LANGUAGE_WORDS = frozenset((*FUNCTIONS, *TRUTHS, *CONNECTIVES, *UNIT_WORDS))

COMPARISONS = ("<", ">", "<=", ">=", "==", "!=")
_BINDING: dict[str, int] = {
    "or": 1, "and": 2, **dict.fromkeys(COMPARISONS, 4), "+": 5, "-": 5, "*": 6, "/": 6,
}  # fmt: skip
_COMPARED = _BINDING["=="]


@dataclass(frozen=True, slots=True)
class Literal:
    """A number, or true or false."""

    value: Value
    offset: int


@dataclass(frozen=True, slots=True)
class Name:
    """A parameter, a derived value, the caliper of a stock, or a word that can be chosen."""

    name: str
    offset: int


@dataclass(frozen=True, slots=True)
class Operation:
    """A sign, a connective or a function, at its *offset*, and what it works on.

    The word of a leading minus is ``negative``.
    """

    word: str
    operands: tuple[Node, ...]
    offset: int


Node = Literal | Name | Operation


@dataclass(frozen=True, slots=True)
class Expression:
    """A text that was understood: its tree, ready to be evaluated many times."""

    text: str
    root: Node

    def names(self) -> frozenset[str]:
        """Return all names in it, words that can be chosen included."""
        return frozenset(name.name for name in names_in(self.root))


def names_in(node: Node) -> Iterator[Name]:
    """Yield the names in the tree from left to right."""
    waiting = [node]
    while waiting:
        inner = waiting.pop()
        if isinstance(inner, Name):
            yield inner
        elif isinstance(inner, Operation):
            waiting.extend(reversed(inner.operands))


def parse(text: str) -> Expression:
    """Return the expression that *text* says; raises Refusal with the place of the culprit."""
    if len(text) > MAX_CHARACTERS:  # before the cache, which would keep it
        raise Refusal("too-long", f"an expression of more than {MAX_CHARACTERS} characters")
    return _parsed(text)


@lru_cache(maxsize=4096)
def _parsed(text: str) -> Expression:
    parser = _Parser(tokens_of(text))
    root = parser.operation(0, 0)
    parser.expect_end()
    return Expression(text, root)


class _Parser:
    """Reads tokens from left to right, one operand at a time."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.index = 0

    @property
    def next(self) -> Token:
        return self.tokens[self.index]

    def advance(self) -> Token:
        token = self.next
        self.index += token.kind is not TokenKind.END
        return token

    def operation(self, binding: int, depth: int) -> Node:
        """Return operands joined by signs that bind at least as tightly as *binding*."""
        left = self.operand(depth)
        while (tightness := self.tightness()) >= max(binding, 1):
            sign = self.advance()
            if sign.text == "/" and self.next.is_fraction:
                raise _two_divisions(self.next)
            right = self.operation(tightness + 1, depth)
            left = Operation(sign.text, (left, right), sign.offset)
            if tightness == self.tightness() == _COMPARED:
                remedy = "Write two comparisons with 'and' between them."
                raise Refusal("chain", "comparisons in a row", remedy, self.next.offset)
        return left

    def tightness(self) -> int:
        """Return how tightly the next token joins what stands beside it; 0: not at all."""
        return 0 if self.next.kind is TokenKind.NUMBER else _BINDING.get(self.next.text, 0)

    def operand(self, depth: int) -> Node:
        token = self.advance()
        if self.index == 0:
            raise Refusal("empty", "nothing is written here")
        if depth > MAX_DEPTH:
            raise Refusal("too-deep", f"nested deeper than {MAX_DEPTH}", offset=token.offset)
        if token.kind is TokenKind.NUMBER:
            self.refuse_unknown_unit(token)
            return Literal(token.value, token.offset)
        if token.kind is TokenKind.WORD:
            return self.word(token, depth)
        if token.text == "(":
            return self.bracketed(depth)
        if token.text == "-":
            return Operation("negative", (self.operand(depth + 1),), token.offset)
        if token.text == "+":
            return self.operand(depth + 1)
        raise _no_operand(token)

    def refuse_unknown_unit(self, number: Token) -> None:
        """Raise Refusal when a word follows a number, as in ``12 px``."""
        word = self.next
        if number.value.kind is ValueKind.LENGTH:
            return
        if word.kind is TokenKind.WORD and word.text not in CONNECTIVES:
            message = f"{word.text[:20]!r} is not a unit (in, mm, cm)"
            remedy = "To multiply, write * between them."
            raise Refusal("unknown-unit", message, remedy, word.offset)

    def word(self, token: Token, depth: int) -> Node:
        if token.text in TRUTHS:
            return Literal(flag(TRUTHS[token.text]), token.offset)
        if token.text == "not":
            inner = self.operation(_COMPARED, depth + 1)
            return Operation("not", (inner,), token.offset)
        if self.next.is_sign("("):
            return self.call(token, depth)
        _refuse_no_name(token)
        return Name(token.text, token.offset)

    def bracketed(self, depth: int) -> Node:
        inner = self.operation(0, depth + 1)
        self.close()
        return inner

    def call(self, name: Token, depth: int) -> Node:
        if name.text not in FUNCTIONS:
            there = f"{suggestion(name.text, FUNCTIONS)}; there are {', '.join(FUNCTIONS)}"
            message = f"unknown function {name.text[:40]!r}{there}"
            raise Refusal("unknown-function", message, offset=name.offset)
        self.advance()
        arguments = [self.operation(0, depth + 1)]
        while self.next.is_sign(","):
            self.advance()
            arguments.append(self.operation(0, depth + 1))
        self.close()
        _refuse_wrong_count(name, len(arguments))
        return Operation(name.text, tuple(arguments), name.offset)

    def close(self) -> None:
        if not self.next.is_sign(")"):
            message = "'(' without ')'" if self.at_end() else self.misplaced()
            raise Refusal("syntax", message, offset=self.next.offset)
        self.advance()

    def at_end(self) -> bool:
        return self.next.kind is TokenKind.END

    def misplaced(self) -> str:
        return f"{self.next.text[:20]!r} does not belong here; a sign such as + or * is missing"

    def expect_end(self) -> None:
        if not self.at_end():
            closing = self.next.is_sign(")")
            message = "')' without '('" if closing else self.misplaced()
            raise Refusal("syntax", message, offset=self.next.offset)


def _refuse_no_name(token: Token) -> None:
    if token.text in FUNCTIONS:
        message = f"{token.text!r} is a function: write {token.text}(...)"
        raise Refusal("syntax", message, offset=token.offset)
    if token.text in CONNECTIVES:
        raise _no_operand(token)
    if not _DOTTED_NAME.fullmatch(token.text):
        message = f"{token.text[:40]!r} is not a name (small letters, digits, _)"
        raise Refusal("bad-name", message, offset=token.offset)
    if token.text in UNIT_WORDS:
        message = f"{token.text!r} stands without a number before it"
        raise Refusal("syntax", message, offset=token.offset)


def _refuse_wrong_count(name: Token, count: int) -> None:
    wanted = FUNCTIONS[name.text]
    if wanted and len(wanted) != count:
        message = f"{name.text} needs {len(wanted)} values, got {count}"
        remedy = f"Write {name.text}({', '.join(wanted)})."
        raise Refusal("value-count", message, remedy, name.offset)


def _two_divisions(fraction: Token) -> Refusal:
    message = f"dividing by {fraction.text} can be read in two ways"
    remedy = f"Write ({fraction.text}) with brackets around it."
    return Refusal("two-readings", message, remedy, fraction.offset)


def _no_operand(token: Token) -> Refusal:
    place = f"before {token.text!r}" if token.text else "at the end"
    return Refusal("syntax", f"a number or a name is missing {place}", offset=token.offset)

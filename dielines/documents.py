"""TOML files from people: read with bounds, and with the place of every value.

``tomllib`` reads the values. It keeps no positions, so a second reader finds
them, and only when there is a fault to report.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from pathlib import Path as FilePath
from typing import Any

from .errors import BookError, Fault, FaultyFile, TemplateError
from .positions import Key, Position, positions_of

MAX_BYTES = 200_000
MAX_DEPTH = 40
MAX_FAULTS = 50  #: more are not looked for: a file that is damaged all over is damaged
_MAX_WORDS = 300  #: among more words no slip of the pen is looked for
_MAX_LETTERS = 60


@dataclass
class Document:
    """One TOML file: its values, and the faults found in it so far."""

    name: str  #: as the person would call it
    text: str
    error: type[FaultyFile]
    data: dict[str, Any] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    @property
    def root(self) -> Place:
        """The place of the file's top table."""
        return Place(self, ())

    @cached_property
    def positions(self) -> dict[tuple[Key, ...], Position]:
        """Where each key and value stands; computed when first asked for."""
        return positions_of(self.text)

    def settle(self) -> None:
        """Raise the error of this kind of file when it has faults."""
        if self.faults:
            raise self.error(self.faults)


class Refusal(Exception):
    """Why a value cannot be taken; whoever knows the place reports it."""

    def __init__(self, code: str, message: str, remedy: str = "", offset: int = 0) -> None:
        """Keep the pieces of a fault, without its place."""
        super().__init__(message)
        self.code, self.message, self.remedy, self.offset = code, message, remedy, offset
        self.beneath: tuple[Key, ...] = ()  #: keys from the place that reports to the culprit


@contextmanager
def beneath(*keys: Key) -> Iterator[None]:
    """Let a Refusal raised inside be reported at these *keys* of the place that collects it."""
    try:
        yield
    except Refusal as refusal:
        refusal.beneath = (*keys, *refusal.beneath)
        raise


@dataclass(frozen=True)
class Place:
    """A table, list or value in a document, and what a person would call it."""

    document: Document
    keys: tuple[Key, ...]
    label: str = ""

    def __truediv__(self, key: Key) -> Place:
        return Place(self.document, (*self.keys, key), self.label)

    def called(self, label: str) -> Place:
        """Return this place under another name for people."""
        return Place(self.document, self.keys, label)

    @property
    def field(self) -> str:
        """How the fault's field reads: the label, or the dotted keys."""
        return self.label or _dotted(self.keys)

    def position(self, at_key: bool = False) -> tuple[int, int]:
        """Return line and column of the value (or key), or of what holds it."""
        for length in range(len(self.keys), 0, -1):
            found = self.document.positions.get(self.keys[:length])
            if found:
                return found.key if at_key or length < len(self.keys) else found.value
        return (1, 1) if self.document.text else (0, 0)

    def report(self, code: str, message: str, remedy: str = "", offset: int | None = None) -> None:
        """Add a fault of the value here; *offset* counts characters inside a text."""
        line, column = self.position()
        if offset is not None:
            column += 1 + offset
        self._add(line, column, code, message, remedy)

    def report_key(self, code: str, message: str, remedy: str = "") -> None:
        """Add a fault of the key here."""
        self._add(*self.position(at_key=True), code, message, remedy)

    def _add(self, line: int, column: int, code: str, message: str, remedy: str) -> None:
        fault = Fault(self.document.name, line, column, self.field, code, message, remedy)
        if fault not in self.document.faults:
            self.document.faults.append(fault)
            if len(self.document.faults) >= MAX_FAULTS:
                self.document.settle()

    @contextmanager
    def collecting(self) -> Iterator[None]:
        """Report a Refusal raised inside as a fault of this place and go on after it."""
        try:
            yield
        except Refusal as refusal:
            culprit = Place(self.document, (*self.keys, *refusal.beneath), self.label)
            offset = refusal.offset if refusal.offset else None
            culprit.report(refusal.code, refusal.message, refusal.remedy, offset)


def _dotted(keys: Sequence[Key]) -> str:
    words = "".join(f"[{key + 1}]" if isinstance(key, int) else f".{key}" for key in keys)
    return words.removeprefix(".")


def suggestion(word: str, words: Iterable[str]) -> str:
    """Return '; did you mean ...?' for a slip of the pen, or nothing."""
    known = sorted(words)
    if len(word) > _MAX_LETTERS or len(known) > _MAX_WORDS:
        return ""
    close = difflib.get_close_matches(word, known, n=1, cutoff=0.6)
    return f"; did you mean {close[0]!r}?" if close else ""


def read_template_document(path: FilePath) -> Document:
    """Return the template file at *path*; raises TemplateError."""
    return _read(path, TemplateError)


def read_book_document(path: FilePath) -> Document:
    """Return the book or workshop file at *path*; raises BookError."""
    return _read(path, BookError)


def _read(path: FilePath, error: type[FaultyFile]) -> Document:
    try:
        with path.open("rb") as file:  # a device has no size, and may have no end
            content = file.read(MAX_BYTES + 1)
    except OSError as problem:
        reason = problem.strerror or "cannot be read"
        raise error.of(str(path), "unreadable", reason, "Check the name.") from problem
    if len(content) > MAX_BYTES:
        raise error.of(str(path), "too-large", f"larger than {MAX_BYTES // 1000} kB")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = content[: problem.start].count(b"\n") + 1
        raise error(
            [Fault(str(path), line, 0, "", "encoding", "not UTF-8 text", "Save it as UTF-8.")]
        ) from problem
    return parse_document(str(path), text, error)


def parse_document(name: str, text: str, error: type[FaultyFile] = TemplateError) -> Document:
    """Return the document that *text* says; raises *error* when it is no TOML.

    Decimals come as ``decimal.Decimal``, so that 0.1 stays 1/10.
    """
    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        raise error.of(name, "too-large", f"larger than {MAX_BYTES // 1000} kB")
    document = Document(name, text, error)
    try:
        document.data = tomllib.loads(text, parse_float=Decimal)
    except RecursionError:
        raise error.of(name, "too-deep", f"nested deeper than {MAX_DEPTH}") from None
    except ValueError as problem:  # TOMLDecodeError, or a number of absurd length
        raise error([_syntax_fault(name, text, str(problem))]) from None
    if _depth(document.data) > MAX_DEPTH:
        raise error.of(name, "too-deep", f"nested deeper than {MAX_DEPTH}")
    return document


def _syntax_fault(name: str, text: str, problem: str) -> Fault:
    match = re.search(r" ?\(at line (\d+), column (\d+)\)$", problem)
    if match:
        line, column, words = int(match[1]), int(match[2]), problem[: match.start()]
    else:  # "(at end of document)", where tomllib names no line
        line, column, words = text.count("\n") + 1, 0, problem.split(" (at end")[0]
    words = re.sub(r"\('(.*?)',?\)", lambda keys: keys[1].replace("', '", "."), words)
    words = words[:1].lower() + words[1:]
    return Fault(name, line, column, "", "not-toml", f"not well-formed TOML: {words[:200]}")


def _depth(value: object) -> int:
    """Return how deep lists and tables are nested, without recursion."""
    deepest, waiting = 0, [(value, 1)]
    while waiting:
        inner, depth = waiting.pop()
        deepest = max(deepest, depth)
        if isinstance(inner, dict):
            waiting.extend((entry, depth + 1) for entry in inner.values())
        elif isinstance(inner, list):
            waiting.extend((entry, depth + 1) for entry in inner)
    return deepest

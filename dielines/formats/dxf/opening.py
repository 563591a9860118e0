"""From the bytes of a DXF file, whoever wrote it, to a document, within bounds.

The library does the loading: strictly first, and where that fails by way of
its repair. Whatever it raises becomes a ForeignFileError.
"""

from __future__ import annotations

import io
import logging
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from ...errors import ForeignFileError
from ..readings import Remark
from .library import Sheet, Tag

Loaded = TypeVar("Loaded")

MAX_BYTES = 20_000_000
MAX_ENTITIES = 200_000

_BINARY = re.compile(rb"[ -~]{1,12} Binary DXF\r\n\x1a\x00")
_ENTITY = re.compile(rb"\n[ \t]*0[ \t]*\n[ \t]*(?:[A-Z]|3D)")
_COMMENT = re.compile(r"\s*999[ \t]*\n([^\n]*)(?:\n|$)")
_SECTION = re.compile(rb"(?:^|[\r\n])[ \t]*0[ \t]*[\r\n]+[ \t]*SECTION")
_HEADER = re.compile(rb"SECTION\s+2\s+HEADER[ \t]*\n")
_VERSION = re.compile(rb"\$ACADVER\s+1\s+(AC\d{4})\b")
_CODE_PAGE = re.compile(rb"\$DWGCODEPAGE\s+3\s+(\S{1,40})")
_R2000 = "  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1015\n  0\nENDSEC\n"

RESAVE = "Open it in the program that wrote it and save it again as DXF, version R12 or R2000."


@dataclass(frozen=True, slots=True)
class Opened:
    """A loaded document, the comments at the head of its file and what was odd about it."""

    sheet: Sheet
    comments: tuple[str, ...] = ()
    remarks: tuple[Remark, ...] = ()
    version: str = ""  #: as the file says
    has_header: bool = True


def open_sheet(content: bytes, name: str) -> Opened:
    """Return the document in *content*; *name* is what messages call the file.

    Raises ForeignFileError for anything that is no DXF file, is damaged beyond
    repair or exceeds the bounds.
    """
    logging.getLogger("ezdxf").addHandler(logging.NullHandler())  # its warnings become remarks
    if len(content) > MAX_BYTES:
        raise ForeignFileError.of(name, "too-large", f"larger than {MAX_BYTES // 10**6} MB")
    if _BINARY.match(content):
        sheet = guarded(name, lambda: _from_binary(content, name))
        return Opened(sheet, version=str(sheet.loaded_dxfversion), has_header=b"HEADER" in content)
    if not _SECTION.search(content):
        hint = RESAVE if content.startswith(b"AC10") else "Check that it is the right file."
        raise ForeignFileError.of(name, "not-dxf", "this is not a DXF file", hint)
    content = content.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    if sum(1 for _ in _ENTITY.finditer(content)) > MAX_ENTITIES:
        raise _too_many(name)
    return _from_text(content, name)


def _too_many(name: str) -> ForeignFileError:
    return ForeignFileError.of(
        name, "too-many", f"more than {MAX_ENTITIES} entities", "Split the file into smaller ones."
    )


def _from_binary(content: bytes, name: str) -> Sheet:
    from ezdxf.document import Drawing as Document
    from ezdxf.lldxf.tagger import binary_tags_loader

    return Document.load(_counted(binary_tags_loader(content, errors="surrogateescape"), name))


def _counted(tags: Iterable[Tag], name: str) -> Iterator[Tag]:
    """Yield *tags* until they begin too many entities."""
    entities = 0
    for tag in tags:
        entities += tag.code == 0
        if entities > MAX_ENTITIES:
            raise _too_many(name)
        yield tag


def _from_text(content: bytes, name: str) -> Opened:
    version, remarks, has_header = _version(content), [], bool(_HEADER.search(content))
    if version < b"AC1012" and (b"AcDbEntity" in content or b"LWPOLYLINE" in content):
        content = _as_r2000(content, version)
        remarks.append(_contradiction(version.decode()))
    text = content.decode(_encoding(content), "surrogateescape").removeprefix("\ufeff")
    try:
        sheet = _strictly(text)
    except Exception as problem:  # the library raises all kinds of errors for damaged files
        if b"\nEOF" not in content:  # repair would drop the whole section that is cut short
            raise ForeignFileError.of(
                name, "ends-early", "the file is cut short", RESAVE
            ) from problem
        sheet, repairs = guarded(name, lambda: _repaired(content))
        words = f"The file is damaged ({_brief(problem)}); it was read with {repairs} repairs."
        remarks.append(Remark("repaired", words))
    comments = tuple(_head_comments(text))
    return Opened(sheet, comments, tuple(remarks), version.decode(), has_header)


def _version(content: bytes) -> bytes:
    found = _VERSION.search(content)
    return found[1] if found else b""


def _contradiction(version: str) -> Remark:
    said = f"says that it is of version {version}" if version else "does not say its version"
    return Remark("version", f"The file {said}, yet it holds what only R2000 and later know.")


def _as_r2000(content: bytes, version: bytes) -> bytes:
    """Return *content* saying that it is R2000.

    Read as R12, closed LWPOLYLINE would come back open and on layer 0 without
    an error (seen with the library's version 1.4.5).
    """
    if version:
        return _VERSION.sub(lambda m: m[0].replace(m[1], b"AC1015"), content, count=1)
    if header := _HEADER.search(content):
        return content[: header.end()] + b"9\n$ACADVER\n1\nAC1015\n" + content[header.end() :]
    return _R2000.encode() + content


def _encoding(content: bytes) -> str:
    """Return the encoding of the text: UTF-8 since R2007, a code page before."""
    from ezdxf.tools.codepage import toencoding

    if _version(content) >= b"AC1021":
        return "utf-8"
    page = _CODE_PAGE.search(content)
    return toencoding(page[1].decode("ascii", "replace")) if page else "cp1252"


def _strictly(text: str) -> Sheet:
    from ezdxf.filemanagement import read

    return read(io.StringIO(text))


def _repaired(content: bytes) -> tuple[Sheet, int]:
    from ezdxf import recover

    sheet, auditor = recover.read(io.BytesIO(content))
    return sheet, len(auditor.errors) + len(auditor.fixes)


def guarded(name: str, load: Callable[[], Loaded]) -> Loaded:
    """Return what *load* returns; whatever the library raises becomes a ForeignFileError."""
    try:
        return load()
    except ForeignFileError:
        raise
    except Exception as problem:
        raise ForeignFileError.of(name, "damaged", _brief(problem), RESAVE) from problem


def _brief(problem: Exception) -> str:
    words = " ".join(str(problem).split()) or type(problem).__name__
    return words[:200].rstrip(".")


def _head_comments(text: str) -> Iterator[str]:
    """Yield the comments (group 999) before the first section."""
    at = 0
    while found := _COMMENT.match(text, at):
        yield found[1]
        at = found.end()

"""From the bytes of a PDF file, whoever wrote it, to its pages, within bounds."""

from __future__ import annotations

import io
import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from ...errors import ForeignFileError
from ..out_of_bounds import OutOfBounds
from .bounds import MAX_OBJECTS, Allowance

Made = TypeVar("Made")

RESAVE = "Open it in the program that wrote it and save it again as PDF."
_FILTERS = frozenset(("/FlateDecode", "/Fl", "/ASCII85Decode", "/A85", "/ASCIIHexDecode", "/AHx"))
_HEAD = 1024  # bytes within which the first words may stand (ISO 32000-1, annex H)


def with_pages(
    content: bytes,
    name: str,
    made: Callable[[Any, list[Any], Allowance], Made],
    allowance: Allowance,
) -> Made:
    """Return what *made* makes of the document in *content* and its pages.

    Raises ForeignFileError for whatever cannot be read, is locked, or exceeds the bounds.
    """
    from pikepdf import PasswordError, Pdf

    logging.getLogger("pikepdf").addHandler(logging.NullHandler())  # what it says is raised, too
    if b"%PDF-" not in content[:_HEAD]:
        hint = "Check that it is the right file."
        raise ForeignFileError.of(name, "not-pdf", "this is not a PDF file", hint)
    try:
        allowance.check(len(content))
        with _limits(), Pdf.open(io.BytesIO(content), attempt_recovery=False) as pdf:
            allowance.check_pages(len(pdf.pages))
            return made(pdf, list(pdf.pages), allowance)
    except PasswordError as error:
        words = "it is locked with a password"
        raise ForeignFileError.of(name, "locked", words, "Save it without one.") from error
    except OutOfBounds as error:
        raise ForeignFileError.of(name, error.code, error.message) from error
    except ForeignFileError:
        raise
    except Exception as error:  # the library raises all kinds of errors for damaged files
        words = "the file is damaged, and no page can be read from it"
        raise ForeignFileError.of(name, "damaged", words, RESAVE) from error


@contextmanager
def _limits() -> Iterator[None]:
    """Hold the library to bounds of its own while a file is open; they are those of the process."""
    from pikepdf.settings import set_qpdf_limits

    before = set_qpdf_limits(
        flate_max_memory=MAX_OBJECTS,
        png_max_memory=MAX_OBJECTS,
        tiff_max_memory=MAX_OBJECTS,
        parser_max_nesting=100,
        parser_max_container_size=1_000_000,
        max_stream_filters=2,
    )
    try:
        yield
    finally:
        set_qpdf_limits(**before)  # type: ignore[arg-type]  # they are of the kinds it gave


def content_of_page(page: Any, allowance: Allowance) -> bytes:
    """Return the content of *page*, its streams one after the other; raises OutOfBounds."""
    from pikepdf import Array

    contents = page.obj.get("/Contents")
    streams = list(contents) if isinstance(contents, Array) else [contents]
    # A word may not run from one stream into the next (ISO 32000-1, 7.8.2).
    return b"\n".join(unpacked(stream, allowance) for stream in streams if stream is not None)


def unpacked(stream: Any, allowance: Allowance) -> bytes:
    """Return the bytes of *stream*; raises OutOfBounds where it is packed in an unusual way."""
    from pikepdf import Array

    packing = stream.get("/Filter")
    filters = [] if packing is None else list(packing) if isinstance(packing, Array) else [packing]
    unknown = [str(word) for word in filters if str(word) not in _FILTERS]
    if unknown:
        raise OutOfBounds("packed-otherwise", f"a page is packed as {unknown[0][1:40]}")
    content: bytes = stream.read_bytes()
    allowance.take_content(len(content))
    return content

from __future__ import annotations

from collections.abc import Callable

import pytest

from dielines.book.reading import read_request
from dielines.book.request import BookRequest
from dielines.book.words import Words
from dielines.documents import Document, parse_document
from dielines.errors import BookError

KINDS = {
    "side-pocket": {"width", "height", "depth", "thumb", "lip"},
    "top-pocket": {"width", "height", "depth", "thumb"},
    "flap": {"width", "height", "flap", "gusset"},
    "gate-doors": {"width", "height", "gusset"},
    "plain-leaf": {"width", "height"},
}

Reader = Callable[[str], BookRequest]


@pytest.fixture
def words() -> Words:
    return Words(
        KINDS, ["tab-and-channel", "concertina-spine"], rules=["grain", "depth-and-contents"]
    )


@pytest.fixture
def document() -> Callable[[str], Document]:
    return lambda text: parse_document("lakeside.toml", text, BookError)


@pytest.fixture
def read(words: Words, document: Callable[[str], Document]) -> Reader:
    def read(text: str) -> BookRequest:
        request = read_request(document(text), words)
        request.document.settle()
        return request

    return read

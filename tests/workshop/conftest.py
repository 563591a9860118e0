from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dielines.errors import BookError
from dielines.workshop.loading import load_workshop
from dielines.workshop.workshop import Workshop

Load = Callable[[str], Workshop]
Codes = Callable[[str], list[tuple[int, str, str]]]


@pytest.fixture
def load(tmp_path: Path) -> Load:
    """Return what reads a text as a workshop file."""

    def read(text: str) -> Workshop:
        file = tmp_path / "workshop.toml"
        file.write_text(text, encoding="utf-8")
        return load_workshop(file, tmp_path)

    return read


@pytest.fixture
def faults(load: Load) -> Codes:
    """Return what tells the faults of a text: line, field and code of each."""

    def tell(text: str) -> list[tuple[int, str, str]]:
        with pytest.raises(BookError) as error:
            load(text)
        return [(fault.line, fault.field, fault.code) for fault in error.value.faults]

    return tell

"""What every reader of strangers' files says of one that goes beyond its bounds."""

from __future__ import annotations

MAX_COORDINATE = 1_000_000.0  #: mm; a kilometre


class OutOfBounds(Exception):
    """Something in the file goes beyond a bound; *code* and *message* are those of a fault."""

    def __init__(self, code: str, message: str) -> None:
        """Keep what the fault will say."""
        super().__init__(message)
        self.code = code
        self.message = message

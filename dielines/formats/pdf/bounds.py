"""How much of a stranger's PDF is read: bounds on bytes, pages, depth and work."""

from __future__ import annotations

from dataclasses import dataclass

from ..out_of_bounds import OutOfBounds

MAX_BYTES = 20_000_000
MAX_PAGES = 1000
MAX_CONTENT = 20_000_000  #: bytes of all content streams, unpacked
MAX_OBJECTS = 16_000_000  #: bytes of one packed stream, unpacked, that the library opens by itself
MAX_TOKENS = 2_000_000
MAX_STEPS = 500_000  #: vertices, chords of curves included
MAX_DEPTH = 20  #: of forms within forms, and of lists within lists
MAX_STACK = 500  #: of saved states, and of marked content within marked content


@dataclass
class Allowance:
    """What may still be spent on one file."""

    size: int = MAX_BYTES
    pages: int = MAX_PAGES
    content: int = MAX_CONTENT
    tokens: int = MAX_TOKENS
    steps: int = MAX_STEPS

    def check(self, size: int) -> None:
        """Raise OutOfBounds for a file of *size* bytes that is too large."""
        if size > self.size:
            raise OutOfBounds("too-large", f"larger than {self.size // 10**6} MB")

    def check_pages(self, count: int) -> None:
        """Raise OutOfBounds for no page, and for too many."""
        if not count:
            raise OutOfBounds("no-page", "it has no page")
        if count > self.pages:
            raise OutOfBounds("too-many-pages", f"it has more than {self.pages:,} pages")

    def take_content(self, count: int) -> None:
        """Spend *count* bytes of content; raises OutOfBounds when they are used up."""
        self.content -= count
        if self.content < 0:
            raise OutOfBounds("too-large", f"its pages hold more than {MAX_CONTENT:,} bytes")

    def take_token(self) -> None:
        """Spend one word of content; raises OutOfBounds when they are used up."""
        self.tokens -= 1
        if self.tokens < 0:
            raise OutOfBounds("too-much-content", f"its pages hold more than {MAX_TOKENS:,} words")

    def take_steps(self, count: int) -> None:
        """Spend *count* vertices; raises OutOfBounds when they are used up."""
        self.steps -= count
        if self.steps < 0:
            raise OutOfBounds("too-much-path", f"its paths take more than {MAX_STEPS:,} steps")


def for_ours(content: bytes) -> Allowance:
    """Return what reading takes of a file that was written here, however large."""
    size = len(content)
    return Allowance(size, size, size, size, size)

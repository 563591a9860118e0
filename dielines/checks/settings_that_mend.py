"""Which setting of the book a size of a part comes from, so that advice can name it."""

from __future__ import annotations

import re

from ..book.book import BookPart
from ..lengths import Length
from ..part import exact_length
from ..paths import Number
from .finding import Advice

_PAGE = re.compile(r"page-(\d+)")
_OF_BINDINGS = {"tab": "hinge_tab", "channel": "channel"}
_OF_ENDS = {"tab": "cover_tab", "channel": "end_channel"}
GRAFTED = "binding."
HINGE = ("hinge-strip", "channel")  #: template and panel of the strip in the middle of a book


def widening(entry: BookPart, panel: str, size: Number, least: Number) -> tuple[Advice, ...]:
    """Return the advice that makes a panel of *size* (mm) at least *least*; none where none is known.

    A panel that a binding grafted on has its size from the usual sizes; a panel of a
    page from the one parameter of the page that is as large, if there is one.
    """
    setting = _setting(entry, panel, size)
    return (Advice(setting, exact_length(least)),) if setting else ()


def _setting(entry: BookPart, panel: str, size: Number) -> str:
    if panel.startswith(GRAFTED):
        words = _OF_ENDS if _is_end(entry) else _OF_BINDINGS
        usual = words.get(panel.removeprefix(GRAFTED))
        return f"usual.{usual}" if usual else ""
    if (entry.part.template, panel) == HINGE:
        return "usual.channel"
    page = _PAGE.fullmatch(entry.key)
    names = [
        name
        for name, value in entry.part.parameters.items()
        if isinstance(value, Length) and abs(float(value.mm) - float(size)) < 1e-6
    ]
    return f"page.{page[1]}.{names[0]}" if page and len(names) == 1 else ""


def _is_end(entry: BookPart) -> bool:
    return bool(entry.part.graft and entry.part.graft.template == "cover-tab")

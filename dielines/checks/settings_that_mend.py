"""Which setting of the book a size of a part comes from, so that advice can name it."""

from __future__ import annotations

from ..book.book import BookPart
from ..part import exact_length
from ..paths import Number
from .finding import Advice

GRAFTED = "binding."
CHANNEL, END_CHANNEL = "usual.channel", "usual.end_channel"
#: Templates whose panels are channels, and the setting that each panel's width comes from.
CHANNELS = {
    ("hinge-strip", "channel"): CHANNEL,
    ("closing-strip", "channel"): END_CHANNEL,
}


def wider_channel(entry: BookPart, panel: str, least: Number) -> tuple[Advice, ...]:
    """Return the advice that makes a channel at least *least* (mm) wide; none for other panels."""
    setting = _setting(entry, panel)
    return (Advice(setting, exact_length(least)),) if setting else ()


def _setting(entry: BookPart, panel: str) -> str:
    if panel == f"{GRAFTED}channel" and entry.part.graft is not None:
        return END_CHANNEL if entry.part.graft.template == "cover-tab" else CHANNEL
    return CHANNELS.get((entry.part.template, panel), "")

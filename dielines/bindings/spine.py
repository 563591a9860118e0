"""The width of the spine, and how far a cover tab reaches onto its board."""

from __future__ import annotations

from ..lengths import Length, show
from .bound import Note
from .frame import Frame, SpineRule

STOCKS = ("cardstock", "reinforcing", "tape")


def find_spine(frame: Frame, channels: list[str], junctions: int, bulk: str) -> list[Note]:
    """Find the width of the spine: the usual allowance, or what the glued junctions need.

    *channels* are the names of the channels from front to back, *bulk* is the
    formula for the thickness of the glued junctions. What governs is noted.
    """
    sizes = frame.sizes
    sizes.total("channels", channels)
    for stock in STOCKS:
        sizes.take(f"{stock}_thickness", frame.caliper(stock), "the workshop")
    sizes.count("junctions", junctions, "one for each page")
    sizes.derive("junction_bulk", bulk)
    sizes.derive("spine_usual", "channels + spine_allowance")
    sizes.derive("spine_by_junctions", "channels + junction_bulk + play")
    step = "1/16 in" if sizes.units == "in" else "1 mm"
    if isinstance(frame.spine, Length):
        sizes.take("spine", frame.spine, "this book")
    elif frame.spine is SpineRule.TO_FIT:
        sizes.derive("spine", f"round_up(spine_by_junctions, {step})", "to fit")
    elif sizes.length("spine_usual") < sizes.length("spine_by_junctions"):
        sizes.derive("spine_needed", f"round_up(spine_by_junctions, {step})")
        sizes.largest("spine", ["spine_usual", "spine_needed"])
    else:
        sizes.largest("spine", ["spine_usual", "spine_by_junctions"])
    return _spine_notes(frame)


def _spine_notes(frame: Frame) -> list[Note]:
    sizes = frame.sizes
    if sizes.length("spine") < sizes.length("spine_by_junctions"):
        needed = show(sizes.length("spine_by_junctions"), sizes.units)
        text = (
            f"{show(sizes.length('spine'), sizes.units)} is narrower than its channels, glued"
            f" junctions and play together, {needed}; choose at least that"
        )
        return [Note("narrow-spine", "spine", text)]
    if sizes.length("spine_usual") < sizes.length("spine_by_junctions"):
        text = "the glued junctions are thicker than the usual allowance, so they govern the spine"
        return [Note("junctions-govern", "spine", text)]
    return []


def find_reach(frame: Frame) -> list[Note]:
    """Find how much of a cover tab lies on its board; too little is noted.

    Common practice, no source: the tab less the spare of the spine on that side,
    the joint and two board thicknesses.
    """
    sizes = frame.sizes
    sizes.take("board_thickness", frame.caliper("board"), "the workshop")
    sizes.derive("spine_spare", "max(0 in, (spine - channels) / 2)", "on each side of the pages")
    sizes.derive("cover_tab_reach", "cover_tab - spine_spare - joint - 2 * board_thickness")
    sizes.derive("cover_tab_on_board", "max(cover_tab_reach, cover_tab / 8)")
    if sizes.length("cover_tab_reach") >= sizes.length("hinge_tab"):
        return []
    text = "the cover tab reaches less far onto its board than a hinge tab is wide; make it wider"
    return [Note("short-reach", "cover_tab", text)]

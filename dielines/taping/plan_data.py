"""The tape plan as plain values, for JSON; lengths in mm, areas in mm2."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from ..lengths import Length
from .strips import End, Strip, TapePlan, WidthTotal, ZonePlan

_PLACES = 6


def tape_plan_data(plan: TapePlan) -> dict[str, Any]:
    """Return the plan as dictionaries, lists, numbers and texts."""
    return {
        "tape": plan.tape,
        "zones": [_zone(zone) for zone in plan.zones],
        "totals": [_total(total) for total in plan.totals],
        "area_mm2": _number(plan.area),
        "bare_mm2": _number(plan.bare),
        "cut_off_mm2": _number(plan.cut_off),
    }


def _zone(zone: ZonePlan) -> dict[str, Any]:
    return {
        "letter": zone.letter,
        "titles": list(zone.titles),
        "panel": zone.panel,
        "zone": zone.zone,
        "side": zone.side.value,
        "number": zone.number,
        "way": zone.way.value,
        "room_mm": _number(zone.room),
        "gap_mm": _number(zone.gap),
        "area_mm2": _number(zone.area),
        "bare_mm2": _number(zone.bare),
        "strips": [_strip(strip) for strip in zone.strips],
    }


def _strip(strip: Strip) -> dict[str, Any]:
    return {
        "width_mm": _number(strip.width),
        "length_mm": _number(strip.length),
        "short_edge_mm": _number(strip.short_edge),
        "offset_mm": _number(strip.offset),
        "ends": [_end(end) for end in strip.ends],
        "cut_off_mm2": _number(strip.cut_off),
        "corners_mm": [[_number(x), _number(y)] for x, y in strip.path.points],
    }


def _end(end: End) -> dict[str, Any]:
    return {"cut": end.cut.value, "angle_deg": round(end.angle_deg, _PLACES)}


def _total(total: WidthTotal) -> dict[str, Any]:
    return {
        "width_mm": _number(total.width),
        "pieces": total.pieces,
        "length_mm": _number(total.length),
        "cut_off_mm2": _number(total.cut_off),
        "rolls": total.rolls,
        "price": None if total.price is None else str(total.price),
    }


def _number(value: Length | Fraction | float) -> float:
    exact = value.mm if isinstance(value, Length) else value
    return round(float(exact), _PLACES)

"""Typical materials: what a stock of that sort usually measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any

from ..documents import Refusal, suggestion
from ..lengths import Length, parse_caliper
from .shipped import shipped_document
from .stock import StockKind
from .weights import bulk_of, parse_weight, thickness_of


@dataclass(frozen=True, slots=True)
class Material:
    """A row of the table of typical materials, with where its thickness comes from."""

    name: str
    kind: StockKind
    caliper: Length
    grammage_gsm: Fraction | None
    source: str


@cache
def materials() -> Mapping[str, Material]:
    """Return the typical materials by name."""
    rows = shipped_document("materials.toml").data["material"]
    return MappingProxyType({row["name"]: _material(row) for row in rows})


def _material(row: Mapping[str, Any]) -> Material:
    weight = parse_weight(row["weight"]) if "weight" in row else None
    caliper = parse_caliper(row["caliper"], None)
    return Material(row["name"], StockKind(row["kind"]), caliper, weight, row["source"])


def material_named(name: str, kind: StockKind) -> Material:
    """Return the material called *name*; raises Refusal when there is none of that kind."""
    of_kind = {row.name: row for row in materials().values() if row.kind is kind}
    if name not in of_kind:
        hint = suggestion(name, of_kind)
        known = "; ".join(of_kind)
        remedy = "" if hint else f"There are: {known}."
        raise Refusal("unknown-material", f"no typical material {name[:60]!r}{hint}", remedy)
    return of_kind[name]


def caliper_by_weight(grammage_gsm: Fraction, kind: StockKind) -> tuple[Length, Material] | None:
    """Return the thickness of a stock of that weight, and the material whose bulk gave it.

    The bulk is that of the row whose weight is nearest. None when no row of the
    kind has a weight.
    """
    rows = [row for row in materials().values() if row.kind is kind and row.grammage_gsm]
    if not rows:
        return None
    nearest = min(rows, key=lambda row: abs((row.grammage_gsm or 0) - grammage_gsm))
    bulk = bulk_of(nearest.caliper, nearest.grammage_gsm or Fraction(1))
    return thickness_of(bulk, grammage_gsm), nearest

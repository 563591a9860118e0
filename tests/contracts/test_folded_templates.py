"""Every template folds: alone, at both ends of every range, and with every fragment that fits.

All of it is geometry; nothing here knows a template by its name.
"""

from collections.abc import Iterator
from fractions import Fraction

import pytest

from dielines.documents import Document
from dielines.errors import TemplateError
from dielines.folding.folded_parts import fold_part
from dielines.folding.layering import Outcome
from dielines.language.building import ArgumentRefused, Graft, build, build_fragment
from dielines.language.expressions import Scope, number_of, size_of
from dielines.language.library import built_in_library
from dielines.language.parameters import ParameterType, resolve
from dielines.language.values import Value, flag, length, number, word
from dielines.part import Part

LIBRARY = built_in_library()
CALIPERS = {
    "cardstock": Fraction(2413, 10000),
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(127, 1000),
}
EDGE = Fraction(254, 10) * Fraction(17, 4)  #: of a page that a fragment is for: 4 1/4 in
KINDS = {name: LIBRARY.find(name).kind for name in LIBRARY.names()}
FRAGMENTS = [name for name, kind in KINDS.items() if kind in ("edge", "fold")]
WHOLE = [name for name in KINDS if name not in FRAGMENTS]
FOLDED = (Outcome.ONE, Outcome.CYCLIC)


def ends_of(name: str) -> Iterator[dict[str, Value]]:
    """Yield the usual sizes, then each parameter at either end of its range, or in each choice."""
    template = LIBRARY.find(name)
    outer = {f"{role}.caliper": length(mm) for role, mm in CALIPERS.items()}
    if template.kind in ("edge", "fold"):
        outer["length"] = length(EDGE)
    document: Document = template.fresh_document()
    found = resolve(template.parameters, template.derived, {}, outer, template.units, document.root)
    choices = frozenset(choice for p in template.parameters for choice in p.choices)
    scope = Scope({**outer, **found.values}, template.units, choices)
    yield {}
    for parameter in template.parameters:
        for value in _values(parameter, scope):
            yield {parameter.name: value}


def _values(parameter, scope: Scope) -> list[Value]:
    limits = [raw for raw in (parameter.min, parameter.max) if raw is not None]
    if parameter.type is ParameterType.FLAG:
        return [flag(False), flag(True)]
    if parameter.type is ParameterType.CHOICE:
        return [word(choice) for choice in parameter.choices]
    if parameter.type is ParameterType.LENGTH:
        return [length(size_of(raw, scope)) for raw in limits]
    if parameter.type is ParameterType.ANGLE:
        return [number(number_of(raw, scope)) for raw in limits]
    return [number(number_of(raw, scope) // 1) for raw in limits]


def faults(part: Part) -> Iterator[str]:
    """Yield what keeps a part from folding as its steps say."""
    folded = fold_part(part)
    layering = folded.layering
    yield from (f"{c.kind.value}: {c.first}, {c.second}, step {c.step}" for c in layering.clashes)
    yield from (f"unclear: {pair}" for pair in layering.ambiguous)
    yield from (f"open: {gap.key} at {gap.stage} by {gap.gap}" for gap in folded.open_loops)
    if layering.outcome not in FOLDED:
        yield layering.outcome.value


def told(parts, words: object) -> list[str]:
    return [f"{part.name} with {words}: {fault}" for part in parts for fault in faults(part)]


@pytest.mark.parametrize("name", WHOLE)
def test_it_folds_in_one_way_at_both_ends_of_every_range(name):
    template = LIBRARY.find(name)
    found = []
    for given in ends_of(name):
        found += told(build(template, given, CALIPERS).parts, given)
    assert found == []


@pytest.mark.parametrize("name", [name for name in FRAGMENTS if KINDS[name] == "edge"])
def test_a_fragment_folds_by_itself(name):
    found = []
    for given in ends_of(name):
        found += told(build_fragment(Graft(LIBRARY.find(name), given), EDGE, CALIPERS), given)
    assert found == []


@pytest.mark.parametrize("fragment", FRAGMENTS)
def test_every_template_folds_with_the_fragment_wherever_it_fits(fragment):
    found, fitting = [], 0
    for name in WHOLE:
        template = LIBRARY.find(name)
        try:
            built = build(template, {}, CALIPERS, Graft(LIBRARY.find(fragment), {}))
        except (TemplateError, ArgumentRefused):
            continue  # no bound edge, or no room
        fitting += 1
        found += told(built.parts, f"{fragment} on {name}")
    assert found == []
    assert fitting


def test_a_part_is_looked_at_panel_by_panel_not_only_at_its_end():
    """The check above sees a part whose steps are turned round."""
    part = build(LIBRARY.find("map-fold"), {}, CALIPERS).parts[0]
    turned = type(part)(**{**vars(part), "steps": part.steps[::-1]})
    assert list(faults(part)) == []
    assert list(faults(turned))

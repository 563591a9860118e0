"""The pages of a book as their templates make them, before a binding adds anything."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from ..bindings.bound import Body, Contents, Towards
from ..bindings.covered import COVERED
from ..documents import Refusal
from ..errors import TemplateError
from ..language.building import ArgumentRefused, Built, build
from ..language.library import Library
from ..language.template import Template
from ..language.values import Value, ValueKind, length
from ..lengths import ZERO, Length
from ..sizes.reasons import Sizes
from ..sizes.usual import Origin
from .page_size import ROUNDING
from .refusals import place_of_key, place_of_page, place_of_size
from .request import BookRequest, Looks, Mats, PageEdge, PageRequest

#: parameters of a page that take a size of the book under another name
SIZE_OF_PARAMETER = {
    "width": "page_width",
    "height": "page_height",
    "photo": "photo_width",
    "seam": "seam_tab",
}
TO_FIT = "to fit"


@dataclass
class PageMaker:
    """Makes the pages of one book; pages that are alike are made once."""

    request: BookRequest
    sizes: Sizes
    library: Library
    calipers: Mapping[str, Fraction]
    mat_thickness: Length
    made: dict[tuple[object, ...], Built] = field(default_factory=dict)

    def body(self, page: PageRequest, looks_middle: Towards) -> Body | None:
        """Return the page, or None when it was reported as impossible.

        *looks_middle* is the cover towards which the middle of the book lies.
        """
        if page.bound is not PageEdge.SPINE:
            place = place_of_key(self.request, page, "bound")
            place.report("not-at-spine", "this binding holds pages at the spine")
            return None
        built = self._built(page)
        if built is None or not self._is_bound_at_side(page, built):
            return None
        looks = looks_middle if page.looks is Looks.MIDDLE else looks_middle.other
        words = page.kind.replace("-", " ")
        return Body(page.number, words, built, looks, self._contents(page))

    def _is_bound_at_side(self, page: PageRequest, built: Built) -> bool:
        """Return whether one part has its bound edge at the left or right; report it otherwise."""
        bound = [part.bound for part in built.parts if part.bound]
        if len(bound) == 1 and bound[0].side in ("left", "right"):
            return True
        message = f"{built.template.words!r} is no page that can be held at the spine"
        remedy = "Its template has to name one bound edge, at the left or the right."
        place_of_page(self.request, page).report("no-bound-edge", message, remedy)
        return False

    def _built(self, page: PageRequest) -> Built | None:
        template = self.library.find(page.kind)
        arguments = self._arguments(page, template)
        key = (page.kind, *sorted((name, repr(value)) for name, value in arguments.items()))
        if key not in self.made:
            built = self._build(page, template, arguments)
            if built is not None:
                built = self._rounded(page, template, arguments, built)
            if built is None:
                return None
            self.made[key] = built
        return self.made[key]

    def _rounded(
        self, page: PageRequest, template: Template, arguments: dict[str, object], built: Built
    ) -> Built | None:
        """Return the page with every size that was calculated rounded, where the book wants that.

        Panels are rounded and then add up, so that equal ones stay equal; what is
        thinner than the step, such as a thickness of paper, stays as it is.
        """
        if ROUNDING not in self.sizes:
            return built
        step = self.sizes.length(ROUNDING).mm
        values = {
            parameter.name: built.resolved.values[parameter.name]
            for parameter in template.parameters
            if parameter.name not in page.given
        }
        rounded = {
            name: length(round(value.amount / step) * step)
            for name, value in values.items()
            if value.kind is ValueKind.LENGTH and value.amount >= step
        }
        changed = {name: value for name, value in rounded.items() if value != values[name]}
        return self._build(page, template, {**arguments, **changed}) if changed else built

    def _build(
        self, page: PageRequest, template: Template, arguments: dict[str, object]
    ) -> Built | None:
        """Return the page; sizes that only stand for usual ones give way to the template's own."""
        try:
            return build(template, arguments, self.calipers, argument_units=self.request.units)
        except ArgumentRefused as refused:
            names = {name for name, _ in refused.refusals}
            usual = {name for name in names - set(page.given) if self._may_give_way(name)}
            if usual:
                kept = {name: value for name, value in arguments.items() if name not in usual}
                return self._build(page, template, kept)
            for name, refusal in refused.refusals:
                self._report(page, name, refusal)
        except TemplateError as problem:
            told = "; ".join(fault.message for fault in problem.faults[:3])
            words = template.words
            place = place_of_page(self.request, page)
            place.report("impossible", f"{words} cannot be made in these sizes: {told}")
        return None

    def _may_give_way(self, name: str) -> bool:
        """Return whether a parameter has a size that nobody asked for: the usual one."""
        size = SIZE_OF_PARAMETER.get(name, name)
        rows = self.request.usual.rows
        return size == COVERED or (size in rows and rows[size].origin is Origin.USUAL)

    def _report(self, page: PageRequest, name: str, refusal: Refusal) -> None:
        """Report a refused parameter where the page, else where the book says its size."""
        if name in page.given:
            page.given[name].place.report(refusal.code, refusal.message, refusal.remedy)
            return
        message = f"page {page.number}: {page.kind.replace('-', ' ')}: {refusal.message}"
        size = SIZE_OF_PARAMETER.get(name, name)
        place_of_size(self.request, size).report(refusal.code, message, refusal.remedy)

    def _arguments(self, page: PageRequest, template: Template) -> dict[str, object]:
        """Return the sizes of the book that the template asks for, and what the page sets itself."""
        names = [parameter.name for parameter in template.parameters]
        arguments: dict[str, object] = {}
        for name in names:
            size = SIZE_OF_PARAMETER.get(name, name)
            if size in self.sizes:
                value = self.sizes.length(size)
                arguments[name] = length((value / 2 if name == "tape_margin" else value).mm)
        if "photo" in names and page.photo:
            arguments["photo"] = length(page.photo.across.mm)
        if "photo_height" in names and page.photo:
            arguments["photo_height"] = length(page.photo.up.mm)
        arguments.update((name, given.value) for name, given in page.given.items())
        if arguments.get("depth") == TO_FIT or (
            "depth" in names and "depth" not in self.sizes and "depth" not in page.given
        ):
            arguments["depth"] = self._depth_to_fit(page)
        return arguments

    def _depth_to_fit(self, page: PageRequest) -> Value:
        """Return the depth that what the pocket holds needs.

        Common practice, from the stack in a pocket: contents, the two layers of
        paper at half their thickness each twice over (front, back and seam), the
        tape of the seam, the tab that lies over the back of an end page, and the mat
        on its back, which its channel has to hold as well.
        """
        name = f"page_{page.number}_depth"
        if name not in self.sizes:
            self.sizes.take(f"page_{page.number}_holds", held(page), f"page {page.number}: holds")
            paper, tape = (Length(self.calipers[stock]) for stock in ("cardstock", "tape"))
            stack = f"page_{page.number}_layers"
            is_end = page.number in (1, len(self.request.pages))
            mat = self._contents(page).outer
            layers = paper * (3 if is_end else 2) + tape + mat
            told = "paper and tape of front, seam and back" + (
                ", and the cover tab" if is_end else ""
            )
            told += ", and the mat on its back" if mat else ""
            self.sizes.take(stack, layers, told)
            step, least = ("1/16 in", "1/16 in") if self.request.units == "in" else ("1 mm", "2 mm")
            formula = f"max(round_up(page_{page.number}_holds + {stack}, {step}), {least})"
            self.sizes.derive(name, formula, "to fit")
        return length(self.sizes.length(name).mm)

    def _contents(self, page: PageRequest) -> Contents:
        inner = self.mat_thickness if page.mats in (Mats.INNER, Mats.BOTH) else ZERO
        outer = self.mat_thickness if page.mats in (Mats.OUTER, Mats.BOTH) else ZERO
        return Contents(held(page), inner, outer)


def held(page: PageRequest) -> Length:
    """Return the thickness of all that a page holds; things that say none count nothing."""
    return sum(((thing.thick or ZERO) * thing.count for thing in page.holds), ZERO)

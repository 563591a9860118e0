"""From what a book file asks for to the composed book: parts, joins, and reasons for sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from ..bindings.bound import Body, Bound, BoundPart, Note
from ..bindings.copies import copies_of, with_each_copy
from ..bindings.covered import find_covered
from ..bindings.frame import Frame, SizesRefused, SpineRule
from ..bindings.pages import BoundPage, PagesRefused
from ..bindings.registry import bindings
from ..documents import Document
from ..errors import BookError, Defect, Fault, TemplateError
from ..language.library import Library
from ..lengths import Length
from ..sizes.reasons import Sizes
from ..workshop.sizes import Size
from ..workshop.stock import Stock, caliper_words
from ..workshop.workshop import Workshop
from .alternatives import kinds_that_fit
from .beads import with_bead
from .bodies import PageMaker
from .book import Book, BookPart
from .inserts import insert_parts
from .largest_page import largest_page, with_page
from .letters import lettered
from .materials import Materials, materials_of
from .mats import mat_parts
from .page_size import LEAST_PAGE, find_page_size
from .refusals import report_pages, report_sizes
from .request import BookRequest, Half, Mats, PageRequest, Rule, SizeKind
from .sheets_fit import fit_notes, longest_strip, sheet_alone, size_fit


def compose(request: BookRequest, workshop: Workshop, library: Library) -> Book:
    """Return the composed book; raises BookError with everything that is wrong with it."""
    materials = materials_of(request, workshop)
    inserts = list(insert_parts(request, library, materials.calipers()))
    if request.size.kind is SizeKind.SHEET:
        request, materials = _for_sheet(request, workshop, library, materials)
    frame, bound = _bound(request, workshop, library, materials)
    bound = with_each_copy(bound)
    pages = [with_bead(e) if request.usual.word("bead") == "on" else e for e in bound.parts]
    added = [*_mats(request, bound, frame.sizes), *inserts]
    parts = [*pages, *(copy for entry in added for copy in copies_of(entry))]
    book = _book(request, materials, workshop, frame, bound, parts)

    def page_alone(page: PageRequest) -> BoundPage | None:
        return _page_alone(request, page, frame, materials)

    alternatives = kinds_that_fit(book, workshop, library, page_alone)
    return replace(book, notes=(*book.notes, *alternatives))


def _page_alone(
    request: BookRequest, page: PageRequest, frame: Frame, materials: Materials
) -> BoundPage | None:
    """Return a page in the place of another of a book that is composed, or None where that is impossible."""
    binding, count = bindings()[request.binding], len(request.pages)
    middle = binding.half_of(page.number, count, frame).other
    with _trial(request.document):
        body = _maker(request, frame, materials).body(page, middle)
        try:
            return binding.page_alone(body, count, frame) if body else None
        except (SizesRefused, TemplateError):
            return None


def _tried(
    request: BookRequest, workshop: Workshop, library: Library, materials: Materials
) -> Bound | None:
    """Return the bound book, or None where that is impossible."""
    try:
        with _trial(request.document):
            return _bound(request, workshop, library, materials)[1]
    except BookError:
        return None


@contextmanager
def _trial(document: Document) -> Iterator[None]:
    """Let a book be tried: faults found inside are raised, and not kept."""
    kept = list(document.faults)
    document.faults.clear()
    try:
        yield
    finally:
        document.faults[:] = kept


def _bound(
    request: BookRequest, workshop: Workshop, library: Library, materials: Materials
) -> tuple[Frame, Bound]:
    """Return the sizes and the bound pages; raises BookError."""
    sizes = Sizes(request.units)
    sizes.take_usual(request.usual)
    is_possible = find_page_size(request, sizes)
    frame = _frame(request, sizes, workshop, library, materials)
    bodies = _bodies(request, frame, materials) if is_possible else []
    request.document.settle()
    try:
        return frame, bindings()[request.binding].bind(bodies, frame)
    except SizesRefused as refused:
        report_sizes(request, sizes.reasons(), refused)
    except PagesRefused as refused:
        report_pages(request, refused)
    request.document.settle()
    raise Defect(f"{request.document.name}: it cannot be bound, and no fault says why")


def _for_sheet(
    request: BookRequest, workshop: Workshop, library: Library, materials: Materials
) -> tuple[BookRequest, Materials]:
    """Return the request with the largest page of which all parts fit the sheet, and that sheet alone.

    Raises BookError where there is no such page.
    """
    stock = sheet_alone(materials.stocks["pages"], request.size.sides)
    materials = replace(materials, stocks={**materials.stocks, "pages": stock})

    def fits(page: Size) -> bool:
        trial = replace(request, size=with_page(request.size, page))
        bound = _tried(trial, workshop, library, materials)
        pages = [entry.part for entry in bound.parts if entry.role == "pages"] if bound else []
        return bool(pages) and all(size_fit(part, stock, workshop) for part in pages)

    page = largest_page(request.size.sides, LEAST_PAGE, request.units, fits)
    if page is None:
        half = Size(request.size.sides.across / 2, request.size.sides.up / 2)
        trial = replace(request, size=with_page(request.size, half))
        raise _no_page(request, _faults_of(trial, workshop, library, materials))
    return replace(request, size=with_page(request.size, page)), materials


def _no_page(request: BookRequest, others: Sequence[Fault]) -> BookError:
    """Return the error that no page fits the sheet, or what else keeps any page from being made."""
    if not others:
        message = "no page that can be made fits this sheet"
        request.size.place.report("no-page", message, "Choose a larger sheet.")
    return BookError([*request.document.faults, *others])


def _faults_of(
    request: BookRequest, workshop: Workshop, library: Library, materials: Materials
) -> list[Fault]:
    """Return what is wrong with a book beside its size."""
    try:
        with _trial(request.document):
            _bound(request, workshop, library, materials)
    except BookError as problem:
        line = request.size.place.position()[0]
        return [fault for fault in problem.faults if fault.line != line]
    return []


def _frame(
    request: BookRequest,
    sizes: Sizes,
    workshop: Workshop,
    library: Library,
    materials: Materials,
) -> Frame:
    spine = request.spine
    rule = SpineRule.TO_FIT if spine is Rule.TO_FIT else SpineRule.USUAL
    return Frame(
        sizes=sizes,
        usual=request.usual,
        library=library,
        calipers=materials.calipers(),
        spine=spine if isinstance(spine, Length) else rule,
        extra_page_in_back=request.extra_page is Half.BACK,
        longest_strip=longest_strip(
            materials.stocks["pages"], sizes.length("page_height"), workshop
        ),
    )


def _bodies(request: BookRequest, frame: Frame, materials: Materials) -> list[Body]:
    binding = bindings()[request.binding]
    find_covered(frame, binding.COVERS)
    maker = _maker(request, frame, materials)
    count = len(request.pages)
    bodies = []
    for page in request.pages:
        middle = binding.half_of(page.number, count, frame).other
        body = maker.body(page, middle)
        if body is not None:
            bodies.append(body)
    return bodies


def _maker(request: BookRequest, frame: Frame, materials: Materials) -> PageMaker:
    mat_thickness = materials.stocks["mats"].caliper + materials.tape.thickness
    return PageMaker(request, frame.sizes, frame.library, frame.calipers, mat_thickness)


def _mats(request: BookRequest, bound: Bound, sizes: Sizes) -> list[BoundPart]:
    border = sizes.length("mat_border").mm
    by_key = {entry.key: entry for entry in bound.parts}
    return [
        mat
        for page in request.pages
        if page.mats is not Mats.NONE
        for mat in mat_parts(by_key[f"page-{page.number}"], page.number, page.mats, border)
    ]


def _book(
    request: BookRequest,
    materials: Materials,
    workshop: Workshop,
    frame: Frame,
    bound: Bound,
    parts: Sequence[BoundPart],
) -> Book:
    entries = tuple(
        BookPart(
            entry.key,
            entry.title,
            letter,
            entry.part,
            entry.role,
            materials.stocks[entry.role],
            entry.note,
        )
        for entry, letter in zip(parts, lettered(parts), strict=True)
    )
    book = Book(
        request=request,
        parts=entries,
        joins=bound.joins,
        reasons=frame.sizes.reasons(),
        notes=bound.notes,
        stocks=materials.stocks,
        tape=materials.tape,
    )
    return replace(
        book, notes=(*book.notes, *_workshop_notes(book, workshop), *fit_notes(book, workshop))
    )


def _workshop_notes(book: Book, workshop: Workshop) -> list[Note]:
    used = {entry.stock.name: entry.stock for entry in book.parts}
    told = workshop.notes([*used.values(), book.tape])
    by_knife = [stock for stock in used.values() if not workshop.machine.cuts(stock)]
    return [
        *(Note("assumed", "workshop", text) for text in told),
        *(Note("by-knife", stock.name, _by_knife(stock, workshop)) for stock in by_knife),
    ]


def _by_knife(stock: Stock, workshop: Workshop) -> str:
    """Return that a stock is too thick for the machine, and by which measure."""
    thickest = caliper_words(workshop.machine.thickest)
    return (
        f"{caliper_words(stock.caliper)} is thicker than the machine takes ({thickest}),"
        " so its parts are cut by knife"
    )

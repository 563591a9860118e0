"""A report as a picture: numbered marks at their places, the list beside."""

from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.checking import Found, Report
from dielines.checks.finding import Finding, Severity, Spot
from dielines.folding.folded_book import FoldedBook
from dielines.paths import Point
from dielines.pictures.findings_picture import MOST, findings_picture

SAMPLES = Path(__file__).parents[2] / "samples"
SVG = "{http://www.w3.org/2000/svg}"


@cache
def folded() -> FoldedBook:
    source = book_source(book_document(SAMPLES / "lakeside" / "lakeside.toml"))
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


def finding(spot: Spot, severity=Severity.ERROR, message="The seam is too long", remedy="Cut it"):
    return Found("seam off target", Finding(severity, spot, message, remedy))


def drawn(*found: Found) -> ElementTree.Element:
    return ElementTree.fromstring(findings_picture(folded(), Report(tuple(found), ())))


def marks(root, shape: str) -> list[tuple[float, float]]:
    """Return the middles of the discs or squares that are marks, in order."""
    found = []
    for group in root.iter(f"{SVG}g"):
        if group.get("id", "").startswith("marks"):
            for e in group.iter(f"{SVG}{shape}"):
                if shape == "circle":
                    found.append((float(e.get("cx")), float(e.get("cy"))))
                else:
                    half = float(e.get("width")) / 2
                    found.append((float(e.get("x")) + half, float(e.get("y")) + half))
    return found


def words(root) -> list[str]:
    return [element.text for element in root.iter(f"{SVG}text")]


def test_a_mark_stands_at_its_point_of_the_flat_part():
    """The part is drawn at one scale, so two marks are as far apart as their points."""
    part = folded().book.part("page-1").part
    low, high = (
        Point(Fraction(100, 3), Fraction(200, 7)),
        Point(Fraction(400, 3), Fraction(1000, 7)),
    )
    first, second = marks(
        drawn(
            finding(Spot("page-1", "back", low)),
            finding(Spot("page-1", "front", high), message="b"),
        ),
        "circle",
    )[:2]
    scale = min(105 / float(part.width), 66 / float(part.height), 1)
    assert second[0] - first[0] == pytest.approx(float(high.x - low.x) * scale, abs=0.02)
    assert first[1] - second[1] == pytest.approx(float(high.y - low.y) * scale, abs=0.02)


def test_without_a_point_the_mark_stands_on_the_panel_and_without_a_panel_on_the_part():
    panel = folded().book.part("page-1").part.panel("front").bounds()
    part = folded().book.part("page-1").part
    scale = min(105 / float(part.width), 66 / float(part.height), 1)
    at_corner = finding(Spot("page-1", "front", Point(panel.left, panel.bottom)), message="corner")
    corner, middle, somewhere = marks(
        drawn(at_corner, finding(Spot("page-1", "front")), finding(Spot("page-1"), message="c")),
        "circle",
    )[:3]
    assert 0 < middle[0] - corner[0] < float(panel.width) * scale
    assert 0 < corner[1] - middle[1] < float(panel.height) * scale
    assert somewhere != corner


def test_marks_in_one_place_step_aside_and_stay_readable():
    found = [finding(Spot("page-1", "front"), message=f"number {k}") for k in range(4)]
    places = marks(drawn(*found), "circle")[:4]
    assert all(b[0] - a[0] >= 5.2 for a, b in pairwise(places))


def test_each_severity_has_a_shape_of_its_own():
    root = drawn(
        finding(Spot("page-1", "front"), Severity.ERROR),
        finding(Spot("page-2", "page"), Severity.WARNING),
        finding(Spot("page-3", "page"), Severity.REMARK),
    )
    assert len(marks(root, "circle")) == 4  # the disc and the ring, each also in the list
    assert len(marks(root, "rect")) == 2
    fills = {e.get("fill") for e in root.iter(f"{SVG}circle")}
    assert len(fills) == 2
    said = words(root)
    assert {"error: seam off target", "warning: seam off target", "remark: seam off target"} <= set(
        said
    )


def test_every_finding_is_told_with_its_number_and_its_remedy():
    found = [
        finding(Spot(f"page-{k}"), message=f"Fault {k}", remedy=f"Mend {k}") for k in (1, 2, 3)
    ]
    said = words(drawn(*found))
    for k in (1, 2, 3):
        assert f"Fault {k}." in said
        assert f"Mend {k}." in said
        assert said.count(str(k)) == 2  # at the place, and in the list


def test_what_is_of_the_book_as_a_whole_comes_first_without_a_mark_on_a_part():
    said = words(drawn(finding(Spot("page-1", "front")), finding(Spot(), message="Too thick")))
    assert said.index("Too thick.") < said.index("The seam is too long.")
    assert "The book as a whole" in said
    assert said.count("1") == 1
    assert said.count("2") == 2


def test_numbers_run_through_the_list_as_one_reads_it():
    found = [
        finding(Spot(f"page-{k}", "page"), message=f"m{i}") for i, k in enumerate((2, 3, 2, 3))
    ]
    root = drawn(*found, finding(Spot(), message="of the book"))
    listed = [text for text in words(root) if text.isdigit()]
    in_list = [text.text for g in root.iter(f"{SVG}g") for text in g.iter(f"{SVG}text")
               if text.text and text.text[:1] in "MO" and len(text.text) < 14]  # fmt: skip
    assert in_list == ["Of the book.", "M0.", "M2.", "M1.", "M3."]
    assert listed.count("1") == 1
    assert sorted(set(listed), key=int) == ["1", "2", "3", "4", "5"]


def test_the_part_is_named_with_its_letter():
    assert "A: page 1: side pocket" in words(drawn(finding(Spot("page-1"))))


def test_a_part_that_there_is_not_is_of_the_book():
    assert "The book as a whole" in words(drawn(finding(Spot("page-77", "x"))))


def test_long_words_are_wrapped_and_stay_on_the_page():
    long = "The pages are thicker at the spine than the spine board is wide " * 6
    root = drawn(finding(Spot("page-1"), message=long.strip()))
    width, height = (float(v) for v in root.get("viewBox").split()[2:])
    for text in root.iter(f"{SVG}text"):
        size = float(text.get("font-size"))
        assert float(text.get("x")) + len(text.text) * size * 0.52 < width
        assert 0 < float(text.get("y")) < height


def test_of_very_many_findings_the_rest_is_counted():
    found = [finding(Spot("page-1"), message=f"Fault {k}") for k in range(MOST + 7)]
    said = words(drawn(*found))
    assert any("7 more" in text for text in said)
    assert f"Fault {MOST - 1}." in said
    assert f"Fault {MOST}." not in said


def test_a_report_without_findings_says_so():
    root = drawn()
    assert any("every rule holds" in text for text in words(root))
    assert marks(root, "circle") == []


def test_the_same_report_gives_the_same_bytes_and_ids_are_unique():
    report = Report((finding(Spot("page-1")), finding(Spot("page-2")), finding(Spot())), ())
    svg = findings_picture(folded(), report)
    assert svg == findings_picture(FoldedBook(folded().book, folded().workshop), report)
    ids = [e.get("id") for e in ElementTree.fromstring(svg).iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert "not to cut" in ElementTree.fromstring(svg).find(f"{SVG}desc").text

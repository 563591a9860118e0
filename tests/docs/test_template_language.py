"""The page on the template language: each template on it is built, each edit line done.

A block ``toml`` that begins with ``template =`` is a whole template. One that
begins with a brace holds edit lines, which belong to the practice card of the
page. Nothing else is allowed there but a book file, with a file name.
"""

import re
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build, build_fragment
from dielines.language.edit_lines import verbs
from dielines.language.template import template_from_text
from dielines.paths import signed_area

PAGE = (Path(__file__).parents[2] / "docs" / "template-language.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```toml([^\n]*)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
TEMPLATES = [text for _, text in BLOCKS if text.startswith("template =")]
LINES = [
    line
    for _, text in BLOCKS
    if text.startswith("{")
    for line in text.splitlines()
]  # fmt: skip
CALIPERS = {
    "cardstock": Fraction(2413, 10000),
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
}
EDGE = Fraction(743, 7)  #: mm
SHEET = """
template = "sheet"
kind = "page"
units = "mm"
[parts.sheet]
bound = "left | right"
columns = [70, 70]
rows = ["743 / 7 : left right"]
folds = { "left | right" = "valley" }
"""


def name_of(text: str) -> str:
    return str(tomllib.loads(text)["template"])


def parts_of(text: str):
    template = template_from_text(text, f"{name_of(text)}.toml")
    if template.kind == "edge":
        return build_fragment(Graft(template), EDGE, CALIPERS)
    if template.kind == "fold":
        return build(template_from_text(SHEET), {}, CALIPERS, Graft(template)).parts
    return build(template, {}, CALIPERS).parts


@pytest.mark.parametrize("text", TEMPLATES, ids=name_of)
def test_each_template_of_the_page_is_built(text):
    parts = parts_of(text)
    assert parts
    assert all(signed_area(part.outline[0]) > 0 for part in parts)


@pytest.mark.parametrize("text", [t for t in TEMPLATES if "[parameters]" in t], ids=name_of)
def test_what_a_template_of_the_page_lets_one_set_changes_something(text):
    """A parameter that nothing uses would teach a reader nothing."""
    template = template_from_text(text)
    rest = re.sub(r"^\[parameters\]\n(.+\n)+?(?=\[|edits)|#.*", "", text, flags=re.MULTILINE)
    said = re.findall(r"[a-z_0-9]+", rest)
    declared = re.findall(r"[a-z_0-9]+", text.partition("[parameters]")[2])
    for parameter in template.parameters:
        assert parameter.name in said or declared.count(parameter.name) > 1


def practice(line: str):
    card = next(text for text in TEMPLATES if name_of(text) == "practice-card")
    return build(
        template_from_text(card.replace("edits   = [ ]", f"edits = [{line}]")), {}, CALIPERS
    )


@pytest.mark.parametrize("line", LINES)
def test_each_edit_line_of_the_page_changes_the_practice_card(line):
    untouched, edited = practice("").parts[0], practice(line).parts[0]
    assert edited != untouched


def test_every_verb_is_shown_on_the_practice_card():
    shown = {word for line in LINES for word in re.findall(r"^\{ ([a-z]+) =", line)}
    assert shown == set(verbs())


def test_every_toml_block_is_a_template_or_edit_lines_or_a_file():
    for name, text in BLOCKS:
        assert name.strip() or text.startswith(("template =", "{")), text
    assert len(TEMPLATES) >= 15


def test_the_first_template_has_as_many_lines_as_its_heading_says():
    assert "## Twelve lines" in PAGE
    assert len(TEMPLATES[0].splitlines()) == 12


def test_a_template_of_the_page_that_had_a_slip_would_be_found():
    with pytest.raises(TemplateError):
        parts_of(TEMPLATES[0].replace("leaf / flap", "leaf / flip"))

"""The page of rules says what the rules say of themselves."""

import importlib.util
from pathlib import Path

from dielines.checks.registry import rules

DOCS = Path(__file__).parents[2] / "docs"
SPEC = importlib.util.spec_from_file_location("rules_page", DOCS / "rules.py")
rules_page = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(rules_page)


def test_the_page_of_rules_lists_them_as_they_are():
    found = (DOCS / rules_page.PAGE).read_text(encoding="utf-8")
    assert found == rules_page.page_text(rules().values()), "run: make pictures"


def test_every_rule_is_on_the_page_once():
    text = rules_page.page_text(rules().values())
    assert {name: text.count(f"| {name} |") for name in rules()} == dict.fromkeys(rules(), 1)

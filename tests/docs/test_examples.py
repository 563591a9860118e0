"""What the pages show is what happens: commands, files, Python, links and make targets.

A fenced block ``toml NAME`` is written as the file NAME. In a block ``console``
each line ``$ dielines ...`` is run in the folder of these files and must print
what follows it (``...`` stands for anything); ``console exit=2`` for one that
fails. A block ``python`` with prompts is a doctest. The blocks of a page share
one folder, in order.
"""

import doctest
import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from dielines_cli.main import main

ROOT = Path(__file__).parents[2]
PAGES = sorted([*ROOT.glob("*.md"), *ROOT.glob("docs/**/*.md"), *ROOT.glob("samples/**/*.md")])
OPTIONS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE


class Block(NamedTuple):
    """A fenced block: its first line's words, its text, and the line where it begins."""

    words: tuple[str, ...]
    text: str
    line: int


def blocks_of(page: str) -> Iterator[Block]:
    for match in re.finditer(r"^```([^\n`]*)\n(.*?)^```$", page, re.MULTILINE | re.DOTALL):
        line = page.count("\n", 0, match.start()) + 1
        yield Block(tuple(match[1].split()), match[2], line)


def commands_of(block: Block) -> Iterator[tuple[str, str]]:
    """Yield each command of a console block with the output that shall follow."""
    for piece in re.split(r"^\$ ", block.text, flags=re.MULTILINE)[1:]:
        command, _, output = piece.partition("\n")
        yield command, output


def hold(page: str, folder: Path, monkeypatch, capsys) -> None:
    """Carry out the blocks of *page* in *folder* and hold them to what they say."""
    monkeypatch.chdir(folder)
    for block in blocks_of(page):
        if block.words[:1] == ("toml",) and len(block.words) == 2:
            (folder / block.words[1]).write_text(block.text, encoding="utf-8")
        elif block.words[:1] == ("console",):
            hold_console(block, capsys)
        elif block.words[:1] == ("python",) and ">>>" in block.text:
            hold_python(block)


def hold_console(block: Block, capsys) -> None:
    code = int(next((w[5:] for w in block.words if w.startswith("exit=")), "0"))
    for command, expected in commands_of(block):
        program, *arguments = shlex.split(command, comments=True)
        if program != "dielines":
            continue  # make, pip, cd: tried by whoever reads the page
        capsys.readouterr()
        found = main(arguments)
        captured = capsys.readouterr()
        output = captured.out + captured.err
        place = f"line {block.line}: {command}\n{output}"
        assert found == code, place
        assert doctest.OutputChecker().check_output(expected, output, OPTIONS), place


def hold_python(block: Block) -> None:
    test = doctest.DocTestParser().get_doctest(block.text, {}, "page", "page", block.line)
    assert doctest.DocTestRunner(optionflags=OPTIONS).run(test).failed == 0


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_the_examples_of_a_page_hold(page, tmp_path, monkeypatch, capsys):
    hold(page.read_text(encoding="utf-8"), tmp_path, monkeypatch, capsys)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_every_link_of_a_page_leads_somewhere(page):
    targets = re.findall(r"\]\(([^)#\s]+)[^)]*\)", page.read_text(encoding="utf-8"))
    local = [target for target in targets if "://" not in target]
    assert [target for target in local if not (page.parent / target).exists()] == []


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_every_make_target_of_a_page_exists(page):
    named = set(re.findall(r"`make ([a-z-]+)`", page.read_text(encoding="utf-8")))
    rules = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert named - set(re.findall(r"^([a-z-]+):", rules, re.MULTILINE)) == set()


GOOD = """
```toml lake.toml
title = "x"
```
```console
$ dielines --version
dielines ...
```
```console exit=2
$ dielines no-such-command
...No such command...
```
```python
>>> open("lake.toml").read()
'title = "x"\\n'
```
"""


def test_a_page_that_is_right_holds(tmp_path, monkeypatch, capsys):
    hold(GOOD, tmp_path, monkeypatch, capsys)


@pytest.mark.parametrize(
    ("right", "wrong"),
    [("dielines ...", "dielimes ..."), ("exit=2", "exit=1"), ('"x"\\n\'', '"y"\\n\''),
     ("No such command", "Such a command"), ("$ dielines --version", "$ dielines --virgin")],
)  # fmt: skip
def test_a_page_that_is_wrong_is_found(tmp_path, monkeypatch, capsys, right, wrong):
    assert right in GOOD
    with pytest.raises(AssertionError):
        hold(GOOD.replace(right, wrong), tmp_path, monkeypatch, capsys)

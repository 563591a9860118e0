"""Machines by what they can do: each is a whole entry, and a workshop file may name it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dielines.lengths import inches, millimetres
from dielines.workshop.machine import Scoring
from dielines.workshop.machine_examples import machine_examples
from dielines.workshop.shipped import FOLDER

NAMES = tuple(machine_examples())
PAGE = (Path(__file__).parents[2] / "docs" / "workshop.md").read_text(encoding="utf-8")


def like(name: str, *lines: str) -> str:
    return "\n".join(["[machine]", f'like = "{name}"', *lines])


def test_every_file_of_the_folder_is_a_machine_with_a_name_of_its_own():
    assert len(NAMES) == len(list((FOLDER / "machines").iterdir())) == 3


@pytest.mark.parametrize("name", NAMES)
def test_every_machine_can_be_named_and_copied(load, name):
    example = machine_examples()[name]
    named = load(like(name)).machine
    copied = example.document.text.partition("[machine]")[2]
    own = load(f"[machine]{copied}").machine
    assert {**vars(named), "caution": ""} == vars(own)
    assert named.caution == example.caution
    assert example.purpose


@pytest.mark.parametrize("name", NAMES)
def test_every_machine_stands_on_the_page(name):
    assert f'"{name}"' in PAGE


def test_what_the_person_says_goes_before_what_the_machine_is_like(load):
    machine = load(like("laser", 'kerf = "1/7 mm"', 'area = "300 x 200 mm"')).machine
    assert machine.kerf == millimetres("1/7")
    assert machine.gap == millimetres(3)
    assert machine.margin == inches("1/4")  # of the typical workshop
    assert machine.area == (millimetres(300), millimetres(200))


def test_each_kind_differs_in_what_it_can_do(load):
    svg, dxf, laser = (
        load(like(name)).machine
        for name in ("blade cutter that reads SVG", "blade cutter that reads DXF only", "laser")
    )
    assert (svg.reads, dxf.reads, laser.reads) == (("svg",), ("dxf",), ("svg", "dxf"))
    assert (svg.scoring, dxf.scoring) == (Scoring.TOOL, Scoring.DASHES)
    assert [bool(machine.kerf) for machine in (svg, dxf, laser)] == [False, False, True]
    assert [bool(machine.overlap) for machine in (svg, dxf, laser)] == [False, True, False]


def test_the_person_is_told_what_was_taken_and_what_to_heed(load):
    words = [line for line in load(like("laser")).assumptions if line.startswith("machine")]
    assert len(words) == 2
    assert "kerf 0.15 mm" in words[0]
    assert words[1] == f"machine: {machine_examples()['laser'].caution}"
    assert re.search("unattended", words[1])

"""What ``pip install`` puts on a machine: all of the code and data, under names of our own."""

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MADE = shutil.ignore_patterns("__pycache__", "*.pyc")


@pytest.fixture(scope="module")
def names(tmp_path_factory) -> set[str]:
    """The names of all files in a wheel built from this tree."""
    folder = tmp_path_factory.mktemp("tree")
    for part in ("dielines", "cli"):
        shutil.copytree(ROOT / part, folder / part, ignore=MADE)
    for part in ("pyproject.toml", "setup.py", "README.md", "LICENSE"):
        shutil.copy(ROOT / part, folder / part)
    build = "from setuptools.build_meta import build_wheel; build_wheel('.')"
    subprocess.run([sys.executable, "-c", build], cwd=folder, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    assert wheel.name.endswith("-py3-none-any.whl")
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def expected(folder: str, installed_as: str) -> set[str]:
    files = (ROOT / folder).rglob("*")
    wanted = [f for f in files if f.is_file() and "__pycache__" not in f.parts]
    return {f"{installed_as}/{file.relative_to(ROOT / folder).as_posix()}" for file in wanted}


def test_every_file_of_the_packages_is_installed(names):
    assert expected("dielines", "dielines") - names == set()
    assert expected("cli", "dielines_cli") - names == set()


def test_nothing_is_installed_under_a_name_that_is_not_ours(names):
    assert {name.split("/")[0].split("-")[0] for name in names} == {"dielines", "dielines_cli"}

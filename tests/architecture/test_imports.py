"""Imports run one way, down; no circles, not even inside functions."""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]

#: Each room of the house, and the rooms right below it; it may know these and all below them.
#: A room is a file or folder in dielines/, or the command line. A new room gets a line here.
BELOW: dict[str, tuple[str, ...]] = {
    "errors": (),
    "positions": (),
    "lengths": ("errors",),
    "documents": ("errors", "positions"),
    "fields": ("documents",),
    "files": ("errors",),
    "paths": ("lengths",),
    "meetings": ("paths",),
    "offsets": ("meetings",),
    # what is drawn, and what is written
    "drawing": ("paths",),
    "dashes": ("drawing",),
    "turning": ("drawing",),
    "strokes": ("drawing",),
    "formats": ("drawing",),
    "proof_piece": ("dashes",),
    "lettering": ("drawing",),
    "cutting": ("drawing", "offsets", "strokes", "dashes"),
    # what is placed on sheets, in whole units
    "packing": ("errors",),
    # what is folded
    "part": ("paths",),
    "rigid": ("paths",),
    "part_motion": ("part",),
    "hinges": ("part",),
    "poses": ("hinges", "part_motion", "rigid"),
    "landing": ("poses",),
    "part_drawing": ("part", "strokes"),
    # what people write
    "workshop": ("lengths", "fields"),
    "language": ("landing", "meetings", "workshop"),
    "sizes": ("language",),
    "bindings": ("sizes",),
    "machine_files": ("formats", "dashes", "turning", "workshop", "cutting", "lettering"),
    "book": ("bindings", "offsets", "part_drawing", "machine_files"),
    # what is folded and bound, and what must hold of it
    "folding": ("book",),
    "taping": ("folding",),
    "tolerance": ("folding",),
    "checks": ("folding", "taping", "tolerance"),
    "models": ("folding",),
    "sheets": ("packing", "taping"),
    "pictures": ("checks", "models", "sheets"),
    "cli": ("pictures", "files", "proof_piece"),
}
NAMELESS = {"utils", "util", "helpers", "helper", "misc", "common", "core", "stuff", "tools"}
GEOMETRY = {"math", "dielines.paths", "shapely", "numpy", "ezdxf", "svgwrite", "cairosvg"}


class Import(NamedTuple):
    """A module that another one names, and whether it does so while it is itself imported."""

    module: str
    at_once: bool


def sources(root: Path) -> dict[str, Path]:
    """Return the dotted name and the file of every module of the installed packages."""
    files = [file for top in ("dielines", "cli") for file in sorted((root / top).rglob("*.py"))]
    return {dotted(root, file): file for file in files}


def dotted(root: Path, file: Path) -> str:
    pieces = file.relative_to(root).with_suffix("").parts
    return ".".join(pieces[:-1] if pieces[-1] == "__init__" else pieces)


def imports_of(name: str, file: Path, modules: dict[str, Path]) -> Iterator[Import]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    package = name if file.name == "__init__.py" else name.rpartition(".")[0]
    later = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) or is_for_types(node)
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        for module in named_by(node, package, modules):
            yield Import(module, node not in later)


def is_for_types(node: ast.AST) -> bool:
    """Return whether this is ``if TYPE_CHECKING:``, which runs nowhere."""
    return (
        isinstance(node, ast.If)
        and isinstance(node.test, ast.Name)
        and node.test.id == "TYPE_CHECKING"
    )


def named_by(node: ast.AST, package: str, modules: dict[str, Path]) -> Iterator[str]:
    """Yield the modules that an import names: ``from . import a`` means the module a, if it is one."""
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        base = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
        stem = ".".join([*base, *filter(None, [node.module])])
        for alias in node.names:
            inner = f"{stem}.{alias.name}"
            yield inner if inner in modules else stem


def graph(root: Path) -> dict[str, set[str]]:
    """Return for every module the modules of the project that it names anywhere."""
    modules = sources(root)
    return {
        name: {found.module for found in imports_of(name, file, modules)} & set(modules) - {name}
        for name, file in modules.items()
    }


def room_of(module: str) -> str:
    pieces = module.split(".")
    return pieces[0] if pieces[0] == "cli" or len(pieces) == 1 else pieces[1]


def rooms_under(room: str) -> set[str]:
    return {room}.union(*(rooms_under(lower) for lower in BELOW[room]))


def upward(root: Path) -> list[str]:
    """Return the imports that run up or across."""
    return [
        f"{name} imports {target}"
        for name, targets in graph(root).items()
        for target in sorted(targets)
        if room_of(target) not in rooms_under(room_of(name)) | {"dielines"}
    ]


def circle(root: Path) -> list[str]:
    """Return modules that import one another in a circle, or nothing."""
    edges, finished = graph(root), set()

    def walk(module: str, way: list[str]) -> list[str]:
        if module in way:
            return [*way[way.index(module) :], module]
        if module in finished:
            return []
        for target in sorted(edges[module]):
            if found := walk(target, [*way, module]):
                return found
        finished.add(module)
        return []

    return next((found for module in edges if (found := walk(module, []))), [])


def house(folder: Path, texts: dict[str, str]) -> Path:
    """Return a folder with these files, to see the rules themselves fail."""
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_every_room_has_its_place_in_the_order():
    rooms = {room_of(name) for name in sources(ROOT)} - {"dielines"}
    assert rooms <= set(BELOW)


def test_the_map_for_developers_names_every_room():
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = {word.rstrip("/").removesuffix(".py") for word in re.findall(r"`([\w./]+)`", page)}
    assert {room for room in BELOW if room not in named and f"../{room}" not in named} == set()


def test_imports_run_down():
    assert upward(ROOT) == []


def test_imports_make_no_circle():
    assert circle(ROOT) == []


def test_dielines_loads_libraries_only_where_it_uses_them():
    modules = sources(ROOT)
    early = [
        f"{name} imports {found.module}"
        for name, file in modules.items()
        for found in imports_of(name, file, modules)
        if found.at_once and found.module.split(".")[0] not in allowed_at_once(name)
    ]
    assert early == []


def allowed_at_once(name: str) -> set[str]:
    return {*sys.stdlib_module_names, *name.split(".")[:1], "dielines"} | (
        {"typer"} if name.startswith("cli") else set()
    )


def test_the_command_line_holds_no_geometry():
    modules = sources(ROOT)
    found = [
        f"{name} imports {found.module}"
        for name, file in modules.items()
        if name.startswith("cli")
        for found in imports_of(name, file, modules)
        if found.module in GEOMETRY or found.module.split(".")[0] in GEOMETRY
    ]
    assert found == []


def test_only_the_command_line_talks():
    talking = [
        f"{name}:{node.lineno}"
        for name, file in sources(ROOT).items()
        if not name.startswith("cli")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Name) and node.id in ("print", "input", "exit", "breakpoint")
    ]
    assert talking == []


def test_every_file_has_a_name_and_so_a_home():
    pieces = {piece for name in sources(ROOT) for piece in name.split(".")}
    assert pieces & NAMELESS == set()


def test_every_folder_of_code_is_a_package_and_so_installed():
    folders = {file.parent for file in sources(ROOT).values()}
    assert [str(folder) for folder in folders if not (folder / "__init__.py").exists()] == []


@pytest.mark.parametrize(
    "text",
    ["from ..book import x", "import dielines.book", "from dielines import book",
     "def f():\n    from ..book import x", "from ..formats import x"],
)  # fmt: skip
def test_an_import_that_runs_up_or_across_is_found(tmp_path, text):
    rooms = {f"dielines/{room}/__init__.py": "x = 1" for room in ("book", "formats")}
    root = house(tmp_path, {"dielines/part/a.py": text, **rooms})
    assert len(upward(root)) == 1


def test_a_circle_inside_functions_is_found(tmp_path):
    texts = ["from .b import x", "def f():\n    from . import c", "import dielines.language.a"]
    names = [f"dielines/language/{name}.py" for name in "abc"]
    root = house(tmp_path, dict(zip(names, texts, strict=True)))
    assert sorted(set(circle(root))) == [f"dielines.language.{name}" for name in "abc"]

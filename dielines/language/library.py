"""Finding templates by name: the built-in ones, and a person's own beside the book file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path as FilePath

from ..documents import suggestion
from ..errors import TemplateError, UsageError
from .template import NAME, Template, cached_template

BUILT_IN = FilePath(__file__).parent.parent / "data" / "templates"


@dataclass(frozen=True)
class Library:
    """The template files that can be named, by name."""

    files: tuple[tuple[str, FilePath], ...]
    own: frozenset[str]  #: names that are the person's own

    def names(self) -> tuple[str, ...]:
        """Return all names in order."""
        return tuple(name for name, _ in self.files)

    def find(self, name: str) -> Template:
        """Return the template called *name*, words parted by spaces or dashes; raises UsageError."""
        wanted = "-".join(name.strip().lower().replace("-", " ").split())
        path = dict(self.files).get(wanted)
        if path is None:
            hint = suggestion(wanted, self.names())
            told = f"there is no template {name!r}{hint or '.'}"
            raise UsageError(f"{told} See: dielines templates")
        return cached_template(path)

    def templates(self) -> Iterator[Template]:
        """Yield all templates in order of their names; raises TemplateError for a faulty one."""
        for _, path in self.files:
            yield cached_template(path)


def built_in_library() -> Library:
    """Return the templates that come with the tool."""
    files = sorted((path.stem, path) for path in BUILT_IN.rglob("*.toml"))
    return Library(tuple(files), frozenset())


def library_beside(folder: FilePath) -> Library:
    """Return the built-in templates and those in *folder*; raises TemplateError for a clash.

    A TOML file counts as a template when it says ``template =`` at its top, so a
    book file and a workshop file in the same folder are left alone.
    """
    built_in = dict(built_in_library().files)
    own = sorted((path.stem, path) for path in _template_files(folder))
    for name, path in own:
        if name in built_in:
            raise TemplateError.of(
                str(path),
                "name-taken",
                f"{name!r} is the name of a built-in template",
                "Give the file and its 'template' another name.",
            )
    files = sorted([*built_in.items(), *own])
    return Library(tuple(files), frozenset(name for name, _ in own))


def _template_files(folder: FilePath) -> Iterable[FilePath]:
    for path in sorted(folder.glob("*.toml")):
        if NAME.fullmatch(path.stem) and path.is_file() and _says_template(path):
            yield path


def _says_template(path: FilePath) -> bool:
    """Return whether the first key of the file that is not a comment is ``template``."""
    try:
        with path.open(encoding="utf-8", errors="replace") as file:
            for _, text in zip(range(200), file, strict=False):
                words = text.split("=")[0].strip().strip('"')
                if text.lstrip().startswith("["):
                    return False
                if words == "template":
                    return True
    except OSError:
        return False
    return False

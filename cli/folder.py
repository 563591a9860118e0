"""The commands, read from the folder that holds them, each loaded when it is asked for."""

from __future__ import annotations

import importlib
import pkgutil
import sys
from collections.abc import Callable
from typing import Any

import typer
from typer.core import TyperGroup

from . import commands


def command_names() -> list[str]:
    """Return the names of all commands, as one types them, in alphabetical order."""
    return sorted(
        module.name.replace("_", "-")
        for module in pkgutil.iter_modules(commands.__path__)
        if not module.name.startswith("_")
    )


def command_function(name: str) -> Callable[..., None]:
    """Return the function behind the command *name*; a file that fails to import is an error."""
    module = importlib.import_module(f"{commands.__name__}.{name.replace('-', '_')}")
    function: Callable[..., None] = module.command
    return function


def typer_command(name: str) -> Any:
    """Return the command *name*, ready to parse its arguments."""
    function = command_function(name)
    single = typer.Typer(add_completion=False, rich_markup_mode=None)
    settings = getattr(sys.modules[function.__module__], "CONTEXT_SETTINGS", None)
    single.command(name=name, context_settings=settings)(function)
    return typer.main.get_command(single)


class CommandFolder(TyperGroup):
    """A group of commands that loads the one that runs, and all of them only for the help."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Return the names of all commands."""
        return command_names()

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return the command, or None; then all are loaded, for a suggestion."""
        wanted = [cmd_name] if cmd_name in command_names() else command_names()
        for name in wanted:
            if name not in self.commands:
                self.commands[name] = typer_command(name)
        return self.commands.get(cmd_name)

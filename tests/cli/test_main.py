"""What the command line makes of commands, of mistakes and of errors."""

import subprocess
import sys
from importlib import import_module

import pytest

from dielines.errors import (
    BookError,
    Defect,
    Fault,
    ForeignFileError,
    LengthError,
    MissingLibrary,
    TemplateError,
    UsageError,
)
from dielines_cli import commands
from dielines_cli.folder import command_function, command_names
from dielines_cli.main import main

FAULTS = [
    Fault("lake.toml", 12, 3, "page 2: depth", "out-of-range", "30 mm is outside 3 to 20 mm"),
    Fault("lake.toml", 4, 1, "size", "missing", "'size' is missing", "Say how large."),
]
HEAVY = {"shapely", "ezdxf", "svgwrite", "cairosvg", "numpy", "tree_sitter", "pydantic", "rich"}


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder of commands of its own, beside the real ones."""
    monkeypatch.setattr(commands, "__path__", [*commands.__path__, str(tmp_path)])
    yield tmp_path
    for file in tmp_path.glob("*.py"):
        sys.modules.pop(f"{commands.__name__}.{file.stem}", None)


def failing_with(folder, statement: str) -> None:
    text = f'def command() -> None:\n    """Fail."""\n    {statement}\n'
    (folder / "fail_now.py").write_text(text, encoding="utf-8")


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (TemplateError(FAULTS), 2),
        (BookError(FAULTS), 2),
        (ForeignFileError(FAULTS), 2),
        (LengthError("'x' is not a length"), 2),
        (UsageError("no such page"), 2),
        (MissingLibrary("cairo is missing"), 2),
        (Defect("lake.cut.svg reads back differently"), 1),
    ],
    ids=lambda value: type(value).__name__,
)
def test_an_error_of_ours_prints_its_words_and_means_an_exit_code(
    folder, monkeypatch, capsys, problem, code
):
    failing_with(folder, "raise problem")
    monkeypatch.setattr(import_module(f"{commands.__name__}.fail_now"), "problem", problem, False)
    assert main(["fail-now"]) == code
    captured = capsys.readouterr()
    assert captured.err == f"{problem}\n"
    assert captured.out == ""


def test_every_fault_of_a_file_has_a_line_of_its_own(folder, monkeypatch, capsys):
    failing_with(folder, "raise problem")
    module = import_module(f"{commands.__name__}.fail_now")
    monkeypatch.setattr(module, "problem", BookError(FAULTS), raising=False)
    main(["fail-now"])
    places = [line.split(": ")[0] for line in capsys.readouterr().err.splitlines()]
    assert places == ["lake.toml:4:1", "lake.toml:12:3"]


def test_an_unexpected_error_is_an_apology_without_a_traceback(folder, monkeypatch, capsys):
    monkeypatch.delenv("DIELINES_TRACEBACK", raising=False)
    failing_with(folder, "[][7]")
    assert main(["fail-now"]) == 1
    message = capsys.readouterr().err
    assert "IndexError" in message
    assert "DIELINES_TRACEBACK" in message
    assert "Traceback (most recent call last)" not in message
    assert "fail_now.py" not in message


def test_a_full_disk_behind_what_is_printed_is_no_fault_of_ours(folder, capsys):
    failing_with(folder, "raise OSError(28, 'No space left on device')")
    assert main(["fail-now"]) == 2
    assert "Sorry" not in capsys.readouterr().err


def test_the_traceback_of_an_unexpected_error_shows_on_request(folder, monkeypatch, capsys):
    monkeypatch.setenv("DIELINES_TRACEBACK", "1")
    failing_with(folder, "[][7]")
    assert main(["fail-now"]) == 1
    message = capsys.readouterr().err
    assert "Traceback (most recent call last)" in message
    assert "fail_now.py" in message


def test_an_interruption_is_130(folder):
    failing_with(folder, "raise KeyboardInterrupt")
    assert main(["fail-now"]) == 130


@pytest.mark.parametrize("arguments", [["no-such-command"], ["--no-such-option"], []])
def test_a_mistake_at_the_command_line_is_2(arguments):
    assert main(arguments) == 2


def test_a_slip_of_the_pen_gets_a_suggestion(folder, capsys):
    failing_with(folder, "pass")
    assert main(["fail-mow"]) == 2
    assert "fail-now" in capsys.readouterr().err


def test_a_new_file_in_the_folder_is_a_new_command(folder, capsys):
    text = 'def command(name: str) -> None:\n    """Greet."""\n    print(f"hello {name}")\n'
    (folder / "say_hello.py").write_text(text, encoding="utf-8")
    assert main(["say-hello", "Ada"]) == 0
    assert capsys.readouterr().out == "hello Ada\n"
    assert main(["say-hello"]) == 2


def test_a_command_that_fails_to_import_is_an_error_and_never_skipped(folder, capsys):
    (folder / "broken.py").write_text("import no_such_library\n", encoding="utf-8")
    assert main(["--help"]) == 1
    assert "no_such_library" in capsys.readouterr().err


def test_only_the_command_that_runs_is_loaded(folder):
    failing_with(folder, "pass")
    (folder / "broken.py").write_text("import no_such_library\n", encoding="utf-8")
    assert main(["fail-now"]) == 0


def test_the_help_lists_every_command(capsys):
    assert main(["--help"]) == 0
    lines = capsys.readouterr().out.partition("Commands:")[2].splitlines()
    assert [line.split()[0] for line in lines if line.startswith("  ") and line[2] != " "] == (
        command_names()
    )


@pytest.mark.parametrize("name", command_names())
def test_every_command_says_in_one_line_what_it_does(name, capsys):
    first = (command_function(name).__doc__ or "").strip().splitlines()[0]
    assert first.endswith(".")
    assert len(first) <= 62  # one line of the list of commands
    assert main([name, "--help"]) == 0
    assert first[:40] in capsys.readouterr().out


def test_the_help_loads_none_of_the_heavy_libraries():
    code = (
        "import sys; from dielines_cli.main import main; main(['--help']); "
        f"sys.exit(sorted({HEAVY!r} & set(sys.modules)) or 0)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert run.stderr == ""
    assert run.returncode == 0


def test_the_version_is_that_of_the_package(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.split()[1] == import_module("dielines").__version__


def test_a_sign_that_the_terminal_lacks_is_no_error():
    code = "from dielines_cli.main import main; main(['--version']); print('≈ 1/2″')"
    run = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        check=False,
        env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
    )
    assert run.returncode == 0
    assert run.stdout.splitlines()[1] == b"? 1/2?"

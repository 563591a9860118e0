"""How long ``dielines --help`` takes from cold, beside a bare ``import typer``."""

from fresh import comparable_processes, median, run

TIMES = 11
AT_MOST = 3.0


def main() -> None:
    """Print the figures; both programs take turns, so that a busy moment hits both."""
    programs = {"typer": ("-c", "import typer"), "help": ("-m", "dielines_cli", "--help")}
    with comparable_processes():
        for arguments in programs.values():
            run(*arguments)
        turns = [{name: run(*words) for name, words in programs.items()} for _ in range(TIMES)]
    bare, help_text = (median(turn[name].seconds for turn in turns) for name in programs)
    print(
        f"dielines --help: {help_text * 1000:.0f} ms, {help_text / bare:.2f} x a bare import of "
        f"typer ({bare * 1000:.0f} ms); at most {AT_MOST:.0f} x"
    )


if __name__ == "__main__":
    main()

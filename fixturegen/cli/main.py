"""The console entry: finds the commands, maps every ending to its exit code.

A command is a module `fixturegen.cli.<name>_command` with an attribute `command`; nobody keeps a
list. `--help` reads the first line of each module's text and imports none of them.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import NoReturn

import click

from fixturegen import __version__
from fixturegen.cli import console
from fixturegen.errors import (
    EXIT_INPUT,
    EXIT_INTERRUPTED,
    EXIT_MACHINE,
    EXIT_OK,
    EXIT_PROGRAM,
    Fault,
    FixturegenError,
)
from fixturegen.runtime import look_seldom, no_plugins

look_seldom()

_SUFFIX = "_command.py"
_HERE = Path(__file__).parent


def command_names(folder: Path = _HERE) -> list[str]:
    """Names of the commands found in a folder, by file name."""
    found = (p.name.removesuffix(_SUFFIX) for p in folder.glob(f"*{_SUFFIX}"))
    return sorted(name.replace("_", "-") for name in found)


def one_line_help(name: str, folder: Path = _HERE) -> str:
    """The first line of a command module's text, read without running it."""
    path = folder / (name.replace("-", "_") + _SUFFIX)
    first = path.read_text(encoding="utf-8").split("\n", 1)[0]
    words = first.strip().strip('"').strip().rstrip(".")
    # a module that opens with its own command line has said the name already
    return words.partition("`: ")[2] if words.startswith("`") and "`: " in words else words


class LazyGroup(click.Group):
    """A group whose commands are imported only when they run."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names of the commands."""
        return command_names()

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, or None."""
        if cmd_name not in command_names():
            return None
        no_plugins()  # before anything loads the validator
        module = import_module(f"fixturegen.cli.{cmd_name.replace('-', '_')}_command")
        found: click.Command = module.command
        return found

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands with their first lines."""
        rows = [(name, one_line_help(name)) for name in self.list_commands(ctx)]
        if rows:
            with formatter.section("Commands"):
                formatter.write_dl(rows)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command asked for; a name that does not exist gets the nearest one named."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as wrong:
            from difflib import get_close_matches

            near = get_close_matches(args[0], self.list_commands(ctx), n=1)
            hint = f" Did you mean '{near[0]}'?" if near else ""
            names = ", ".join(self.list_commands(ctx))
            raise click.UsageError(f"There is no command '{args[0]}'.{hint} Commands: {names}.", ctx) from wrong


@click.group(
    name="fixturegen",
    cls=LazyGroup,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Setting-out aid, not certified: measure before you weld; local rules come first.",
)
@click.version_option(__version__, prog_name="fixturegen")
def cli() -> None:
    """From one build sheet of measured values to jigs, cut files and bench papers.

    Exit codes: 0 all released; 1 something failed or is held; 2 sheet or command wrong;
    3 the machine said no; 70 a fault of the program; 130 interrupted.
    """


def _click_faults(error: click.ClickException, command: str) -> tuple[Fault, ...]:
    where = "command"
    if isinstance(error, click.BadParameter) and error.param is not None:
        where = error.param.opts[-1] if error.param.opts[-1].startswith("-") else error.param.name
    elif isinstance(error, click.NoSuchOption):
        where = error.option_name
    remedy = f"see `{' '.join(filter(None, ('fixturegen', command)))} --help`"
    ctx = error.ctx if isinstance(error, click.UsageError) else None
    if ctx is not None:
        remedy = f"see `{ctx.command_path} --help`"
    return (Fault(key=where or "command", given=error.format_message(), allowed="", remedy=remedy),)


def _os_fault(error: OSError) -> Fault:
    name = str(error.filename or "the system")
    reason = error.strerror or str(error) or type(error).__name__
    return Fault(
        key=name,
        given=reason[:1].lower() + reason[1:],
        allowed="",
        remedy="nothing was changed; free the file or folder, then run the same command again",
    )


def _library_fault(error: ImportError) -> Fault:
    return Fault(
        key="installation",
        given=str(error),
        allowed="",
        remedy="a library this command needs cannot be loaded; set up again as the README says, "
        "system libraries included",
    )


class _Ending(Exception):
    """How a run ended: exit code, faults and the sentence for people."""

    def __init__(self, code: int, words: str, faults: Sequence[Fault] = ()) -> None:
        self.code, self.words, self.faults = code, words, tuple(faults)
        super().__init__(words)


def _ending(error: BaseException, command: str) -> _Ending:
    """How a run of `command` that raised `error` ends."""
    if isinstance(error, click.exceptions.Abort | KeyboardInterrupt):
        return _Ending(EXIT_INTERRUPTED, "Interrupted; nothing was changed.")
    if isinstance(error, click.FileError):
        fault = Fault(error.ui_filename, error.message, "", "give a file that can be read")
        return _Ending(EXIT_MACHINE, fault.sentence(), (fault,))
    if isinstance(error, click.ClickException):
        faults = _click_faults(error, command)
        return _Ending(EXIT_INPUT, f"{faults[0].given} ({faults[0].remedy})", faults)
    if isinstance(error, FixturegenError) and error.exit_code != EXIT_PROGRAM:
        return _Ending(error.exit_code, str(error), getattr(error, "faults", ()))
    if isinstance(error, MemoryError):
        fault = Fault("memory", "used up", "", "nothing was changed; close other programs")
        return _Ending(EXIT_MACHINE, fault.sentence(), (fault,))
    if isinstance(error, OSError):
        fault = _os_fault(error)
        return _Ending(EXIT_MACHINE, fault.sentence(), (fault,))
    if isinstance(error, ImportError) and "fixturegen" not in (error.name or ""):
        fault = _library_fault(error)
        return _Ending(EXIT_MACHINE, fault.sentence(), (fault,))
    where = console.logged(error, error.__traceback__)
    words = f"This is a fault of the program, not of your sheet. Nothing was changed. {where}"
    fault = Fault("program", f"{type(error).__name__}: {error}", "", words)
    return _Ending(EXIT_PROGRAM, words, (fault,))


def main(arguments: Sequence[str] | None = None) -> int:
    """The exit code of one run; what it has to say has been printed."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    command = next((word for word in given if not word.startswith("-")), "")
    try:
        code = cli.main(args=given, prog_name="fixturegen", standalone_mode=False)
    except (Exception, KeyboardInterrupt) as error:  # noqa: BLE001 - every ending has its exit code
        end = _ending(error, command)
    else:
        return code if isinstance(code, int) else EXIT_OK
    if "--json" in given:
        console.say_json(console.envelope(command, end.code, errors=end.faults))
    else:
        console.complain(end.words)
    return end.code


def entry() -> NoReturn:
    """Run one command and end the process at once with its exit code.

    Taking some hundred modules down one by one takes longer than a short answer does; what was
    printed is flushed, files are closed by then, locks end with the process.
    """
    code = main()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()
    if (logging := sys.modules.get("logging")) is not None:
        logging.shutdown()
    os._exit(code)


if __name__ == "__main__":
    entry()

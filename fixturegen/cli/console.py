"""What goes to the screen: plain text that any console can show, and one JSON object a run."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from fixturegen.errors import Fault
from fixturegen.findings import Finding, Level
from fixturegen.progress import Progress, silent

if TYPE_CHECKING:
    from types import TracebackType

SCHEMA = 1
_PLAIN = {
    "\N{DEGREE SIGN}": " deg",
    "\N{PLUS-MINUS SIGN}": "+/-",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{LATIN CAPITAL LETTER O WITH STROKE}": "dia ",
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{MINUS SIGN}": "-",
    "\N{LESS-THAN OR EQUAL TO}": "<=",
    "\N{GREATER-THAN OR EQUAL TO}": ">=",
    "\N{MIDDLE DOT}": "*",
    "\N{RIGHTWARDS ARROW}": "->",
    "\N{HORIZONTAL ELLIPSIS}": "...",
    "\N{SUPERSCRIPT TWO}": "2",
    "\N{SUPERSCRIPT THREE}": "3",
    "\N{SUPERSCRIPT FOUR}": "4",
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
}  # fmt: skip - pairs read better side by side
_HEADINGS = (
    (Level.FAIL, "FAILS (must be mended)"),
    (Level.WARN, "WARNINGS (you decide)"),
    (Level.NOT_CHECKED, "NOT CHECKED"),
    (Level.PASS, "PASSES"),
)


def fitted(text: str, encoding: str | None) -> str:
    """The text as a console of this encoding can show it: a degree sign becomes `deg`."""
    try:
        text.encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        for sign, plain in _PLAIN.items():
            text = text.replace(sign, plain)
        return text.encode("ascii", "replace").decode("ascii")
    return text


def _write(stream: TextIO, text: str) -> None:
    try:
        stream.write(fitted(text, stream.encoding) + "\n")
        stream.flush()
    except BrokenPipeError:
        # the reader (`| head`) has seen enough; the work and its exit code go on without it
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def say(text: str = "") -> None:
    """Print one piece of text to standard output."""
    _write(sys.stdout, text)


def complain(text: str) -> None:
    """Print one piece of text to standard error."""
    _write(sys.stderr, text)


def say_json(value: dict[str, Any]) -> None:
    """Print one JSON object; plain ASCII, so that no console or pipe can spoil it."""
    say(json.dumps(value, ensure_ascii=True, allow_nan=False, indent=1))


def envelope(
    command: str,
    exit_code: int,
    findings: Iterable[Finding] = (),
    errors: Iterable[Fault] = (),
    **more: Any,
) -> dict[str, Any]:
    """The one object of every `--json`: schema, command, exit, findings, then the command's own.

    Args:
        command: Name of the sub-command.
        exit_code: The exit code the process ends with.
        findings: Every finding, passes too.
        errors: What was wrong with the input or the machine (exit 2 or 3).
        **more: Further fields.
    """
    body: dict[str, Any] = {
        "schema": SCHEMA,
        "command": command,
        "exit": exit_code,
        "findings": [f.as_json() for f in findings],
        **more,
    }
    faults = [fault.as_json() for fault in errors]
    if faults:
        body["errors"] = faults
    return body


def finding_lines(finding: Finding) -> list[str]:
    """One finding in plain words: code and claim, what was found, what to do."""
    where = [*finding.parts]
    if finding.assembly:
        where.append(f"assembly {finding.assembly}")
    about = f" [{', '.join(where)}]" if where else ""
    lines = [f"  {finding.code}  {finding.claim}{about}"]
    if finding.words:
        lines.append(f"          {finding.words}")
    if finding.remedy and finding.level is not Level.PASS:
        lines.append(f"          Do: {finding.remedy}")
    return lines


def findings_text(findings: Iterable[Finding]) -> str:
    """Every finding, grouped: what fails first, then warnings, not checked, passes."""
    kept = tuple(findings)
    lines: list[str] = []
    for level, heading in _HEADINGS:
        group = [f for f in kept if f.level is level]
        if not group:
            continue
        lines += [f"{heading}: {len(group)}", *(ln for f in group for ln in finding_lines(f)), ""]
    return "\n".join(lines).rstrip("\n")


def counts_text(findings: Iterable[Finding]) -> str:
    """How many of each level, on one line."""
    kept = tuple(findings)
    number = {level: sum(f.level is level for f in kept) for level in Level}
    return (
        f"{number[Level.FAIL]} failed, {number[Level.WARN]} warnings, "
        f"{number[Level.NOT_CHECKED]} not checked, {number[Level.PASS]} passed"
    )


@contextmanager
def progress_on_terminal(*, quiet: bool = False) -> Iterator[Progress]:
    """A progress callback: a line on standard error on a terminal, silent in a pipe."""
    if quiet or not sys.stderr.isatty():
        yield silent
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn
    from rich.progress import Progress as Bar

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    with Bar(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=None)

        def tell(what: str, done: int, total: int) -> None:
            bar.update(task, description=what, completed=done, total=total or None)

        yield tell


def log_file() -> Path:
    """Where the details of a fault of the program are written."""
    import platformdirs

    return platformdirs.user_log_path("fixturegen", appauthor=False) / "fixturegen.log"


def logged(error: BaseException, trace: TracebackType | None) -> str:
    """Write the details of an unforeseen error to the log file and say where they are."""
    import logging

    path = log_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = logging.FileHandler(path, encoding="utf-8")
    except OSError as refused:
        return f"The details could not be written to {path}: {refused.strerror or refused}."
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
    logger = logging.getLogger("fixturegen")
    logger.addHandler(handler)
    try:
        logger.error("unforeseen", exc_info=(type(error), error, trace))
    finally:
        logger.removeHandler(handler)
        handler.close()
    return f"The details are in {path}."

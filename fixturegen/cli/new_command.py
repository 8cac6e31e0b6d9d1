"""Write a commented starter sheet (front or rear, drop-out or integral)."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import cast

import click

from fixturegen.cli import console
from fixturegen.errors import Fault, InputFault, MachineFault


@click.command(name="new")
@click.argument("path", type=click.Path(path_type=Path))
@click.option(
    "--axle",
    type=click.Choice(["front", "rear"]),
    default="front",
    show_default=True,
    help="Steered front axle or rear axle.",
)
@click.option(
    "--housing",
    type=click.Choice(["drop-out", "integral"]),
    default="drop-out",
    show_default=True,
    help="Drop-out third member, or casting with a cover.",
)
@click.option(
    "--knuckle",
    type=click.Choice(["kingpin", "ball-joint"]),
    default=None,
    help="Inner knuckles of a front axle.  [default: kingpin]",
)
@click.option(
    "--filled",
    is_flag=True,
    help="Fill in invented values, to try the program; else measured values are left blank.",
)
@click.option(
    "--section",
    type=click.Choice(["links", "loads", "joints", "brackets", "truss", "components", "access", "gauges"]),
    default=None,
    help="Write one of the sections a fresh sheet leaves out, to paste into it.",
)
def command(path: Path, axle: str, housing: str, knuckle: str | None, filled: bool, section: str | None) -> None:
    """Write a commented starter sheet to PATH; an existing file is never overwritten."""
    if section is not None:
        _one_section(path, section, filled)
        return
    from fixturegen.sheet.starter import starter
    from fixturegen.sheet.starter_values import HousingKind, KnuckleKind, Position, Variant

    if axle == "rear" and knuckle is not None:
        raise InputFault(Fault("--knuckle", knuckle, "nothing with --axle rear", "a rear axle has no knuckles"))
    variant = Variant(cast(Position, axle), cast(HousingKind, housing), cast(KnuckleKind, knuckle or "kingpin"))
    _write_new(path, starter(variant, _job_name(path), filled))
    after = "measure your own axle before you cut" if filled else "fill in the lines marked measure"
    console.say(f"{path} is written: {after}, then run: fixturegen check {path}")


def _one_section(path: Path, section: str, filled: bool) -> None:
    """Write one section with every key explained."""
    from fixturegen.sheet.starter_sections import section_starter

    if filled:
        remedy = "its values are those of your own axle; the examples show invented ones"
        raise InputFault(Fault("--filled", f"with --section {section}", "nothing beside --section", remedy))
    _write_new(path, section_starter(section))
    console.say(f"{path} is written: paste what your axle has of it into its sheet, then run: fixturegen check SHEET")


def _job_name(path: Path) -> str:
    """A name of the job, from the file's."""
    words = "".join(c if c.isprintable() else " " for c in path.stem.replace("_", " "))
    words = words.encode("utf-8", "replace").decode("utf-8").replace("-", " ").strip()
    return words[:1].upper() + words[1:] if words else "My axle"


def _write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet, whole or not at all.

    Raises:
        InputFault: When something of that name is there already, or its folder is not.
        MachineFault: When it cannot be written.
    """
    taken = InputFault(Fault(str(path), "a file that is there already", "a new name", "name another file"))
    if path.exists() or path.is_symlink():
        raise taken
    if not path.parent.is_dir():
        raise InputFault(Fault(str(path), "a folder that is not there", "a folder that is", "make it first"))
    try:
        handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(text.encode("utf-8"))
            Path(name).chmod(0o644)
            try:
                os.link(name, path)  # refuses when the name is taken meanwhile
            except FileExistsError:
                raise taken from None
            except OSError:  # a disk without hard links
                Path(name).replace(path)
        finally:
            with suppress(OSError):
                Path(name).unlink()
    except OSError as error:
        why = error.strerror or str(error)
        remedy = "nothing was written: look at the disk and at who may write there"
        raise MachineFault(str(path), f"a place that cannot be written ({why})", remedy) from error

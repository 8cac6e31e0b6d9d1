"""The error tree, and what each error means to the person at the bench.

::

    FixturegenError                 the base; carries the exit code
    ├── InputFault (ValueError)     exit 2: the sheet, the readings or the command is wrong
    │   └── SheetFault              all faults of one sheet at once (a tuple of Fault)
    ├── units.BadQuantity (ValueError)  exit 2: a text that is no quantity of the kind asked for
    ├── stock.NotInTable (KeyError)     exit 2: a name that no shipped table has
    ├── MachineFault (OSError)      exit 3: disk full, folder in use, unreadable, unwritable
    ├── GeometryFault (ValueError)  a part cannot be made as asked; the part is held
    └── ProgramFault (RuntimeError) exit 70: a fault of the program, not of the sheet
"""

from __future__ import annotations

from dataclasses import asdict, dataclass

EXIT_OK = 0
EXIT_HELD = 1
EXIT_INPUT = 2
EXIT_MACHINE = 3
EXIT_PROGRAM = 70
EXIT_INTERRUPTED = 130


@dataclass(frozen=True)
class Fault:
    """One thing wrong with the input, in the words that mend it.

    Attributes:
        key: Dotted sheet key, option or file it is about.
        line: Line in the file, from 1; None where there is none.
        given: What was given, as the person wrote it.
        allowed: What is allowed there.
        remedy: What to do.
    """

    key: str
    given: str
    allowed: str
    remedy: str
    line: int | None = None

    def sentence(self) -> str:
        """One clear sentence: where, what was given, what is allowed, what to do."""
        where = f"{self.key} (line {self.line})" if self.line else self.key
        parts = [where + ":"]
        if self.given:
            parts.append(f"given {self.given};")
        if self.allowed:
            parts.append(f"allowed: {self.allowed};")
        remedy = self.remedy.rstrip(".")
        parts.append(remedy if remedy.endswith("?") else remedy + ".")
        return " ".join(parts)

    def as_json(self) -> dict[str, object]:
        """The fault as a JSON object."""
        return asdict(self)


class FixturegenError(Exception):
    """Base of every error the program raises on purpose."""

    exit_code = EXIT_PROGRAM


class InputFault(FixturegenError, ValueError):
    """The sheet, the readings or the command is wrong; nothing was written."""

    exit_code = EXIT_INPUT

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("\n".join(f.sentence() for f in faults))


class SheetFault(InputFault):
    """Every fault found in one sheet."""


class MachineFault(FixturegenError, OSError):
    """The machine said no; nothing was changed."""

    exit_code = EXIT_MACHINE

    def __init__(self, key: str, given: str, remedy: str) -> None:
        self.faults = (Fault(key=key, given=given, allowed="", remedy=remedy),)
        super().__init__(self.faults[0].sentence())


class GeometryFault(FixturegenError, ValueError):
    """A part cannot be made as asked."""

    exit_code = EXIT_HELD

    def __init__(self, part: str, words: str, remedy: str) -> None:
        self.part, self.words, self.remedy = part, words, remedy
        super().__init__(f"{part}: {words}; {remedy}")


class ProgramFault(FixturegenError, RuntimeError):
    """A fault of the program, not of the sheet."""

    exit_code = EXIT_PROGRAM

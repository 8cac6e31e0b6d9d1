"""Finding a cutting process by its name."""

from __future__ import annotations

from fixturegen.errors import Fault, InputFault
from fixturegen.stock import CutProcess, NotInTable, entry


def cut_process(name: str) -> CutProcess:
    """The process of that name in the shipped table.

    Raises:
        InputFault: When there is none.
    """
    try:
        return entry("processes", name.strip(), CutProcess)
    except NotInTable as wrong:
        raise InputFault(Fault("--process", wrong.given[:40], wrong.allowed, wrong.remedy)) from None

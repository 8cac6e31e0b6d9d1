"""How claims are declared, found and run.

One file makes a claim: a module of this package with a function decorated by `claim`. Nobody keeps
a list; `claims()` finds them. Codes are never reused; retired ones stand in `RETIRED`.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, Literal

from fixturegen.axle.model import AxleModel
from fixturegen.errors import ProgramFault
from fixturegen.findings import Finding, Holds, Level
from fixturegen.progress import Progress, silent
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import JigPlan

if TYPE_CHECKING:
    from fixturegen.plate import Assembly, Part
    from fixturegen.plate.bracket_set import BracketSet

RETIRED: frozenset[str] = frozenset()

Stage = Literal["numbers", "travel", "solids"]

FOLDER = "sheet.folder"
"""Where the job keeps the folder its sheet lies in."""
TRUSS_PLAN = "truss.plan"
"""Key of `Job.store`: the plan of the truss, or why there is none."""


def _no_brackets() -> BracketSet:
    # a check of the sheet alone has no steel and should not pay for its records
    from fixturegen.plate.bracket_set import BracketSet

    return BracketSet()


@dataclass
class Job:
    """Everything a claim may look at.

    Attributes:
        sheet: The build sheet.
        axle: The idealized axle, frame A.
        plan: The jig's plan.
        parts: By name.
        assemblies: By name; "jig" is the whole jig on the table, frame T.
        brackets: What checks know of the brackets, and those that cannot be drawn.
        store: Where solids and meshes are kept once made (filled by `shapes` and `bodies`).
    """

    sheet: Sheet
    axle: AxleModel
    plan: JigPlan
    parts: dict[str, Part] = field(default_factory=dict)
    assemblies: dict[str, Assembly] = field(default_factory=dict)
    store: dict[str, Any] = field(default_factory=dict)
    brackets: BracketSet = field(default_factory=_no_brackets)


Check = Callable[[Job], list[Finding]]


@dataclass(frozen=True)
class Claim:
    """One declared claim.

    Attributes:
        code: FIT-01, ANG-02 ...
        words: The claim in plain words.
        holds: What its fail holds back.
        needed: Whether "not checked" holds as well.
        stage: numbers (no kernel, at rest, quick), travel (no kernel: links over their travel, loads, truss, gauges)
            or solids.
        check: The function.
    """

    code: str
    words: str
    holds: Holds
    needed: bool
    stage: Stage
    check: Check

    def finding(self, level: Level, words: str, **more: Any) -> Finding:
        """A finding of this claim."""
        return Finding(
            code=self.code,
            level=level,
            claim=self.words,
            words=words,
            holds=self.holds,
            needed=self.needed,
            **more,
        )


_CLAIMS: dict[str, Claim] = {}


def claim(
    code: str, words: str, *, holds: Holds, needed: bool = True, stage: Stage = "solids"
) -> Callable[[Callable[[Claim, Job], list[Finding]]], Check]:
    """Declare a claim; the decorated function takes (claim, job) and returns findings.

    Raises:
        ProgramFault: When the code is double or retired.
    """

    def declare(function: Callable[[Claim, Job], list[Finding]]) -> Check:
        if code in RETIRED:
            raise ProgramFault(f"claim code {code} is retired")
        old = _CLAIMS.get(code)
        if old is not None and _written(old.check) != _written(function):
            raise ProgramFault(f"claim code {code} is declared twice")

        def check(job: Job) -> list[Finding]:
            return function(_CLAIMS[code], job)

        check.__module__, check.__qualname__ = function.__module__, function.__qualname__
        check.__doc__ = function.__doc__
        _CLAIMS[code] = Claim(code, words, holds, needed, stage, check)
        return check

    return declare


def _written(function: Callable[..., list[Finding]]) -> tuple[str, str]:
    """Where a check is written; a module that is loaded again declares the same one again."""
    return function.__module__, function.__qualname__


def _may_declare(package: ModuleType, name: str, stage: Stage | None) -> bool:
    """Whether a module can hold claims of a stage, told from its text, so that the others stay unloaded.

    Only stages without the kernel are asked for by themselves; a module that cannot be read is loaded.
    """
    if stage in (None, "solids"):
        return True
    files = (Path(folder) / f"{name}.py" for folder in package.__path__)
    found = next((f for f in files if f.is_file()), None)
    return found is None or f'stage="{stage}"' in found.read_text(encoding="utf-8")


def claims(stage: Stage | None = None) -> tuple[Claim, ...]:
    """Every claim, by code; of one stage when asked."""
    package = importlib.import_module("fixturegen.checks")
    for module in pkgutil.iter_modules(package.__path__):
        if module.name not in ("registry", "release") and _may_declare(package, module.name, stage):
            importlib.import_module(f"fixturegen.checks.{module.name}")
    found = sorted(_CLAIMS.values(), key=lambda c: c.code)
    return tuple(c for c in found if stage is None or c.stage == stage)


def run(job: Job, stage: Stage | None = None, progress: Progress = silent) -> tuple[Finding, ...]:
    """Findings of every claim (of one stage when asked), in order of code."""
    asked = claims(stage)
    found: list[Finding] = []
    for i, one in enumerate(asked):
        progress(f"check {one.code}", i, len(asked))
        found.extend(one.check(job))
    return tuple(found)

"""What the claims about cutting share: plates, their rules, their contours, and how a shortfall is judged."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fixturegen.checks.registry import Claim, Job
from fixturegen.checks.wording import shared
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Profile
from fixturegen.plate.widths import Contour, contour_fault, contours
from fixturegen.studies.cutting_rules import CuttingRules, Rule, rules_for
from fixturegen.units import as_inch

TRIALS = ("coupons",)  # kinds that are cut to see what the torch does: they may go below its rules
SAME = 1e-6  # [mm] less is rounding


@dataclass(frozen=True)
class CutPlate:
    """A plate part and how it is cut.

    Attributes:
        part: The part.
        profile: Its flat form.
        rules: Of its plate.
        cuts: Contours the torch can follow.
        faults: Contours it cannot, as (words, x, y) [mm].
    """

    part: Part
    profile: Profile
    rules: CuttingRules
    cuts: tuple[Contour, ...]
    faults: tuple[tuple[str, float, float], ...]

    @property
    def trial(self) -> bool:
        """Whether it is cut to try the torch."""
        return self.part.kind in TRIALS


def cut_plates(job: Job) -> tuple[CutPlate, ...]:
    """Every plate part of the job, in its order; worked out once a job."""
    return shared(job, "study.cut_plates", lambda: tuple(_plates(job)))


def _plates(job: Job) -> Iterator[CutPlate]:
    for part in job.parts.values():
        if part.profile is not None:
            rules = rules_for(job.sheet, part.thickness)
            cuts, faults = [], []
            for i, cut in enumerate(contours(part.profile)):
                fault = contour_fault(cut, outside=i == 0)
                if fault is None:
                    cuts.append(cut)
                else:
                    faults.append((f"{cut.words} {fault[0]}", fault[1], fault[2]))
            yield CutPlate(part, part.profile, rules, tuple(cuts), tuple(faults))


def shortfall(value: float, rule: Rule, kerf: float) -> Level:
    """How bad a width below its rule is.

    Narrower than the kerf cannot be, and fails. Below what was measured on the person's own table
    fails; below shop practice from the table of processes, which is a start and no law, warns.

    Args:
        value: What was found [mm].
        rule: What is asked for.
        kerf: Measured [mm].
    """
    if value >= rule.value - SAME:
        return Level.PASS
    return Level.FAIL if rule.measured or value < kerf else Level.WARN


def said(value: float) -> str:
    """A length [mm] as people cut it: fraction and decimal inch."""
    return f"{as_inch(value, 64).split(' (')[0]} ({value / 25.4:.3f} in)"


def passing(claim: Claim, plates: Iterable[CutPlate], found: Iterable[Finding], words: str) -> list[Finding]:
    """The findings, with one pass for all plates none of them names.

    Args:
        claim: The claim.
        plates: What was looked at.
        found: What does not pass.
        words: What the pass says after the number of plates.
    """
    told = list(found)
    named = {name for f in told for name in f.parts}
    good = tuple(p.part.name for p in plates if p.part.name not in named)
    if good:
        told.append(claim.finding(Level.PASS, f"{len(good)} plates: {words}", parts=good, frame="P"))
    return told

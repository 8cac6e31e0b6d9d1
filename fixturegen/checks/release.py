"""Which parts may be made, and why others are held; the gate between checks and files.

A part is held when a fail, or a "not checked" of a needed claim, names it, is found on an assembly
it belongs to and the claim holds assemblies, or holds the job. Warnings never hold. A finding that
holds but names nothing this job knows holds the widest thing it may be about: a gate must gate.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from fixturegen.findings import Finding, Level

if TYPE_CHECKING:
    from fixturegen.plate import Assembly, Part

Held = dict[str, str | None]


def members(assembly: Assembly) -> frozenset[str]:
    """Names of the parts placed in an assembly."""
    return frozenset(p.part for p in assembly.placements)


def release(parts: Iterable[Part], assemblies: Iterable[Assembly], findings: Iterable[Finding]) -> Held:
    """Part name to the reason it is held, or None when it is released.

    A part's own reason stands before one by its assembly, and that before one by the job; among
    equals the first finding is named.

    Args:
        parts: Every part of the job.
        assemblies: Every assembly of the job.
        findings: What the claims came to.
    """
    known = tuple(parts)
    names = frozenset(p.name for p in known)
    places = {a.name: members(a) & names for a in assemblies}
    found = tuple(findings)
    own: dict[str, str] = {}
    by_assembly: dict[str, str] = {}
    by_job = ""
    for finding in (f for f in found if f.holding):
        named = names.intersection(finding.parts)
        for name in named:
            own.setdefault(name, f"{finding.code}: {finding.words}")
        wide = _wide(finding, named, places)
        if wide is None:
            by_job = by_job or f"by the job {finding.code}: {finding.words}"
            continue
        for assembly in wide:
            for name in places[assembly]:
                by_assembly.setdefault(name, f"by {assembly} {finding.code}: {finding.words}")
    for part in known:
        missing = _not_looked_at(part, found, places)
        if missing:
            own.setdefault(part.name, f"{missing}: was not checked on this part")
    return {n: own.get(n) or by_assembly.get(n) or by_job or None for n in (p.name for p in known)}


def _wide(finding: Finding, named: frozenset[str], places: Mapping[str, frozenset[str]]) -> tuple[str, ...] | None:
    """Assemblies that a holding finding holds whole; None for the whole job."""
    if finding.holds == "job":
        return None
    if finding.holds == "part" and named:
        return ()
    if finding.assembly in places:
        return (str(finding.assembly),)
    around = tuple(name for name, inside in places.items() if named & inside)
    if around:
        return around
    return () if named else None


def _not_looked_at(part: Part, findings: Iterable[Finding], places: Mapping[str, frozenset[str]]) -> str:
    """The first claim the part needs that no finding says anything about; empty when all are."""
    looked = {f.code for f in findings if f.level is not Level.NOT_CHECKED and _concerns(f, part.name, places)}
    return next((code for code in part.needs if code not in looked), "")


def _concerns(finding: Finding, name: str, places: Mapping[str, frozenset[str]]) -> bool:
    if finding.parts:
        return name in finding.parts
    return finding.assembly is None or name in places.get(finding.assembly, frozenset())


def held_only(verdicts: Mapping[str, str | None]) -> dict[str, str]:
    """The held parts and their reasons."""
    return {name: reason for name, reason in verdicts.items() if reason is not None}

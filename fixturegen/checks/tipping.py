"""TCH-01: what can fall between the slats or tip into the torch's way is named."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.plate.tipping import Tipping, tipping
from fixturegen.units import as_inch

RULE = (
    "equilibrium on parallel slats, derived: a piece shorter than the pitch every way may fall through, "
    "one with less than the pitch from its middle to an edge may tip"
)
LOOK = "stay at the table while it runs"
SLUGS = (
    f"{LOOK}: stop and take a slug out that stands up, or leave a 1/16 in tab on the larger ones and snap them off; "
    "openings come before the outside, so the plate still lies still while they are cut"
)
PARTS = f"cut them last on their sheet and lift them off before the torch comes back, or leave a 1/16 in tab; {LOOK}"


def _size(t: Tipping) -> str:
    return f"{as_inch(t.length, 16).split(' (')[0]} long, {as_inch(t.least, 16).split(' (')[0]} wide"


@claim("TCH-01", "no cut-out and no part can tip into the torch's way", holds="nothing", needed=False)
def check_tipping(claim: Claim, job: Job) -> list[Finding]:
    """Cut-outs and parts that can fall or tip on slats of the pitch on the sheet, each kind in one finding."""
    process = job.sheet.process
    flat = [p for p in job.parts.values() if p.profile is not None]
    if not flat:
        return []
    pitch = float(process.slat_pitch)
    named = {p.name: tipping(p, pitch, float(process.kerf)) for p in flat}
    found = []
    for what, remedy in (("cut-outs", SLUGS), ("parts", PARTS)):
        loose = {
            name: tuple(t for t in pieces if (t.piece == "part") is (what == "parts")) for name, pieces in named.items()
        }
        found += _told(claim, job, what, remedy, {name: pieces for name, pieces in loose.items() if pieces})
    if not found:
        words = f"no cut-out and no part is small enough to fall or tip on slats {process.slat_pitch.text} apart"
        found.append(claim.finding(Level.PASS, words, limit=pitch, unit="mm", source=RULE))
    return found


def _told(claim: Claim, job: Job, what: str, remedy: str, loose: dict[str, tuple[Tipping, ...]]) -> list[Finding]:
    if not loose:
        return []
    tips = [f"{_name(n, t)} ({_size(t)})" for n, pieces in loose.items() for t in pieces if t.way == "tips"]
    falls = [_name(n, t) for n, pieces in loose.items() for t in pieces if t.way == "falls"]
    words = []
    if tips:
        words.append(f"{len(tips)} of the {what} can tip: {', '.join(tips)}")
    if falls:
        shown = falls if what == "parts" else _counted(falls)
        words.append(f"{len(falls)} of the {what} can fall between the slats or hang on one: {', '.join(shown)}")
    pitch = job.sheet.process.slat_pitch
    return [
        claim.finding(
            Level.WARN,
            f"on slats {pitch.text} apart {'; '.join(words)}",
            remedy=remedy,
            parts=tuple(loose),
            frame="P",
            limit=float(pitch),
            unit="mm",
            source=RULE,
            data={n: [(t.piece, t.way) for t in pieces] for n, pieces in loose.items()},
        )
    ]


def _name(part: str, t: Tipping) -> str:
    return part if t.piece == "part" else f"{part} {t.piece}"


def _counted(names: list[str]) -> list[str]:
    """Small slugs by their part, since there are many and none is worth a line."""
    parts = [n.split(" ", 1)[0] for n in names]
    return [f"{parts.count(p)} of {p}" for p in dict.fromkeys(parts)]

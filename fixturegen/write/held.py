"""What stands in the place of a held part's files: the reason, and a picture marked HELD."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.findings import Finding
from fixturegen.plate import Part


def held_text(part: Part, reason: str, findings: Iterable[Finding]) -> bytes:
    """Why a part is held and what would release it, as UTF-8 text.

    Args:
        part: The held part.
        reason: The reason of the release rule.
        findings: Every finding; those that hold and name the part are told in full.
    """
    lines = [f"HELD: {part.label} ({part.name})", "", "Do not make this part.", f"Reason: {reason}", ""]
    for f in findings:
        if f.holding and part.name in f.parts:
            lines.append(f"{f.code}  {f.claim}")
            lines.append(f"  {f.words}")
            if f.remedy:
                lines.append(f"  Do: {f.remedy}")
    return ("\n".join(lines).rstrip("\n") + "\n").encode("utf-8")


def list_text(what: str, findings: Iterable[Finding]) -> bytes:
    """Why a list is not handed out, as UTF-8 text.

    Args:
        what: Which list.
        findings: What holds it.
    """
    lines = [f"HELD: {what}", "", "Do not work from an older one.", ""]
    for f in findings:
        lines += [f"{f.code}  {f.claim}", f"  {f.words}", f"  Do: {f.remedy}"]
    return ("\n".join(lines) + "\n").encode("utf-8")


def marked_held(svg: str) -> bytes:
    """A picture of the part with HELD written across it, as UTF-8 SVG."""
    stamp = (
        '<text x="210" y="300" text-anchor="middle" font-family="sans-serif" font-weight="bold" '
        'font-size="72" fill="#c00" fill-opacity="0.75">HELD</text>'
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="420" height="600">'
        f'<rect width="100%" height="100%" fill="#fff"/>{svg}{stamp}</svg>\n'
    ).encode()

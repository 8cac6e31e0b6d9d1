"""Which papers a build made: those for the bench one by one, all others by what they are."""

from __future__ import annotations

from collections.abc import Sequence

from fixturegen.papers.report import Section, Table

Paper = tuple[str, str, int | None]
"""Path in the job folder, what it is in words, pages of a PDF."""
NOTES = (
    "Print at 100 %, never fit to page, and measure both bars of a page that is laid on steel, 4.000 in and 100 mm, "
    "before it is used.",
    "The sheets for the bench first, in the order of the work; drawings and templates as they are needed. They stand "
    "in the folder papers beside this page.",
)
ALONE = ("bench/", "drawings/assembly-")
REST = (("drawings/", "drawings, one a part"), ("templates/", "templates 1:1, one a blank, place or tube end"))


def paper_sections(papers: Sequence[Paper]) -> tuple[Section, ...]:
    """The section of what is printed; none where nothing is.

    Args:
        papers: Of the build, in any order; files without pages are drawings of the same for a screen or the torch.
    """
    printed = [(path.removeprefix("papers/"), title, pages) for path, title, pages in papers if pages]
    if not printed:
        return ()
    alone = [p for start in ALONE for p in printed if p[0].startswith(start)]
    rows = [(title[:1].upper() + title[1:], f"papers/{path}", str(pages)) for path, title, pages in alone]
    for start, words in REST:
        counts = [p[2] for p in printed if p[0].startswith(start) and p not in alone]
        if counts:
            rows.append((f"{len(counts)} {words}", f"papers/{start}", str(sum(counts))))
    rows.append(("all together", "", str(sum(p[2] for p in printed))))
    table = Table("What there is to print", "", ("paper", "file or folder", "pages"), tuple(rows), right=(2,))
    return (Section("Paper", NOTES, (), (table,), ()),)

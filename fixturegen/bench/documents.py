"""The bench sheets of a job: one PDF for each station of the work, in the order of the work."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable

from fixturegen import bench
from fixturegen.bench.layout import station_pdf
from fixturegen.bench.records import Station
from fixturegen.pages.documents import Contents, Document, Proof

SUFFIX = "_station"
TELLS_FINDINGS = True  # see `pages.documents.tells_findings`


def stations(contents: Contents) -> list[Station]:
    """Every station this job has, in the order of the work; found by their files."""
    found: list[tuple[int, Callable[[Contents], Station | None]]] = []
    for module in pkgutil.iter_modules(bench.__path__):
        if module.name.endswith(SUFFIX):
            loaded = importlib.import_module(f"fixturegen.bench.{module.name}")
            found.append((loaded.ORDER, loaded.station))
    made = (maker(contents) for _, maker in sorted(found, key=lambda f: f[0]))
    return [one for one in made if one is not None]


def documents(contents: Contents) -> list[Document]:
    """One sheet for each station."""
    found = stations(contents)
    sheets = []
    for number, one in enumerate(found, 1):
        content, pages = station_pdf(one, f"{number} of {len(found)}", contents.block, contents.paper)
        sheets.append(
            Document(
                f"bench/{one.slug}.pdf",
                f"Bench sheet {number}: {one.title}",
                content,
                one.parts,
                (Proof(scale_bar=False),) * pages,
            )
        )
    return sheets

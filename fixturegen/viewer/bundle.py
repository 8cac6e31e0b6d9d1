"""Script and style of the 3-D page, as they were bundled when the program was installed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "bundle"
MISSING = (
    "the 3-D view is not in this report: its script was not bundled when the program was installed; "
    "install again with pip install, or run python viewer_js/bundling.py in a repository"
)


@dataclass(frozen=True)
class Bundle:
    """Script, what unpacks and starts it in the page, and style sheet, as texts."""

    script: str
    loader: str
    style: str


def bundled(folder: Path = FOLDER) -> Bundle | None:
    """The bundle; None where it was not made.

    Args:
        folder: That the bundle lies in.
    """
    try:
        texts = [(folder / name).read_text(encoding="utf-8") for name in ("viewer.js", "loader.js", "viewer.css")]
    except OSError:
        return None
    return Bundle(*texts)

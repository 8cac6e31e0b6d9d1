"""Hatchling's hook: the bundle of the 3-D view is made before a wheel, or an editable install, is put together."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

sys.path.insert(0, str(Path(__file__).resolve().parent))
import bundling


class BundleHook(BuildHookInterface):
    """Makes the bundle, and tells hatchling to take it along although git ignores it."""

    def dependencies(self) -> list[str]:
        """What pip must bring first."""
        return bundling.requirements()

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the bundle where it does not stand."""
        try:
            files = bundling.bundle(Path(self.root))
        except bundling.BundlingFault as refused:
            sys.exit(f"fixturegen: {refused}")
        build_data["artifacts"] += [f"/{path.relative_to(self.root).as_posix()}" for path in files]

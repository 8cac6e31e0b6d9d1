"""The bundle of the 3-D view: pinned, with its licences, made once, and a plain sentence where it cannot be made."""

import importlib.util
import json
import shutil
from pathlib import Path
from types import ModuleType

import pytest

from fixturegen import view_flow
from fixturegen.viewer import bundle

ROOT = Path(__file__).parents[2]
ABSENT = Path("/nowhere")


def _bundling(home: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("bundling", home / "viewer_js" / "bundling.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def bundling(tmp_path: Path) -> ModuleType:
    """The script in a copy of its folder, without a bundle, on a machine without node."""
    shutil.copytree(
        ROOT / "viewer_js", tmp_path / "viewer_js", ignore=shutil.ignore_patterns("__pycache__", "node_modules")
    )
    return _bundling(tmp_path)


def test_the_lock_pins_every_package_and_names_no_registry() -> None:
    lock = json.loads((ROOT / "viewer_js" / "package-lock.json").read_text("utf-8"))["packages"]
    wanted = json.loads((ROOT / "viewer_js" / "package.json").read_text("utf-8"))
    assert lock[""]["dependencies"] == wanted["dependencies"]
    for name, one in lock.items():
        if name:
            assert one["version"] and one["integrity"].startswith("sha512-") and "resolved" not in one
            assert one["license"] in ("MIT", "BSD-2-Clause", "BSD-3-Clause")
    assert all(lock[f"node_modules/{name}"]["version"] == version for name, version in wanted["dependencies"].items())


def test_the_bundle_stands_as_its_sources_are_and_carries_the_licences() -> None:
    assert _bundling(ROOT).stands(ROOT), "viewer_js was changed: install again, or python viewer_js/bundling.py"
    made = bundle.bundled()
    assert made is not None
    head = made.loader[:4000]
    for words in ("three 0.", "fflate 0.", "Permission is hereby granted, free of charge", "THE SOFTWARE IS PROVIDED"):
        assert words in head
    assert "</script" not in made.loader.lower()
    assert "http" not in made.style


def test_a_changed_source_asks_for_a_new_bundle(bundling: ModuleType, tmp_path: Path) -> None:
    folder = tmp_path / bundling.TARGET
    folder.mkdir(parents=True)
    for name in bundling.FILES:
        (folder / name).write_text("x", "utf-8")
    (folder / bundling.DIGEST).write_text(bundling.digest(), "utf-8")
    assert bundling.stands(tmp_path)
    with (tmp_path / "viewer_js" / "src" / "words.js").open("a", encoding="utf-8") as source:
        source.write("\n")
    assert not bundling.stands(tmp_path)


def test_without_node_the_package_that_carries_it_is_asked_for(
    bundling: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundling.shutil, "which", lambda name: None)
    monkeypatch.setattr(bundling, "find_spec", lambda name: None)
    assert bundling.requirements() == [bundling.NODE_PACKAGE]
    with pytest.raises(bundling.BundlingFault, match="neither node with npm on PATH nor the package"):
        bundling.bundle(tmp_path)


def test_a_registry_that_is_not_reached_is_said_in_one_sentence(
    bundling: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    npm = tmp_path / "npm"
    npm.write_text("#!/bin/sh\necho 'npm error network' >&2\nexit 1\n", "utf-8")
    npm.chmod(0o755)
    monkeypatch.setattr(bundling, "_tools", lambda: (npm, [str(npm)]))
    with pytest.raises(bundling.BundlingFault, match=r"^npm cannot fetch .*\?\): npm error network$"):
        bundling.bundle(tmp_path)
    assert not (tmp_path / bundling.TARGET).exists()


def test_a_missing_bundle_is_told_and_the_report_stands_without_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert bundle.bundled(ABSENT) is None
    assert view_flow.told() == ()
    monkeypatch.setattr(view_flow, "bundled", lambda: None)
    assert view_flow.told() == (bundle.MISSING,)

"""The two-places rule, with faults injected at every step of a build."""

import errno
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fixturegen.errors import InputFault, MachineFault
from fixturegen.write import folder


def build(out: Path, text: str) -> None:
    with folder.staged(out) as part:
        (part / "summary.json").write_text(text)


def content(out: Path) -> str:
    return (out / "summary.json").read_text()


@pytest.fixture
def out(tmp_path: Path) -> Path:
    place = tmp_path / "job"
    build(place, "earlier")
    return place


def left_beside(out: Path) -> set[str]:
    return {p.name for p in out.parent.iterdir()} - {out.name, out.name + ".lock"}


def test_a_first_build_makes_the_folder_with_its_marker(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "job"
    build(out, "first")
    assert content(out) == "first"
    assert folder.is_ours(out)
    assert left_beside(out) == set()


def test_a_second_build_replaces_the_folder_whole(out: Path) -> None:
    (out / "stale.dxf").write_text("from the build before")
    build(out, "later")
    assert content(out) == "later"
    assert not (out / "stale.dxf").exists()
    assert left_beside(out) == set()


def test_an_empty_folder_may_be_used(tmp_path: Path) -> None:
    (tmp_path / "job").mkdir()
    build(tmp_path / "job", "new")
    assert content(tmp_path / "job") == "new"


@pytest.mark.parametrize("suffix", ["", ".part", ".old"])
def test_a_folder_with_other_files_is_refused_and_left_alone(tmp_path: Path, suffix: str) -> None:
    theirs = tmp_path / f"job{suffix}"
    theirs.mkdir()
    (theirs / "photo.jpg").write_text("mine")
    with pytest.raises(InputFault, match="--out"):
        build(tmp_path / "job", "new")
    assert (theirs / "photo.jpg").read_text() == "mine"
    assert suffix == "" or not (tmp_path / "job").exists()


def test_a_file_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "job").write_text("a file")
    with pytest.raises(InputFault, match="in the way"):
        build(tmp_path / "job", "new")
    assert (tmp_path / "job").read_text() == "a file"


def test_the_root_folder_is_refused() -> None:
    with pytest.raises(InputFault, match="--out"):
        build(Path(os.sep).resolve(), "new")


@pytest.mark.parametrize(
    "stop",
    [
        KeyboardInterrupt(),
        OSError(errno.ENOSPC, "No space left on device"),
        RuntimeError("a bug"),
        MachineFault("x", "y", "z"),
    ],
    ids=["interrupted", "disk full", "program fault", "machine fault"],
)
def test_whatever_stops_a_build_in_the_middle_leaves_the_earlier_folder(out: Path, stop: BaseException) -> None:
    expected = MachineFault if isinstance(stop, OSError) else type(stop)
    with pytest.raises(expected), folder.staged(out) as part:
        (part / "summary.json").write_text("half")
        raise stop
    assert content(out) == "earlier"
    assert left_beside(out) == set()


def test_a_full_disk_is_said_in_one_sentence(out: Path) -> None:
    with pytest.raises(MachineFault) as caught, folder.staged(out):
        raise OSError(errno.ENOSPC, "No space left on device", "job.part/cut")
    assert str(caught.value) == (
        "job.part/cut: given no space left on device; the earlier result is as it was; make room or give another --out."
    )


@pytest.mark.parametrize("which", [0, 1], ids=["first rename", "second rename"])
@pytest.mark.parametrize("stop", [PermissionError(errno.EACCES, "Permission denied"), KeyboardInterrupt()])
def test_a_stop_at_a_rename_leaves_the_earlier_folder(
    out: Path, monkeypatch: pytest.MonkeyPatch, which: int, stop: BaseException
) -> None:
    real, calls = os.replace, []

    def replace(source: Path, target: Path) -> None:
        calls.append(source)
        if len(calls) == which + 1:
            raise stop
        real(source, target)

    monkeypatch.setattr(os, "replace", replace)
    refused = isinstance(stop, OSError)
    with pytest.raises(MachineFault if refused else KeyboardInterrupt) as caught:
        build(out, "later")
    monkeypatch.undo()
    assert content(out) == "earlier"
    if refused:
        assert "complete in job.part" in str(caught.value)
        assert content(folder.beside(out, ".part")) == "later"
        build(out, "third")
        assert content(out) == "third"
    assert left_beside(out) == set()


def test_a_stop_between_the_renames_is_mended_at_the_next_start(out: Path) -> None:
    out.rename(folder.beside(out, ".old"))
    with pytest.raises(RuntimeError), folder.staged(out):
        assert content(out) == "earlier"
        raise RuntimeError("stop before the swap")
    assert content(out) == "earlier"
    assert left_beside(out) == set()


def test_a_leftover_of_a_finished_swap_is_deleted_at_the_next_start(out: Path) -> None:
    shutil.copytree(out, folder.beside(out, ".old"))
    build(out, "later")
    assert left_beside(out) == set()


def test_a_leftover_part_of_a_killed_build_is_no_hindrance(out: Path) -> None:
    shutil.copytree(out, folder.beside(out, ".part"))
    build(out, "later")
    assert content(out) == "later"
    assert left_beside(out) == set()


HOLDER = """
import sys, pathlib
from fixturegen.write import folder
with folder.staged(pathlib.Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
    raise SystemExit(0)
"""


def test_a_folder_in_use_by_another_build_is_refused(out: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(out)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as other:  # fmt: skip
        assert other.stdout is not None
        assert other.stdout.readline().strip() == "held"
        with pytest.raises(MachineFault, match="another build is writing this folder"):
            build(out, "mine")
        assert content(out) == "earlier"
        other.communicate("")
    build(out, "mine")
    assert content(out) == "mine"


def test_a_build_killed_outright_frees_its_lock(out: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(out)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as other:  # fmt: skip
        assert other.stdout is not None
        other.stdout.readline()
        other.kill()
        other.wait()
    deadline = time.monotonic() + 5
    while True:
        try:
            build(out, "after")
            break
        except MachineFault:
            if time.monotonic() > deadline:
                raise
    assert content(out) == "after"
    assert left_beside(out) == set()


def test_a_parent_that_is_a_file_is_a_refusal_of_the_machine(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(MachineFault, match="--out where you may write"):
        build(tmp_path / "file" / "job", "new")


@pytest.mark.skipif(os.name == "nt", reason="folder rights work otherwise there")
def test_an_unwritable_place_is_a_refusal_of_the_machine(tmp_path: Path) -> None:
    root = os.geteuid() == 0
    place = Path("/sys") if root else tmp_path  # nobody may make folders there, root may anywhere else
    if not root:
        tmp_path.chmod(0o500)
    try:
        with pytest.raises(MachineFault, match="--out where you may write"):
            build(place / "fixturegen-job", "new")
    finally:
        tmp_path.chmod(0o700)


def test_a_place_that_refuses_to_be_written_is_a_refusal_of_the_machine(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, *args: object, **kwargs: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(MachineFault, match="permission denied"):
        build(out, "new")
    monkeypatch.undo()
    assert content(out) == "earlier"

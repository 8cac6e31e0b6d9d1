"""The second process: it works ahead, dies without harm, and never outlives its parent."""

import errno
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fixturegen import aside, keeping, pipeline
from fixturegen.write import staging
from tests.few_brackets import jig_alone

EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-dropout.toml"
posix = pytest.mark.skipif(os.name == "nt", reason="signals and process tables of POSIX")


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(aside, "cores", lambda: 2)


def there(pid: int) -> bool:
    """Whether a process lives; one that ended and waits for its parent counts as gone."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not (state.exists() and state.read_text().rsplit(")", 1)[1].split()[0] == "Z")


def gone(pid: int, within: float = 20.0) -> bool:
    end = time.monotonic() + within
    while there(pid) and time.monotonic() < end:
        time.sleep(0.02)
    return not there(pid)


def test_tasks_are_done_in_order_and_what_they_print_is_no_answer(tmp_path: Path) -> None:
    with aside.second_process() as second:
        second.give(Path.write_text, tmp_path / "a", "x" * 3_000_000)
        second.give(print, "...................")
        second.give(shutil.copy, tmp_path / "a", tmp_path / "b")
        assert second.wait(3)
        assert (tmp_path / "b").stat().st_size == 3_000_000
    assert second.told == ()


def test_one_core_and_a_refusal_by_the_system_start_none(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EAGAIN, "no more processes")

    monkeypatch.setattr(subprocess, "Popen", refuse)
    with aside.second_process() as second:
        second.give(print, "nobody hears this")
        assert second.process_id is None and not second.wait(1) and second.told == ()
    monkeypatch.setattr(aside, "cores", lambda: 1)
    monkeypatch.setattr(subprocess, "Popen", lambda *_, **__: pytest.fail("started with one core"))
    with aside.second_process() as second:
        assert second.process_id is None


@posix
@pytest.mark.parametrize("task", [(os._exit, 3), (os.abort,), (int, "no number")], ids=["ends", "crashes", "fails"])
def test_a_task_that_ends_the_process_is_told_and_waited_for_no_longer(task: tuple[object, ...]) -> None:
    with aside.second_process() as second:
        second.give(*task)  # type: ignore[arg-type]
        assert not second.wait(1)
        assert second.told == (aside.LOST,)
        second.give(print, "nobody hears this")
        assert not second.wait(2)


@posix
def test_it_is_ended_in_the_middle_of_a_task_when_the_block_ends() -> None:
    with pytest.raises(KeyboardInterrupt), aside.second_process() as second:
        second.give(time.sleep, 600)
        raise KeyboardInterrupt
    assert second.process_id is None


PARENT = """
import time
from fixturegen import aside
aside.cores = lambda: 2
with aside.second_process() as second:
    second.give(time.sleep, 600)
    print(second.process_id, flush=True)
    time.sleep(600)
"""


@posix
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT, signal.SIGTERM])
def test_it_ends_with_its_parent_however_that_ends(how: signal.Signals) -> None:
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1])}
    started = subprocess.Popen(
        [sys.executable, "-c", PARENT], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=env
    )
    with started:
        assert started.stdout is not None
        second = int(started.stdout.readline())
        assert there(second)
        started.send_signal(how)
        started.wait()
    assert gone(second)


@posix
def test_the_command_interrupted_from_the_terminal_ends_with_130_and_leaves_nothing(tmp_path: Path) -> None:
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1]), "XDG_CACHE_HOME": str(tmp_path / "cache")}
    sheet = shutil.copy(EXAMPLE, tmp_path)
    script = "from fixturegen import aside; aside.cores = lambda: 2; from fixturegen.cli.main import entry; entry()"
    started = subprocess.Popen(
        [sys.executable, "-c", script, "build", str(sheet), "--out", "job"],
        cwd=tmp_path, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True, text=True,
    )  # fmt: skip
    end = time.monotonic() + 120.0
    while not (tmp_path / "job.part").exists() and time.monotonic() < end:
        time.sleep(0.05)
    os.killpg(started.pid, signal.SIGINT)  # as a terminal does: the whole group of the foreground
    _, said = started.communicate()
    assert started.returncode == 130
    assert said.strip() == "Interrupted; nothing was changed."
    assert {p.name for p in tmp_path.iterdir()} <= {"cache", "job.lock", Path(sheet).name}


def files(out: Path) -> dict[str, bytes]:
    return {p.relative_to(out).as_posix(): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}


def test_a_build_takes_from_it_and_gives_the_same_bytes_when_it_is_killed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = tmp_path / "job.toml"
    sheet.write_text(jig_alone(EXAMPLE.read_text("utf-8")), encoding="utf-8")
    out = tmp_path / "out"
    seen: dict[str, list[str]] = {}

    def built(name: str, kill: bool) -> tuple[str, ...]:
        """One build with a cache of its own; which kinds of result were made here is written down."""
        made = seen[name] = []
        real_kept, real_write = keeping.kept, staging.write_parts

        def kept(kind: str, key: str, make: object) -> bytes:
            def counted() -> bytes:
                made.append(kind)
                return make()  # type: ignore[operator,no-any-return]

            return real_kept(kind, key, counted)

        def write_parts(*given: object) -> object:
            if kill:
                for process in children:
                    process.kill()
            return real_write(*given)  # type: ignore[arg-type]

        children: list[subprocess.Popen[bytes]] = []
        real_started = aside._started

        def started() -> object:
            process = real_started()
            if process is not None:
                children.append(process)
            return process

        with monkeypatch.context() as patch, keeping.cache_in(tmp_path / name):
            patch.setattr(keeping, "kept", kept)
            patch.setattr(staging, "write_parts", write_parts)
            patch.setattr(aside, "_started", started)
            outcome = pipeline.build(sheet, out)
        assert len(children) == 1
        assert all(process.poll() is not None for process in children)
        return outcome.warnings

    assert not any(aside.LOST in w for w in built("with", kill=False))
    with_it = files(out)
    assert "picture" not in seen["with"], "the second process made none of the pictures"
    assert aside.LOST in built("killed", kill=True)
    assert files(out) == with_it
    assert "picture" in seen["killed"]


def test_a_check_and_a_build_that_keeps_nothing_start_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(aside, "_started", lambda: pytest.fail("a second process was started"))
    sheet = Path(shutil.copy(EXAMPLE, tmp_path / "job.toml"))
    pipeline.check(sheet, sheet_only=True)
    monkeypatch.setattr(pipeline, "_built", lambda path, *_: pipeline.check(path, sheet_only=True))
    with keeping.cache_used(False):
        pipeline.build(sheet, tmp_path / "out")

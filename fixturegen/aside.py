"""A second process that does work ahead of time, and never decides what comes out.

Whoever asks keeps the work in the cache of results (`keeping`); the one who needs it asks there and
does it anew when it is missing. So a second process that dies, or is never started, costs time and
nothing else. It is a fresh interpreter that reads tasks from its standard input and ends when that
ends: with its parent, however the parent ends. Only what this program wrote itself goes through it.
"""

from __future__ import annotations

import logging
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from queue import SimpleQueue
from threading import Condition, Thread
from typing import IO, TYPE_CHECKING, Any

from fixturegen.runtime import look_seldom

if TYPE_CHECKING:
    import subprocess

# the folders first: the one it is started in is not among them, whatever lies there
_START = "import sys; sys.path[:] = {paths!r}; from fixturegen.aside import serve; serve()"
HEAD = 8  # [byte] that say how long a task is
ROOM = 1 << 20  # [byte] of a task that is taken while the other side is busy, where the system lets one choose
PATIENCE = 0.5  # [s] after which one who waits looks up
LOST = "the second process, which works ahead, ended early; its work was done again here and took longer"

_log = logging.getLogger(__name__)


class Aside:
    """A process that works through tasks in the order given; `wait` says how far it came."""

    def __init__(self, process: subprocess.Popen[bytes] | None) -> None:
        self._process = process
        self._done, self._over = 0, False
        self._news = Condition()
        self.told: tuple[str, ...] = ()
        if process is not None and process.stdout is not None:
            Thread(target=self._count, args=(process.stdout,), daemon=True).start()

    @property
    def process_id(self) -> int | None:
        """The id of the process; None when there is none."""
        return None if self._process is None else self._process.pid

    def give(self, task: Callable[..., object], *arguments: object) -> None:
        """Nothing; without a process nothing is done.

        Args:
            task: A function of a module; what it returns is dropped. Of a generator function each
                thing it yields is a step done.
            arguments: Records that can be pickled.
        """
        if self._process is None or self._process.stdin is None:
            return
        body = pickle.dumps((task, arguments))
        try:
            self._process.stdin.write(len(body).to_bytes(HEAD, "little") + body)
            self._process.stdin.flush()
        except OSError:
            self._lose()

    def reached(self, steps: int) -> bool:
        """Whether that many steps of all that was given are done by now."""
        with self._news:
            return self._done >= steps

    def wait(self, steps: int) -> bool:
        """Whether that many steps of all that was given are done; they are waited for."""
        if self._process is None:
            return self.reached(steps)
        with self._news:
            # not without end: some systems hold an interrupt back while a lock is waited for
            while not (self._over or self._done >= steps):
                self._news.wait(PATIENCE)
            reached = self._done >= steps
        if not reached:
            self._lose()
        return reached

    def _count(self, answers: IO[bytes]) -> None:
        """Count the steps that are told, until the process ends."""
        with suppress(OSError, ValueError):  # the stream is closed when the process is ended from here
            while answers.read(1):
                with self._news:
                    self._done += 1
                    self._news.notify_all()
        with self._news:
            self._over = True
            self._news.notify_all()

    def end(self) -> None:
        """End the process at once; what it had not kept by then is lost."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        for stream in (process.stdin, process.stdout):
            with suppress(OSError):
                if stream is not None:
                    stream.close()
        process.wait()

    def _lose(self) -> None:
        self.end()
        self.told = (LOST,)


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def second_process(use: bool = True) -> Iterator[Aside]:
    """A second process until the block ends, however it ends; none with one core only.

    Args:
        use: Whether it is started at all.
    """
    aside = Aside(_started() if use and cores() > 1 and sys.executable else None)
    try:
        yield aside
    finally:
        aside.end()


def _started() -> subprocess.Popen[bytes] | None:
    import subprocess  # a command that starts none need not load it

    # an interrupt typed at the terminal goes to the parent alone, which then ends this one
    apart: dict[str, Any] = (
        {"creationflags": getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0)}
        if os.name == "nt"
        else {"process_group": 0}
    )
    paths = [os.path.abspath(p) for p in sys.path]  # noqa: PTH100 - '' stands for the current folder
    try:
        return subprocess.Popen(
            [sys.executable, "-c", _START.format(paths=paths)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            pipesize=ROOM,
            **apart,
        )
    except OSError as fault:
        _log.info("no second process: %s", fault)
        return None


def serve() -> None:
    """Work through tasks from standard input until it ends; the loop of the second process."""
    look_seldom()
    with os.fdopen(os.dup(1), "wb", buffering=0) as answers:
        # what a library prints must not be taken for an answer
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        tasks: SimpleQueue[bytes] = SimpleQueue()
        Thread(target=_listen, args=(sys.stdin.buffer, tasks), daemon=True).start()
        while True:
            for _ in _steps(tasks.get()):
                answers.write(b".")


def _steps(task: bytes) -> Iterator[None]:
    """One for each step done. A task that fails ends this process: its parent does the work and meets the fault."""
    function, arguments = pickle.loads(task)  # noqa: S301 - written by the process that started this one
    found = function(*arguments)
    if isinstance(found, Iterator):
        for _ in found:
            yield
    else:
        yield


def _listen(stream: IO[bytes], tasks: SimpleQueue[bytes]) -> None:
    """Pass tasks on; when the parent is gone, so is this process, in the middle of a task or not."""
    with suppress(OSError):
        while head := stream.read(HEAD):
            tasks.put(stream.read(int.from_bytes(head, "little")))
    os._exit(0)

"""A browser for tests: Chromium without a screen, spoken to through two pipes by its own protocol.

No port, no driver program and no library: one process that ends with the test. Debian's package is `chromium`.
"""

import base64
import json
import os
import select
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser")
PATIENCE = 60.0  # s; software drawing on a busy machine
ALWAYS = (
    "--headless", "--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-extensions", "--mute-audio", "--hide-scrollbars",
    # whatever is asked for beside the file goes nowhere
    "--host-resolver-rules=MAP * ~NOTFOUND",
)  # fmt: skip
DRAWING = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
NO_WEBGL = ("--disable-gpu", "--disable-3d-apis")

# the browser reads from 3 and writes to 4; copies first, since one of the two may have such a number already
START = """
import os, sys
read, write = (os.dup(int(n)) for n in sys.argv[1:3])
read, write = os.dup(read), os.dup(write)
os.dup2(read, 3), os.dup2(write, 4)
os.execvp(sys.argv[3], sys.argv[3:])
"""


class Page:
    """One tab: what it logged, what it asked for, and hands to use it with."""

    def __init__(self, write: int, read: int) -> None:
        self._write, self._read, self._rest, self._number = write, read, b"", 0
        self._session: str | None = None
        self.logged: list[str] = []
        self.asked: list[str] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """The answer of the browser to one command."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self._number:
                assert "error" not in answer, (method, answer["error"])
                return dict(answer["result"])

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._read], [], [], PATIENCE)
            assert ready, "the browser does not answer"
            piece = os.read(self._read, 1 << 16)
            assert piece, "the browser has ended"
            self._rest += piece
        raw, self._rest = self._rest.split(b"\0", 1)
        answer: dict[str, Any] = json.loads(raw)
        self._note(answer.get("method", ""), answer.get("params", {}))
        return answer

    def _note(self, method: str, told: dict[str, Any]) -> None:
        if method == "Runtime.exceptionThrown":
            self.logged.append("exception: " + json.dumps(told["exceptionDetails"])[:2000])
        elif method == "Runtime.consoleAPICalled" and told["type"] in ("error", "warning", "assert"):
            self.logged.append(f"{told['type']}: {json.dumps(told['args'])[:2000]}")
        elif method == "Log.entryAdded" and told["entry"]["level"] in ("error", "warning"):
            self.logged.append(f"{told['entry']['level']}: {told['entry']['text']}")
        elif method == "Network.requestWillBeSent":
            self.asked.append(told["request"]["url"])

    def open(self, path: Path, until: str) -> None:
        """Open a file and wait until an expression is true in it."""
        self.call("Page.navigate", url=path.resolve().as_uri())
        self.wait(until)

    def run(self, script: str) -> Any:
        """The value of an expression in the page."""
        answer = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in answer, answer["exceptionDetails"]
        return answer["result"].get("value")

    def wait(self, expression: str) -> None:
        """Nothing, as soon as an expression is true."""
        until = time.monotonic() + PATIENCE
        while not self.run(f"Boolean({expression})"):
            assert time.monotonic() < until, f"never true: {expression}"
            time.sleep(0.02)

    def size(self, width: int, height: int, *, phone: bool = False, scale: float = 1.0) -> None:
        """Make the window so large [px]; a phone has a touch screen."""
        self.call(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=scale, mobile=phone
        )
        self.call("Emulation.setTouchEmulationEnabled", enabled=phone)

    def key(self, key: str, modifiers: int = 0) -> None:
        """Press and let go of a key by its name; modifiers 8 is Shift."""
        text = {"text": key} if len(key) == 1 else {"text": "\r"} if key == "Enter" else {}
        codes = {"Tab": 9, "Enter": 13, "Escape": 27, "ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40}
        code = {"windowsVirtualKeyCode": codes[key]} if key in codes else {}
        self.call("Input.dispatchKeyEvent", type="keyDown", key=key, modifiers=modifiers, **text, **code)
        self.call("Input.dispatchKeyEvent", type="keyUp", key=key, modifiers=modifiers, **code)

    def click(self, x: float, y: float) -> None:
        """Click with the left button at a place of the window [px]."""
        for kind in ("mousePressed", "mouseReleased"):
            self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def touch(self, *steps: list[tuple[float, float]]) -> None:
        """Put fingers down at the places of the first step, move them along, lift them."""
        for kind, points in [("touchStart", steps[0]), *(("touchMove", s) for s in steps[1:]), ("touchEnd", [])]:
            self.call("Input.dispatchTouchEvent", type=kind, touchPoints=[{"x": x, "y": y} for x, y in points])

    def picture(self, *, whole: bool = False) -> bytes:
        """A PNG of the window, or of the whole page."""
        return base64.b64decode(self.call("Page.captureScreenshot", format="png", captureBeyondViewport=whole)["data"])

    def press(self, selector: str) -> None:
        """Click an element by its selector, as a finger or a key would."""
        self.run(f"document.querySelector({json.dumps(selector)}).click()")


@contextmanager
def browser(*more: str) -> Iterator[Page]:
    """A tab of a fresh browser; `more` are its own options (`DRAWING`, `NO_WEBGL`)."""
    program = os.environ.get("FIXTUREGEN_BROWSER") or next(filter(None, map(shutil.which, NAMES)), None)
    assert program, "no browser: install Debian's package chromium, or name one in FIXTUREGEN_BROWSER"
    home = tempfile.mkdtemp(prefix="fixturegen-browser-")
    (to_read, write), (read, to_write) = os.pipe(), os.pipe()
    command = [program, *ALWAYS, *more, f"--user-data-dir={home}", "--remote-debugging-pipe", "about:blank"]
    process = subprocess.Popen(
        [sys.executable, "-c", START, str(to_read), str(to_write), *command],
        pass_fds=(to_read, to_write), stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        start_new_session=True,
    )  # fmt: skip
    os.close(to_read)
    os.close(to_write)
    try:
        yield Page(write, read)
    finally:
        os.close(write)
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        os.close(read)
        shutil.rmtree(home, ignore_errors=True)

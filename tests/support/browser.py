"""Drives a headless Chromium by its DevTools protocol over two pipes; needs no library.

A page is looked at as a person would: clicks, keys, sizes, screenshots, printing. What it
writes to its console and every request it makes are kept.
"""

import base64
import contextlib
import json
import os
import select
import shutil
import signal
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
PATIENCE = 60.0
"""Seconds an answer may take: software drawing on a busy machine is slow."""

FLAGS = (
    "--headless=new", "--no-sandbox", "--remote-debugging-pipe", "--no-first-run",
    "--disable-extensions", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--disable-dev-shm-usage", "--hide-scrollbars", "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist",
)  # fmt: skip


def found() -> str | None:
    """The browser's path, or None where there is none (or no pipes to drive it by)."""
    if not hasattr(os, "posix_spawn"):
        return None
    return next((path for path in map(shutil.which, NAMES) if path), None)


class BrowserError(Exception):
    """The browser refused a command, or did not answer."""


class Page:
    """One page. `console` holds errors and warnings, `requests` every address asked for."""

    def __init__(self, writer: int, reader: int) -> None:
        self._writer, self._reader, self._buffer = writer, reader, b""
        self._last = 0
        self._session: str | None = None
        self.console: list[str] = []
        self.requests: list[str] = []
        self._events: list[str] = []
        target = self._ask("Target.createTarget", url="about:blank")["targetId"]
        answer = self._ask("Target.attachToTarget", targetId=target, flatten=True)
        self._session = answer["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self._ask(f"{domain}.enable")

    def open(self, address: str) -> None:
        """Opens an address and waits until it has loaded."""
        self.requests.clear()
        self.console.clear()
        self._events.clear()
        self._ask("Page.navigate", url=address)
        self.until(lambda: "Page.loadEventFired" in self._events)

    def size(self, width: int, height: int, *, dense: float = 1.0, phone: bool = False) -> None:
        """The size of the window, in CSS pixels."""
        self._ask("Emulation.setDeviceMetricsOverride", width=width, height=height,
                  deviceScaleFactor=dense, mobile=phone)  # fmt: skip

    def prefers(self, medium: str = "", **features: str) -> None:
        """The medium, such as print, and features, such as prefers_color_scheme='dark'."""
        told = [{"name": k.replace("_", "-"), "value": v} for k, v in features.items()]
        self._ask("Emulation.setEmulatedMedia", media=medium, features=told)

    def scripting(self, on: bool) -> None:
        """Whether pages opened from now on may run scripts."""
        self._ask("Emulation.setScriptExecutionDisabled", value=not on)

    @contextlib.contextmanager
    def before(self, script: str) -> Iterator[None]:
        """A script that each page opened meanwhile runs before its own."""
        told = self._ask("Page.addScriptToEvaluateOnNewDocument", source=script)
        yield
        self._ask("Page.removeScriptToEvaluateOnNewDocument", identifier=told["identifier"])

    def run(self, expression: str) -> Any:
        """The value of a JavaScript expression; a promise is waited for."""
        told = self._ask(
            "Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True
        )
        if "exceptionDetails" in told:
            raise BrowserError(json.dumps(told["exceptionDetails"])[:600])
        return told["result"].get("value")

    def click(self, x: float, y: float) -> None:
        """A click of the mouse at a place of the window."""
        for kind in ("mousePressed", "mouseReleased"):
            self._ask("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def touching(self, on: bool) -> None:
        """Whether the screen is one to be touched, by as many fingers as a hand has."""
        self._ask("Emulation.setTouchEmulationEnabled", enabled=on, maxTouchPoints=5)

    def drag(self, *fingers: Sequence[tuple[float, float]]) -> None:
        """Fingers that touch at once, go through their places step by step, and lift.

        Each finger has as many places as the others; one place alone is a tap.
        """
        for i, places in enumerate(zip(*fingers, strict=True)):
            points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(places)]
            kind = "touchMove" if i else "touchStart"
            self._ask("Input.dispatchTouchEvent", type=kind, touchPoints=points)
        self._ask("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    def key(self, key: str, code: int = 0, modifiers: int = 0) -> None:
        """A key pressed and let go."""
        told = {"key": key, "windowsVirtualKeyCode": code, "modifiers": modifiers}
        if len(key) == 1:
            told["text"] = key
        self._ask("Input.dispatchKeyEvent", type="keyDown", **told)
        self._ask("Input.dispatchKeyEvent", type="keyUp", key=key)

    def picture(self, within: Sequence[float] | None = None) -> bytes:
        """What is seen, or what lies within (x, y, width, height) of the page, as PNG."""
        told: dict[str, Any] = {"format": "png"}
        if within is not None:
            box = dict(zip(("x", "y", "width", "height"), within, strict=True))
            # One pixel for each of CSS, however dense the screen.
            told["clip"] = {**box, "scale": 1.0 / self.run("devicePixelRatio")}
        return base64.b64decode(self._ask("Page.captureScreenshot", **told)["data"])

    def printed(self) -> bytes:
        """The page on A4, as PDF."""
        told = self._ask("Page.printToPDF", printBackground=False, paperWidth=8.27,
                         paperHeight=11.69, marginTop=0.5, marginBottom=0.5, marginLeft=0.5,
                         marginRight=0.5)  # fmt: skip
        return base64.b64decode(told["data"])

    def until(self, holds: Any, seconds: float = PATIENCE) -> None:
        """Waits until a function, or an expression on the page, is true."""
        end = time.monotonic() + seconds
        while not (holds() if callable(holds) else self.run(holds)):
            if time.monotonic() > end:
                raise BrowserError(f"never came true: {holds}")
            self._listen(0.05)

    def _ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        self._last += 1
        message: dict[str, Any] = {"id": self._last, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._writer, json.dumps(message).encode() + b"\0")
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            answer = self._listen(1.0, self._last)
            if answer is not None:
                if "error" in answer:
                    raise BrowserError(f"{method}: {answer['error']}")
                return answer["result"]
        raise BrowserError(f"{method} was not answered")

    def _listen(self, seconds: float, wanted: int = 0) -> dict[str, Any] | None:
        """Hears what there is; the answer to `wanted`, if it is among it."""
        if b"\0" not in self._buffer:
            if not select.select([self._reader], [], [], seconds)[0]:
                return None
            got = os.read(self._reader, 1 << 20)
            if not got:
                raise BrowserError("the browser has ended")
            self._buffer += got
        while b"\0" in self._buffer:
            raw, _, self._buffer = self._buffer.partition(b"\0")
            message = json.loads(raw)
            if "id" in message:
                if message["id"] == wanted:
                    return message
            else:
                self._heard(message["method"], message["params"])
        return None

    def _heard(self, method: str, told: dict[str, Any]) -> None:
        self._events.append(method)
        if method == "Network.requestWillBeSent":
            self.requests.append(told["request"]["url"])
        elif method == "Runtime.exceptionThrown":
            self.console.append(json.dumps(told["exceptionDetails"])[:600])
        elif method == "Runtime.consoleAPICalled" and told["type"] in ("error", "warning"):
            self.console.append(json.dumps(told["args"])[:600])
        elif method == "Log.entryAdded" and told["entry"]["level"] in ("error", "warning"):
            self.console.append(told["entry"]["text"])


@contextlib.contextmanager
def browser(folder: Path, *flags: str) -> Iterator[Page]:
    """A page of a browser of its own, whose profile lies in `folder`; ended afterwards."""
    path = found()
    assert path is not None
    to_read, to_write = os.pipe(), os.pipe()
    # High numbers, so that neither is overwritten before it is handed on as 3 and 4.
    child = [os.dup(to_read[0]), os.dup(to_write[1])]
    while min(child) < 10:
        child = [os.dup(end) for end in child]
    quiet = os.open(os.devnull, os.O_RDWR)
    process = os.posix_spawn(
        path,
        [path, *FLAGS, *flags, f"--user-data-dir={folder}", "about:blank"],
        os.environ,
        file_actions=[
            (os.POSIX_SPAWN_DUP2, child[0], 3),
            (os.POSIX_SPAWN_DUP2, child[1], 4),
            (os.POSIX_SPAWN_DUP2, quiet, 1),
            (os.POSIX_SPAWN_DUP2, quiet, 2),
        ],
        setpgroup=0,
    )
    for end in (*child, quiet, to_read[0], to_write[1]):
        os.close(end)
    try:
        yield Page(to_read[1], to_write[0])
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process, signal.SIGKILL)
        os.waitpid(process, 0)
        os.close(to_read[1])
        os.close(to_write[0])

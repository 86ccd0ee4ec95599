"""Drives a Firefox by WebDriver BiDi (a W3C draft) over a WebSocket of our own.

On a screen of Xvfb's where there is one: without a screen, Firefox gives a page no WebGL2.
"""

import base64
import contextlib
import json
import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from websocket import WebSocket

NAMES = ("firefox-esr", "firefox")
PATIENCE = 60.0
"""Seconds an answer may take: software drawing on a busy machine is slow."""

SETTINGS = {
    "browser.aboutwelcome.enabled": False,
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,",
    "toolkit.telemetry.enabled": False,
    "ui.prefersReducedMotion": 1,
    "webgl.force-enabled": True,
}
"""The camera is there at once; nothing is looked up anywhere; pictures are drawn in software."""


def found() -> str | None:
    """The browser's path, or None where there is none."""
    return next((path for path in map(shutil.which, NAMES) if path), None)


class FirefoxError(Exception):
    """The browser refused a command, or did not answer."""


class FirefoxPage:
    """One page. `console` holds errors and warnings, `requests` every address asked for."""

    def __init__(self, socket: WebSocket) -> None:
        self._socket, self._last = socket, 0
        self.console: list[str] = []
        self.requests: list[str] = []
        self._ask("session.new", capabilities={})
        self._context = self._ask("browsingContext.getTree")["contexts"][0]["context"]
        self._ask("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])

    def open(self, address: str) -> None:
        """Opens an address and waits until it has loaded."""
        self.requests.clear()
        self.console.clear()
        self._ask("browsingContext.navigate", context=self._context, url=address, wait="complete")

    def size(self, width: int, height: int) -> None:
        """The size of the window, in CSS pixels."""
        self._ask("browsingContext.setViewport", context=self._context,
                  viewport={"width": width, "height": height})  # fmt: skip

    def run(self, expression: str) -> Any:
        """The value of a JavaScript expression; a promise is waited for."""
        whole = f"(async () => JSON.stringify(await ({expression})))()"
        told = self._ask("script.evaluate", expression=whole, awaitPromise=True,
                         target={"context": self._context})  # fmt: skip
        if told["type"] != "success":
            raise FirefoxError(json.dumps(told)[:600])
        return json.loads(told["result"].get("value", "null"))

    def click(self, x: float, y: float) -> None:
        """A click of the mouse at a place of the window."""
        self._act("pointer", [
            {"type": "pointerMove", "x": round(x), "y": round(y)},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ])  # fmt: skip

    def key(self, key: str) -> None:
        """A key pressed and let go; keys without a sign have one of WebDriver's own."""
        self._act("key", [{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}])

    def picture(self, within: Sequence[float] | None = None) -> bytes:
        """What is seen, or what lies within (x, y, width, height) of the page, as PNG."""
        told: dict[str, Any] = {}
        if within is not None:
            box = dict(zip(("x", "y", "width", "height"), within, strict=True))
            told = {"origin": "document", "clip": {"type": "box", **box}}
        shot = self._ask("browsingContext.captureScreenshot", context=self._context, **told)
        return base64.b64decode(shot["data"])

    def until(self, holds: str, seconds: float = PATIENCE) -> None:
        """Waits until an expression on the page is true."""
        end = time.monotonic() + seconds
        while not self.run(holds):
            if time.monotonic() > end:
                raise FirefoxError(f"never came true: {holds}")
            time.sleep(0.05)

    def _act(self, kind: str, actions: list[dict[str, Any]]) -> None:
        self._ask("input.performActions", context=self._context,
                  actions=[{"type": kind, "id": kind, "actions": actions}])  # fmt: skip

    def _ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        self._last += 1
        self._socket.send({"id": self._last, "method": method, "params": parameters})
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            message = self._socket.receive(1.0)
            if message is None:
                continue
            if message.get("id") == self._last:
                if message["type"] == "error":
                    raise FirefoxError(f"{method}: {message['error']}: {message['message']}")
                answer: dict[str, Any] = message["result"]
                return answer
            if message["type"] == "event":
                self._heard(message["method"], message["params"])
        raise FirefoxError(f"{method} was not answered")

    def _heard(self, method: str, told: dict[str, Any]) -> None:
        if method == "network.beforeRequestSent" and told["context"] == self._context:
            self.requests.append(told["request"]["url"])
        elif method == "log.entryAdded" and told["level"] in ("error", "warn"):
            self.console.append(str(told.get("text")))


@contextlib.contextmanager
def firefox(folder: Path) -> Iterator[FirefoxPage]:
    """A page of a Firefox of its own, whose profile lies in `folder`; ended afterwards."""
    path = found()
    assert path is not None
    folder.mkdir(parents=True, exist_ok=True)
    lines = [f"user_pref({json.dumps(key)}, {json.dumps(value)});" for key, value in
             SETTINGS.items()]  # fmt: skip
    (folder / "user.js").write_text("\n".join(lines), encoding="utf-8", newline="\n")
    with contextlib.ExitStack() as ended:
        screen = ended.enter_context(_screen())
        shown = ["--headless"] if screen is None else []
        told = {**os.environ, "DISPLAY": screen} if screen else None
        process = ended.enter_context(_running(
            [path, *shown, "--no-remote", "--profile", str(folder), "--remote-debugging-port", "0",
             "about:blank"], env=told,
        ))  # fmt: skip
        socket = WebSocket(_port(folder, process), "/session", PATIENCE)
        ended.callback(socket.close)
        yield FirefoxPage(socket)


@contextlib.contextmanager
def _running(command: list[str], **told: Any) -> Iterator[subprocess.Popen[bytes]]:
    """A program with all it starts; ended afterwards."""
    process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL, start_new_session=True,
                               **told)  # fmt: skip
    try:
        yield process
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


@contextlib.contextmanager
def _screen() -> Iterator[str | None]:
    """A display of its own, None where there is no Xvfb; Xvfb takes a number that is free."""
    path = shutil.which("Xvfb")
    if path is None:
        yield None
        return
    reader, writer = os.pipe()
    command = [path, "-displayfd", str(writer), "-screen", "0", "1600x1200x24", "-nolisten", "tcp"]
    with _running(command, pass_fds=(writer,)):
        os.close(writer)
        with os.fdopen(reader, encoding="ascii") as told:
            number = told.readline().strip()
        yield f":{number}" if number else None


def _port(folder: Path, process: subprocess.Popen[bytes]) -> int:
    """Where it listens, which it writes into its profile once it does."""
    told = folder / "WebDriverBiDiServer.json"
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        with contextlib.suppress(FileNotFoundError, json.JSONDecodeError, KeyError):
            return int(json.loads(told.read_text(encoding="utf-8"))["ws_port"])
        time.sleep(0.05)
    raise FirefoxError("Firefox does not listen")

"""A real browser without a window, driven through its DevTools protocol."""

from __future__ import annotations

import base64
import itertools
import json
import os
import shutil
import subprocess
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

import websocket

CHROMIUM = next((path for name in ("chromium", "chromium-browser", "google-chrome")
                 if (path := shutil.which(name))), None)  # fmt: skip

PHONE, DESKTOP = (390, 844), (1280, 900)

#: Whether the card is dark, or fully lit.
GLOW = "Number(getComputedStyle(document.querySelector('.glow')).opacity)"
DARK, LIT = f"{GLOW} === 0", f"{GLOW} === 1"

#: By how much the word on the spot to press is wider than the spot.
OVERFLOW = (
    "(() => { const s = document.querySelector('#press span'), b = s.parentNode;"
    "return s.getBoundingClientRect().width - b.clientWidth; })()"
)


class Browser:
    """One process; `close` ends it."""

    def __init__(self, profile: Path) -> None:
        assert CHROMIUM is not None
        command = [
            CHROMIUM, "--headless=new", "--remote-debugging-port=0", f"--user-data-dir={profile}",
            "--no-first-run", "--disable-gpu", "--disable-dev-shm-usage", "--disable-extensions",
            "--disable-background-networking", "--disable-component-update",
            "--remote-allow-origins=*", "about:blank",
        ]  # fmt: skip
        if os.name == "posix" and os.geteuid() == 0:
            command.insert(1, "--no-sandbox")  # which refuses to run as root
        self._process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        port, way = self._listening(profile / "DevToolsActivePort")
        self._socket = websocket.create_connection(f"ws://127.0.0.1:{port}{way}", timeout=30)
        self._numbers = itertools.count(1)
        self._heard: list[dict[str, Any]] = []

    def _listening(self, told: Path) -> tuple[str, str]:
        end = time.monotonic() + 60.0
        while time.monotonic() < end:
            if self._process.poll() is not None:
                raise RuntimeError(f"the browser ended with {self._process.returncode}")
            lines = told.read_text().split() if told.exists() else []
            if len(lines) == 2:
                return (lines[0], lines[1])
            time.sleep(0.05)
        raise TimeoutError("the browser does not answer")

    def close(self) -> None:
        """End the browser, and wait for its end."""
        with suppress(websocket.WebSocketException, OSError, RuntimeError):
            self.send("Browser.close")
        with suppress(websocket.WebSocketException, OSError):
            self._socket.close()
        try:
            self._process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(timeout=10)

    def send(self, method: str, session: str | None = None, **params: Any) -> dict[str, Any]:
        """One command and its answer; events that come meanwhile are kept."""
        number = next(self._numbers)
        message = {"id": number, "method": method, "params": params}
        self._socket.send(json.dumps(message | ({"sessionId": session} if session else {})))
        while True:
            answer = json.loads(self._socket.recv())
            if answer.get("id") == number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']['message']}")
                result: dict[str, Any] = answer["result"]
                return result
            self._heard.append(answer)

    def events(self, session: str) -> list[dict[str, Any]]:
        """What a tab has told so far."""
        return [one for one in self._heard if one.get("sessionId") == session]


class Tab:
    """One page in a tab of its own."""

    def __init__(self, browser: Browser, size: tuple[int, int] = PHONE, *, calm: bool = False,
                 scale: float = 1.0) -> None:  # fmt: skip
        self._browser = browser
        target = browser.send("Target.createTarget", url="about:blank")["targetId"]
        attached = browser.send("Target.attachToTarget", targetId=target, flatten=True)
        self._target, self._session = target, attached["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.send(f"{domain}.enable")
        wide, high = size
        phone = size == PHONE
        self.send("Emulation.setDeviceMetricsOverride", width=wide, height=high,
                  deviceScaleFactor=scale, mobile=phone)  # fmt: skip
        self.send("Emulation.setTouchEmulationEnabled", enabled=phone)
        motion = "reduce" if calm else "no-preference"
        self.send("Emulation.setEmulatedMedia",
                  features=[{"name": "prefers-reduced-motion", "value": motion}])  # fmt: skip

    def send(self, method: str, **params: Any) -> dict[str, Any]:
        """A command for this tab."""
        return self._browser.send(method, self._session, **params)

    def open(self, page: Path) -> None:
        """Load a file and wait until it is there."""
        self.send("Page.navigate", url=page.as_uri())
        self.until("document.readyState === 'complete' && location.href !== 'about:blank'")
        self.send("Page.bringToFront")

    def ask(self, expression: str) -> Any:
        """The value of an expression; an exception of the page is one here."""
        found = self.send("Runtime.evaluate", expression=expression, returnByValue=True,
                          awaitPromise=True)  # fmt: skip
        if "exceptionDetails" in found:
            raise RuntimeError(found["exceptionDetails"]["exception"].get("description", found))
        return found["result"].get("value")

    def until(self, condition: str, seconds: float = 10.0) -> None:
        """Wait until something holds."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if self.ask(condition):
                return
            time.sleep(0.03)
        raise AssertionError(f"never true: {condition}")

    def middle(self, selector: str) -> tuple[float, float]:
        """Where the middle of an element stands in the window, once it is scrolled into view."""
        place = self.ask(
            f"(() => {{ const e = document.querySelector({json.dumps(selector)});"
            "e.scrollIntoView({block: 'center', behavior: 'instant'});"
            "const b = e.getBoundingClientRect();"
            "return [b.left + b.width / 2, b.top + b.height / 2]; })()"
        )
        return (place[0], place[1])

    def mouse(self, kind: str, at: tuple[float, float]) -> None:
        """mousePressed | mouseReleased | mouseMoved."""
        self.send("Input.dispatchMouseEvent", type=kind, x=at[0], y=at[1], button="left",
                  clickCount=1)  # fmt: skip

    def touch(self, kind: str, *at: tuple[float, float]) -> None:
        """touchStart | touchEnd | touchCancel."""
        self.send("Input.dispatchTouchEvent", type=kind,
                  touchPoints=[{"x": x, "y": y} for x, y in at])  # fmt: skip

    def key(self, kind: str, name: str) -> None:
        """keyDown | keyUp of one key."""
        codes = {" ": ("Space", 32), "Enter": ("Enter", 13), "Tab": ("Tab", 9),
                 "ArrowRight": ("ArrowRight", 39), "ArrowLeft": ("ArrowLeft", 37),
                 "End": ("End", 35), "Home": ("Home", 36)}  # fmt: skip
        code, number = codes[name]
        text = {" ": " ", "Enter": "\r"}.get(name, "") if kind == "keyDown" else ""
        self.send("Input.dispatchKeyEvent", type=kind, key=name, code=code, text=text,
                  windowsVirtualKeyCode=number)  # fmt: skip

    def type(self, name: str) -> None:
        """A key, down and up."""
        self.key("keyDown", name)
        self.key("keyUp", name)

    def picture(self, whole: bool = False) -> bytes:
        """What the window shows, or the whole page, as PNG."""
        options: dict[str, Any] = {"captureBeyondViewport": whole}
        if whole:
            size = self.send("Page.getLayoutMetrics")["cssContentSize"]
            options["clip"] = {**size, "scale": 1}
        return base64.b64decode(
            self.send("Page.captureScreenshot", format="png", **options)["data"]
        )

    def requests(self) -> list[str]:
        """Addresses that were asked for, but for the file itself and what it carries."""
        asked = [e["params"]["request"]["url"] for e in self._told("Network.requestWillBeSent")]
        return [url for url in asked if not url.startswith(("file:", "data:", "about:"))]

    def complaints(self) -> list[str]:
        """Errors and warnings of the console, exceptions, what the page's own policy refused."""
        found = [json.dumps(e["params"]) for e in self._told("Runtime.exceptionThrown")]
        found += [json.dumps(e["params"]) for e in self._told("Runtime.consoleAPICalled")]
        return found + [e["params"]["entry"]["text"] for e in self._told("Log.entryAdded")]

    def _told(self, method: str) -> list[dict[str, Any]]:
        self.ask("1")  # so that everything said before has arrived
        heard = self._browser.events(self._session)
        return [event for event in heard if event["method"] == method]

    def close(self) -> None:
        """Close the tab."""
        self._browser.send("Target.closeTarget", targetId=self._target)

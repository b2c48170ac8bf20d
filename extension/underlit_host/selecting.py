"""Selects objects in the editor once an action is over: the host gives an action no way to.

The host puts back its own selection when the action and its closing box are done, and removes
the copy of the drawing that it had passed right after that (measured, Inkscape 1.2.2). So a
small process of its own waits until that copy is gone and then asks the host over the session
bus. Where there is no such bus (Windows, macOS) nothing happens: the marks are numbered.

Run as a script: `selecting.py COPY ID ...`. Standard library only.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Sequence
from shutil import which

#: Nobody reads a closing box longer than this (seconds).
PATIENCE = 900.0

#: Between two looks, and before asking: the host tidies up in one go (seconds).
PAUSE = 0.15

HOST = "org.inkscape.Inkscape"
ACTIVATE = ("/org/inkscape/Inkscape", "org.gtk.Actions.Activate")
OWNED = ("/org/freedesktop/DBus", "org.freedesktop.DBus.NameHasOwner")


def in_editor() -> bool:
    """Whether the editor runs us: it tells where its drawing lies (measured, Inkscape 1.2.2)."""
    return "DOCUMENT_PATH" in os.environ


def select_later(copy: str | None, ids: Sequence[str]) -> bool:
    """Start the waiting process; False where this system has no way to select."""
    usable = [name for name in ids if name and not set(name) & set("\\\"',")]
    bus = os.environ.get("DBUS_SESSION_BUS_ADDRESS", "disabled:")
    if copy is None or not usable or not in_editor():
        return False
    if bus.startswith("disabled") or not which("gdbus"):
        return False
    subprocess.Popen(
        [sys.executable, "-E", "-S", os.path.abspath(__file__), copy, *usable],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    return True


def select_when_gone(copy: str, ids: Sequence[str], patience: float = PATIENCE) -> bool:
    """Wait until the copy is gone, then select; False where the host is gone or never ready."""
    end = time.monotonic() + patience
    while os.path.exists(copy):
        if time.monotonic() > end:
            return False
        time.sleep(PAUSE)
    time.sleep(PAUSE)
    if "true" not in _call("org.freedesktop.DBus", *OWNED, HOST):
        return False
    _call(HOST, *ACTIVATE, "select-clear", "[]", "{}")
    _call(HOST, *ACTIVATE, "select-by-id", f"[<'{','.join(ids)}'>]", "{}")
    return True


def _call(name: str, place: str, method: str, *arguments: str) -> str:
    """One call on the session bus; what came back."""
    command = ["gdbus", "call", "--session", "--dest", name, "--object-path", place]
    run = subprocess.run(
        [*command, "--method", method, *arguments],
        check=False,
        capture_output=True,
        text=True,
        timeout=30,
    )
    return run.stdout


if __name__ == "__main__":
    sys.exit(0 if select_when_gone(sys.argv[1], sys.argv[2:]) else 1)

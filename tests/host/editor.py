"""The real Inkscape for tests: a display, a profile of its own, batch runs, the real menu.

    with virtual_display() as display:
        editor = Editor(folder, display)
        editor.install(environment)
        out = editor.run(svg, "org.underlit.validate-card", {"tell": "false"})

A batch run hangs for ever when an action says anything on standard error (a box opens that
nobody closes), so every run has a time limit and `tell` is off unless a test asks for it.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import quoteattr

ROOT = Path(__file__).parent.parent.parent
INSTALL = ROOT / "extension" / "install.py"
DRIVER = Path(__file__).parent / "menu.py"
WALKER = Path(__file__).parent / "walk_menus.py"

#: The system's own Python, which sees the accessibility bindings (they come with the system).
SYSTEM_PYTHON = "/usr/bin/python3"

#: gettext translates nothing in the plain locale, so another language needs a real one.
GERMAN = "de_DE.UTF-8"

#: Seconds for one run of the host; a run takes 1 to 4.
PATIENCE = 60

#: Without these the host asks questions at its first start.
QUIET = '<group id="options"><group id="boot" enabled="0" shown="1"/></group>'


def missing_for_batch() -> str | None:
    """What batch runs lack on this machine (None: nothing)."""
    return _lacking("inkscape", "Xvfb")


def missing_for_menu() -> str | None:
    """What runs through the real menu lack on this machine (None: nothing)."""
    lacking = _lacking("inkscape", "Xvfb", "dbus-run-session", "xdotool", "import", "gdbus")
    if lacking:
        return lacking
    command = [SYSTEM_PYTHON, "-c", "import pyatspi"]
    with contextlib.suppress(OSError):
        if subprocess.run(command, capture_output=True, check=False, timeout=30).returncode == 0:
            return None
    return "python3-pyatspi is not installed"


def _lacking(*programs: str) -> str | None:
    names = [name for name in programs if shutil.which(name) is None]
    return f"{', '.join(names)} not installed" if names else None


@contextlib.contextmanager
def virtual_display() -> Iterator[str]:
    """A screen of its own; the server chooses a free number itself. Yields ":N"."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=(write,),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    try:
        with os.fdopen(read) as pipe:
            number = pipe.readline().strip()
        if not number:
            raise RuntimeError("Xvfb did not start")
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(timeout=10)


@dataclass(frozen=True)
class Editor:
    """One Inkscape profile on one display."""

    profile: Path
    display: str
    language: str = ""
    """Of its texts, as gettext's LANGUAGE; empty: English."""

    @property
    def extension(self) -> Path:
        """Where install.py puts us."""
        return self.profile / "extensions" / "underlit"

    @property
    def errors(self) -> str:
        """What the host said about extensions that it did not load."""
        log = self.profile / "extension-errors.log"
        return log.read_text(encoding="utf-8") if log.is_file() else ""

    def install(self, environment: str = sys.prefix) -> None:
        """Install the extension with an environment that is there already."""
        self.profile.mkdir(parents=True, exist_ok=True)
        command = [sys.executable, str(INSTALL), "--user-data", str(self.profile)]
        subprocess.run([*command, "--env", environment], check=True, timeout=300)

    def prefer(self, action: str, values: Mapping[str, str]) -> None:
        """Write the preferences: the values that an action's dialog would hold."""
        self.prefer_all({action: values})

    def prefer_all(self, wishes: Mapping[str, Mapping[str, str]]) -> None:
        """The same for several actions."""
        entries = " ".join(
            f"{action}.{name}={quoteattr(v)}"
            for action, values in wishes.items()
            for name, v in values.items()
        )
        text = f'<inkscape version="1">{QUIET}<group id="extensions" {entries}/></inkscape>'
        (self.profile / "preferences.xml").write_text(text, encoding="utf-8")

    def run(
        self,
        svg: Path,
        action: str,
        values: Mapping[str, str] | None = None,
        select: tuple[str, ...] = (),
        out: Path | None = None,
    ) -> Path:
        """Run one action without its dialog on a copy of a drawing; returns the new drawing.

        Raises TimeoutExpired when the host hangs, AssertionError when it wrote nothing.
        """
        self.prefer(action, {"tell": "false", **(values or {})})
        target = out or self.profile / "out.svg"
        target.unlink(missing_ok=True)
        steps = [f"select-by-id:{','.join(select)}"] if select else []
        steps += [f"{action}.noprefs", f"export-filename:{target}", "export-do"]
        command = ["inkscape", "--batch-process", f"--actions={';'.join(steps)}", str(svg)]
        run = subprocess.run(
            command,
            env=self.variables(),
            capture_output=True,
            text=True,
            timeout=PATIENCE,
            check=False,
        )
        assert target.is_file(), f"the host wrote nothing: {run.stdout}{run.stderr}"
        return target

    def use_menu(
        self, svg: Path, entry: str, picture: Path, *, save: bool = True, dialog: bool = True
    ) -> dict:
        """Use the real menu entry: dialog, Apply, closing box, Close, Ctrl+S (see menu.py).

        `dialog` false: the entry asks nothing and works at once.
        """
        picture.parent.mkdir(parents=True, exist_ok=True)
        order = {"svg": str(svg), "entry": entry, "picture": str(picture), "save": save}
        return self._drive(DRIVER, {**order, "dialog": dialog}, 2 * PATIENCE)

    def walk_menus(self, svg: Path, steps: Sequence[Mapping[str, object]], pictures: Path) -> dict:
        """Several entries one after the other in one running editor (see walk_menus.py)."""
        pictures.mkdir(parents=True, exist_ok=True)
        order = {"svg": str(svg), "steps": list(steps), "pictures": str(pictures)}
        return self._drive(WALKER, order, len(steps) * PATIENCE)

    def _drive(self, driver: Path, order: Mapping[str, object], seconds: int) -> dict:
        """Run a driver on a bus of its own; its answer."""
        command = ["dbus-run-session", "--", SYSTEM_PYTHON, str(driver), json.dumps(order)]
        run = subprocess.run(
            command,
            env=self.variables(bus=True),
            capture_output=True,
            text=True,
            timeout=seconds,
            check=False,
        )
        lines = [line for line in run.stdout.splitlines() if line.startswith("{")]
        assert lines, f"the driver saw no end: {run.stdout}{run.stderr}"
        return json.loads(lines[-1])

    def variables(self, *, bus: bool = False) -> dict[str, str]:
        """The environment of the host: its own profile and home, no bus unless asked for."""
        kept = {
            k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "PYTEST", "COV"))
        }
        own = {
            "INKSCAPE_PROFILE_DIR": str(self.profile),
            "HOME": str(self.profile),
            "DISPLAY": self.display,
            "LC_ALL": GERMAN if self.language else "C.UTF-8",
            "LANGUAGE": self.language,
        }
        if not bus:
            own["DBUS_SESSION_BUS_ADDRESS"] = "disabled:"
            own["NO_AT_BRIDGE"] = "1"
        return {**kept, **own}

"""The private Python environment: which libraries, made, completed, looked into."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Sequence

import launch

from .common import Trouble, dotted, run, runs, telling_why

#: The oldest Python that the libraries below run on.
OLDEST_PYTHON = (3, 11)

#: Every library of the tool, in one place. inkex comes alone: what it asks for beyond these
#: (bindings for dialogs that we do not use) cannot be built on a machine without a compiler.
ALONE = ("inkex==1.4.*",)

LIBRARIES = (
    "lxml>=5.0,<7",
    "cssselect>=1.2,<2",
    "tinycss2>=1.2,<2",
    "numpy>=1.26,<3",
    "shapely>=2.1,<3",
    "networkx>=3.2,<4",
    "svg.path>=6.2,<8",
    "ezdxf>=1.3,<2",
    "rectpack>=0.2.2,<0.3",
    "reportlab>=4.0,<5",
    "pillow>=10",
    "tomli-w>=1,<2",
)

FOR_TESTS = (
    "pytest>=8,<10",
    "hypothesis>=6.100,<7",
    "pytest-xdist>=3.8,<4",
    "scipy>=1.13,<2",
    "websocket-client>=1.6,<2",
    "svgelements>=1.9.6,<2",
    "pdfplumber>=0.11,<1",
    "ruff>=0.9,<1",
    "mypy>=1.14,<3",
    "babel>=2.14,<3",
)

#: Libraries that come as compiled wheels; building them from source is no way for a maker.
COMPILED = "lxml,numpy,shapely,ezdxf,fonttools,scipy,pillow"

#: What must be importable for the environment to count as whole.
IMPORTS = (
    "inkex, lxml.etree, cssselect, tinycss2, numpy, shapely, networkx, svg.path, ezdxf, rectpack, "
    "reportlab, PIL, tomli_w"
)

#: Beside the environment's own files: it was made by this script and may be removed by it.
MADE_HERE = "made-by-underlit.txt"

#: Runs inside an environment: prints "name version" of what is right, "name version!" or
#: "name -" of what is not; the requirements are its arguments.
PROBE = """
import sys
from importlib.metadata import PackageNotFoundError, version
from pip._vendor.packaging.requirements import Requirement
for text in sys.argv[1:]:
    want = Requirement(text)
    try:
        have = version(want.name)
    except PackageNotFoundError:
        print(want.name, "-")
    else:
        print(want.name, have + ("" if want.specifier.contains(have) else "!"))
"""


def check_python() -> None:
    """Raise Trouble where this Python is too old or cannot make environments."""
    version = sys.version_info[:2]
    if version < OLDEST_PYTHON:
        newer = [f"python3.{minor}" for minor in range(20, OLDEST_PYTHON[1] - 1, -1)]
        found = next((name for name in newer if shutil.which(name)), None)
        hint = f"You have {found}: use that instead." if found else "Install a newer one first."
        raise Trouble(
            f"Underlit needs Python {dotted(OLDEST_PYTHON)} or newer; this is "
            f"{dotted(version)}. {hint}"
        )


def check_venv() -> None:
    """Raise Trouble where the system left out what makes environments."""
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        raise Trouble(
            "This Python cannot make environments: its venv part is not installed. "
            "On Debian or Ubuntu: sudo apt install python3-venv"
        ) from None


def default_environment() -> str:
    """Where programs keep such data on this system."""
    home = os.path.expanduser("~")
    if os.name == "nt":
        base = os.environ.get("LOCALAPPDATA") or os.path.join(home, "AppData", "Local")
    elif sys.platform == "darwin":
        base = os.path.join(home, "Library", "Application Support")
    else:
        base = os.environ.get("XDG_DATA_HOME") or os.path.join(home, ".local", "share")
    return os.path.join(base, "underlit", "environment")


def wanted(dev: bool) -> tuple[str, ...]:
    """Requirements of the environment."""
    return ALONE + LIBRARIES + (FOR_TESTS if dev else ())


def make_environment(folder: str, requirements: Sequence[str]) -> None:
    """Make or complete the environment; quick when all is there."""
    python = launch.python_of(folder)
    if is_whole(python, requirements):
        return
    if not os.path.isfile(os.path.join(folder, "pyvenv.cfg")):
        if os.path.isdir(folder) and os.listdir(folder):
            raise Trouble(f"{folder} is not empty and no Python environment; name another folder.")
        _make_bare(folder)
    elif not runs(python, "pass"):
        _make_bare(folder, "--clear")
    alone = [text for text in requirements if text in ALONE]
    print("Fetching the libraries (about a minute) ...", flush=True)
    _pip(python, "--no-deps", *alone)
    _pip(python, f"--only-binary={COMPILED}", *[t for t in requirements if t not in ALONE])
    if not is_whole(python, requirements):
        raise Trouble(f"The libraries in {folder} do not work; remove that folder and try again.")


def is_whole(python: str, requirements: Sequence[str]) -> bool:
    """Whether an environment has every library in a right version, and they can be imported."""
    versions = probe(python, requirements)
    right = bool(versions) and not any(v == "-" or v.endswith("!") for v in versions.values())
    return right and runs(python, f"import {IMPORTS}")


def probe(python: str, requirements: Sequence[str]) -> dict[str, str]:
    """name -> version, "-" when missing, with "!" when wrong. Empty: the Python does not run."""
    if not os.path.exists(python):
        return {}
    try:
        done = run([python, "-c", PROBE, *requirements])
    except OSError:
        return {}
    if done.returncode != 0:
        return {}
    return dict(line.split(" ", 1) for line in done.stdout.splitlines())


def _make_bare(folder: str, *flags: str) -> None:
    check_venv()
    with telling_why(folder):
        os.makedirs(folder, exist_ok=True)
        done = run([sys.executable, "-m", "venv", *flags, folder])
        if done.returncode != 0:
            last = (done.stdout + done.stderr).strip().splitlines()[-1:] or ["no reason given"]
            raise Trouble(f"The Python environment in {folder} could not be made: {last[0]}")
        with open(os.path.join(folder, MADE_HERE), "w", encoding="utf-8") as file:
            file.write("install.py of Underlit made this folder and removes it again.\n")


def _pip(python: str, *arguments: str) -> None:
    command = [python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    done = run([*command, "--retries", "2", *arguments])
    if done.returncode != 0:
        raise Trouble(pip_trouble(done.stdout + done.stderr))


def pip_trouble(text: str) -> str:
    """What pip's own words mean for a maker."""
    low = text.lower()
    signs = ("connection", "name resolution", "getaddrinfo", "proxy", "timed out", "ssl",
             "network is unreachable", "(from versions: none)")  # fmt: skip
    last = (text.strip().splitlines() or ["no reason given"])[-1].strip()
    if "no space left" in low:
        return "The disk is full: the libraries need about 200 MB."
    if "permission denied" in low or "read-only file system" in low:
        return f"The folder of the environment cannot be written. ({last})"
    if any(sign in low for sign in signs):
        return (
            "The libraries could not be fetched: is this computer connected to the internet? "
            f"Then run this again. ({last})"
        )
    return f"The libraries could not be installed: {last}"

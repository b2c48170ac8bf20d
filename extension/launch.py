"""Runs an action in Underlit's own Python environment. Standard library only, Python 3.8.

    import launch

    with launch.environment():
        from underlit_host.action import Action

An installed copy has `environment.txt` beside this file; its first line names the folder of the
private environment. Where the present Python is another one (the editor's own, say), entering
the block starts the action again in the private one, with the same arguments and streams, and
never comes back. Without that file (a copy that is run from a shell) the block goes on in place.
What cannot be imported inside the block becomes one plain sentence, in the maker's language
(`say` is that of `underlit.language`, which may be what is missing).
"""

from __future__ import annotations

import gc
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))

#: Beside this file in an installed copy: the folder of the private environment.
POINTER = "environment.txt"

#: Set for the second start, so that a broken environment ends in words and not in a loop.
STARTED = "UNDERLIT_STARTED"

#: Variables of the host that would lead our Python to the host's own libraries.
FOREIGN = ("PYTHON", "DYLD_")
FOREIGN_NAMES = ("LD_LIBRARY_PATH", "LD_PRELOAD", "__PYVENV_LAUNCHER__")

#: Windows: a child without a console window of its own (documented value of the system).
CREATE_NO_WINDOW = 0x08000000


def later(text: str) -> str:
    """Mark a text for the catalogs."""
    return text


def say(text: str, **words: str) -> str:
    """A sentence in the maker's language, with its words in braces filled in."""
    import gettext  # late: a start that goes well says nothing

    catalog = gettext.translation("underlit", os.path.join(HERE, "locale"), fallback=True)
    return catalog.gettext(text).format(**words)


SETUP = later(
    "Underlit is not ready to run: {what}. In the folder that Underlit came in, run "
    "`python3 extension/install.py` once, then start Inkscape again."
)


class environment:  # noqa: N801 - reads like the verb that it is
    """Context for the imports of an action script (see the module's own words)."""

    def __enter__(self) -> None:
        gc.disable()  # importing makes no rubbish worth looking for; saves 8 % of the start
        folder = named_environment(HERE)
        if folder is not None and not _is_running(folder):
            if os.environ.get(STARTED):
                stop(say("its Python environment is broken"))
            start_in(folder)

    def __exit__(self, kind: object, fault: object, trace: object) -> None:
        if isinstance(fault, (ImportError, SyntaxError)):
            stop(_in_words(fault))
        gc.freeze()
        gc.enable()


def named_environment(folder: str) -> str | None:
    """The environment that the pointer in a folder names; None without a pointer."""
    try:
        with open(os.path.join(folder, POINTER), encoding="utf-8") as file:
            return file.readline().strip()
    except OSError:
        return None


def python_of(folder: str, windows: bool = os.name == "nt") -> str:
    """Path of the Python inside an environment."""
    parts = ("Scripts", "python.exe") if windows else ("bin", "python")
    return os.path.join(folder, *parts)


def clean(variables: dict[str, str]) -> dict[str, str]:
    """Environment variables without those that belong to the host's own Python."""
    return {
        name: value
        for name, value in variables.items()
        if not name.startswith(FOREIGN) and name not in FOREIGN_NAMES
    }


def start_in(folder: str) -> None:
    """Run the present script again in an environment. Does not return."""
    python = python_of(folder)
    command = [python, "-X", "utf8", os.path.abspath(sys.argv[0]), *sys.argv[1:]]
    variables = clean(dict(os.environ))
    variables[STARTED] = "1"
    try:
        if os.name == "nt":
            raise SystemExit(_child(command, variables))
        os.execve(python, command, variables)
    except OSError:
        stop(say("its Python environment is missing"))


def stop(what: str) -> None:
    """Say in one sentence what is missing, and end."""
    sys.stderr.reconfigure(encoding="utf-8")  # as the host reads it
    sys.stderr.write(say(SETUP, what=what) + "\n")
    sys.stderr.flush()
    raise SystemExit(1)


def _child(command: list[str], variables: dict[str, str]) -> int:
    """Windows has no exec: wait for a child that shares our streams and opens no window."""
    import subprocess  # late: only Windows needs it

    return subprocess.call(
        command,
        env=variables,
        stdin=sys.stdin,
        stdout=sys.stdout,
        stderr=sys.stderr,
        creationflags=CREATE_NO_WINDOW,
    )


def _is_running(folder: str) -> bool:
    try:
        return os.path.samefile(sys.prefix, folder)
    except OSError:
        return False


def _in_words(fault: ImportError | SyntaxError) -> str:
    if isinstance(fault, SyntaxError):
        version = ".".join(str(part) for part in sys.version_info[:3])
        return say("it needs Python 3.11 or newer, and this is {version}", version=version)
    name = fault.name or ""
    if name.split(".")[0] in ("underlit", "underlit_host"):
        return say("a part of it is missing ({name})", name=name)
    if name == "tomllib":
        return say("it needs Python 3.11 or newer")
    return say("its Python environment lacks {name}", name=name) if name else str(fault)

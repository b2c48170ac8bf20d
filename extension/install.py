"""Sets Underlit up: its private Python environment, and the entries in Inkscape's menu.

    python3 extension/install.py                         set up and install into Inkscape
    python3 extension/install.py --check                 say what is there and what is missing
    python3 extension/install.py --uninstall             take everything away again
    python3 extension/install.py --env DIR --no-editor   only the environment, in DIR

Standard library only, and readable by Python 3.8, so that an old Python can be told in words.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Iterator, Sequence

import launch

HERE = os.path.dirname(os.path.abspath(__file__))

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
)
FOR_TESTS = (
    "pytest>=8,<10",
    "hypothesis>=6.100,<7",
    "scipy>=1.13,<2",
    "pillow>=10",
    "ruff>=0.9,<1",
    "mypy>=1.14,<3",
)

#: Libraries that come as compiled wheels; building them from source is no way for a maker.
COMPILED = "lxml,numpy,shapely,scipy,pillow"

#: What must be importable for the environment to count as whole.
IMPORTS = "inkex, lxml.etree, cssselect, tinycss2, numpy, shapely, networkx, svg.path"

#: Beside the environment's own files: it was made by this script and may be removed by it.
MADE_HERE = "made-by-underlit.txt"

#: What the host needs of this folder.
SCRIPTS = (".inx", ".py", ".mo")
PACKAGES = ("underlit", "underlit_host", "icons", "locale")
NOT_FOR_HOST = ("install.py",)

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


class Trouble(Exception):
    """One or two plain sentences: what is wrong and what to do."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; returns the exit code."""
    options = read_options(arguments)
    try:
        if options.check:
            return check(options)
        if options.uninstall:
            uninstall(options)
        else:
            install(options)
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped. Run it again to finish.", file=sys.stderr)
        return 1
    return 0


def read_options(arguments: Sequence[str] | None) -> argparse.Namespace:
    """The command line."""
    parser = argparse.ArgumentParser(prog="install.py", description=__doc__.split("\n")[0])
    parser.add_argument("--check", action="store_true", help="only say what is there")
    parser.add_argument("--uninstall", action="store_true", help="take everything away again")
    parser.add_argument("--env", metavar="DIR", help="folder of the private environment")
    parser.add_argument("--no-editor", action="store_true", help="leave Inkscape alone")
    parser.add_argument("--user-data", metavar="DIR", help="Inkscape's user folder")
    parser.add_argument("--dev", action="store_true", help="also what the tests need")
    options = parser.parse_args(arguments)
    options.given_env = options.env is not None
    options.env = os.path.abspath(os.path.expanduser(options.env or default_environment()))
    return options


def install(options: argparse.Namespace) -> None:
    """Environment first, so that the menu entries work as soon as they are there."""
    check_python()
    folder = None if options.no_editor else extension_folder(options)
    make_environment(options.env, wanted(options.dev))
    compile_all(HERE, options.env)
    print(f"Python environment ready: {options.env}")
    if folder is not None:
        copy_extension(folder, options.env)
        copy_symbols(folder)
        print(f"Installed: {folder}")
        print("Start Inkscape again; the entries stand under Extensions > Underlit.")


def check(options: argparse.Namespace) -> int:
    """Print what is there; 0 when nothing is missing."""
    faults: list[str] = []
    print(f"Underlit {own_version(HERE)}")
    print(f"Python {_dotted(sys.version_info[:3])} ({sys.executable})")
    folder = None
    if not options.no_editor:
        folder = _check_editor(options, faults)
    environment = options.env
    if folder is not None and not options.given_env:
        environment = launch.named_environment(folder) or environment
    runs = _check_environment(environment, wanted(options.dev), faults)
    if not runs and sys.version_info[:2] < OLDEST_PYTHON:
        faults.append(f"Python {_dotted(OLDEST_PYTHON)} or newer to make one with")
    for fault in faults:
        print(f"Missing: {fault}.")
    print("Run extension/install.py to set this right." if faults else "Everything is there.")
    return 1 if faults else 0


def uninstall(options: argparse.Namespace) -> None:
    """Remove the menu entries, and the environment if this script made it."""
    environment = options.env
    if not options.no_editor:
        folder = extension_folder(options)
        if not options.given_env:
            environment = launch.named_environment(folder) or environment
        remove_extension(folder)
        _remove_tree(symbols_folder(folder))
        print(f"Removed: {folder}")
    if os.path.isfile(os.path.join(environment, MADE_HERE)):
        _remove_tree(environment)
        print(f"Removed: {environment}")
    elif os.path.isdir(environment):
        print(f"Left alone, since it was not made by this script: {environment}")


def check_python() -> None:
    """Raise Trouble where this Python is too old or cannot make environments."""
    version = sys.version_info[:2]
    if version < OLDEST_PYTHON:
        newer = [f"python3.{minor}" for minor in range(20, OLDEST_PYTHON[1] - 1, -1)]
        found = next((name for name in newer if shutil.which(name)), None)
        hint = f"You have {found}: use that instead." if found else "Install a newer one first."
        raise Trouble(
            f"Underlit needs Python {_dotted(OLDEST_PYTHON)} or newer; this is "
            f"{_dotted(version)}. {hint}"
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
    elif not _runs(python, "pass"):
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
    return right and _runs(python, f"import {IMPORTS}")


def probe(python: str, requirements: Sequence[str]) -> dict[str, str]:
    """name -> version, "-" when missing, with "!" when wrong. Empty: the Python does not run."""
    if not os.path.exists(python):
        return {}
    try:
        run = _run([python, "-c", PROBE, *requirements])
    except OSError:
        return {}
    if run.returncode != 0:
        return {}
    return dict(line.split(" ", 1) for line in run.stdout.splitlines())


def _make_bare(folder: str, *flags: str) -> None:
    check_venv()
    with _telling_why(folder):
        os.makedirs(folder, exist_ok=True)
        run = _run([sys.executable, "-m", "venv", *flags, folder])
        if run.returncode != 0:
            last = (run.stdout + run.stderr).strip().splitlines()[-1:] or ["no reason given"]
            raise Trouble(f"The Python environment in {folder} could not be made: {last[0]}")
        with open(os.path.join(folder, MADE_HERE), "w", encoding="utf-8") as file:
            file.write("install.py of Underlit made this folder and removes it again.\n")


def _pip(python: str, *arguments: str) -> None:
    command = [python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    run = _run([*command, "--retries", "2", *arguments])
    if run.returncode != 0:
        raise Trouble(pip_trouble(run.stdout + run.stderr))


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


def extension_folder(options: argparse.Namespace) -> str:
    """Our folder among the user's extensions. Raises Trouble without any Inkscape."""
    return os.path.join(user_data(options.user_data), "extensions", "underlit")


def user_data(given: str | None) -> str:
    """Inkscape's user folder: as given, as the profile variable says, as Inkscape says."""
    named = given or os.environ.get("INKSCAPE_PROFILE_DIR")
    if named:
        return os.path.abspath(os.path.expanduser(named))
    program = find_inkscape()
    if program is not None:
        with contextlib.suppress(OSError, subprocess.TimeoutExpired):
            run = _run([program, "--user-data-directory"], seconds=60)
            lines = [line.strip() for line in run.stdout.splitlines() if line.strip()]
            if run.returncode == 0 and lines and os.path.isabs(lines[-1]):
                return lines[-1]
    for folder in usual_user_folders():
        if os.path.isdir(folder):
            return folder
    raise Trouble(
        "I cannot find Inkscape. Install it and start it once; or name its user folder with "
        "--user-data DIR (Inkscape shows it under Edit > Preferences > System)."
    )


def find_inkscape() -> str | None:
    """The program itself: on PATH, else in the usual places of this system."""
    found = shutil.which("inkscape")
    if found:
        return found
    return next((path for path in usual_programs() if os.path.isfile(path)), None)


def usual_programs() -> list[str]:
    """Where Inkscape is installed when it is not on PATH."""
    if os.name == "nt":
        names = ("ProgramW6432", "ProgramFiles", "ProgramFiles(x86)")
        bases = [os.environ[name] for name in names if os.environ.get(name)]
        if os.environ.get("LOCALAPPDATA"):
            bases.append(os.path.join(os.environ["LOCALAPPDATA"], "Programs"))
        return [os.path.join(base, "Inkscape", "bin", "inkscape.com") for base in bases]
    if sys.platform == "darwin":
        inside = "Applications/Inkscape.app/Contents/MacOS/inkscape"
        return [f"/{inside}", os.path.join(os.path.expanduser("~"), inside)]
    return ["/usr/bin/inkscape", "/usr/local/bin/inkscape", "/snap/bin/inkscape"]


def usual_user_folders() -> list[str]:
    """Where Inkscape keeps the user's things when it cannot be asked."""
    home = os.path.expanduser("~")
    if os.name == "nt":
        roaming = os.environ.get("APPDATA") or os.path.join(home, "AppData", "Roaming")
        return [os.path.join(roaming, "inkscape")]
    if sys.platform == "darwin":
        support = os.path.join(home, "Library", "Application Support")
        return [os.path.join(support, "org.inkscape.Inkscape", "config", "inkscape")]
    config = os.environ.get("XDG_CONFIG_HOME") or os.path.join(home, ".config")
    boxed = os.path.join(home, ".var", "app", "org.inkscape.Inkscape", "config")
    return [os.path.join(config, "inkscape"), os.path.join(boxed, "inkscape")]


def copy_extension(folder: str, environment: str) -> None:
    """Put everything that the host needs into a new folder, then swap it in."""
    _check_ours(folder)
    fresh = f"{folder}.new"
    with _telling_why(folder):
        _remove_tree(fresh)
        os.makedirs(fresh)
        for name in sorted(os.listdir(HERE)):
            source = os.path.join(HERE, name)
            if name in PACKAGES and os.path.isdir(source):
                rubbish = shutil.ignore_patterns("__pycache__", ".*")
                shutil.copytree(source, os.path.join(fresh, name), ignore=rubbish)
            elif name.endswith(SCRIPTS) and name not in NOT_FOR_HOST:
                shutil.copy2(source, fresh)
        with open(os.path.join(fresh, launch.POINTER), "w", encoding="utf-8") as file:
            file.write(f"{environment}\n")
        remove_extension(folder)
        os.rename(fresh, folder)
    compile_all(folder, environment)


def compile_all(folder: str, environment: str) -> None:
    """Bytecode beside our files: without it every start takes half a second longer."""
    _runs(launch.python_of(environment), f"import compileall; compileall.compile_dir({folder!r})")


def remove_extension(folder: str) -> None:
    """Remove our folder; a link to a working copy is unlinked, never followed."""
    _check_ours(folder)
    if os.path.islink(folder):
        os.unlink(folder)
    else:
        _remove_tree(folder)


def symbols_folder(folder: str) -> str:
    """Our folder among the user's symbols, from our folder among the extensions."""
    return os.path.join(os.path.dirname(os.path.dirname(folder)), "symbols", "underlit")


def copy_symbols(folder: str) -> None:
    """Symbols, where there are any, go where the host's symbols panel looks."""
    source = os.path.join(HERE, "symbols")
    if os.path.isdir(source):
        target = symbols_folder(folder)
        with _telling_why(target):
            _remove_tree(target)
            shutil.copytree(source, target)


def own_version(folder: str) -> str:
    """Version of the package in a folder, without importing it."""
    try:
        with open(os.path.join(folder, "underlit", "__init__.py"), encoding="utf-8") as file:
            line = next(line for line in file if line.startswith("__version__"))
    except (OSError, StopIteration):
        return "of unknown version"
    return line.split('"')[1]


def _check_ours(folder: str) -> None:
    """Raise Trouble where a folder of our name holds something else."""
    if not os.path.isdir(folder) or os.path.islink(folder) or not os.listdir(folder):
        return
    if not os.path.isfile(os.path.join(folder, launch.POINTER)):
        raise Trouble(f"{folder} holds something else than Underlit; move it away first.")


def _check_editor(options: argparse.Namespace, faults: list[str]) -> str | None:
    try:
        folder = extension_folder(options)
    except Trouble as trouble:
        faults.append(str(trouble).rstrip("."))
        return None
    program = find_inkscape()
    print(f"Inkscape: {program or 'not found'}")
    if program is None:
        faults.append("Inkscape itself")
    pointer = launch.named_environment(folder)
    if pointer is None:
        faults.append(f"the menu entries in {folder}")
        return folder
    print(f"Menu entries: {folder}, version {own_version(folder)}")
    if own_version(folder) != own_version(HERE):
        faults.append(f"version {own_version(HERE)} in {folder}")
    return folder


def _check_environment(folder: str, requirements: Sequence[str], faults: list[str]) -> bool:
    """Whether an environment runs at all; what it lacks goes to `faults`."""
    versions = probe(launch.python_of(folder), requirements)
    print(f"Python environment: {folder}" if versions else "Python environment: none")
    if not versions:
        faults.append(f"a Python environment that runs in {folder}")
    for name, version in versions.items():
        print(f"  {name} {version.rstrip('!')}")
        if version == "-" or version.endswith("!"):
            need = next(text for text in requirements if text.startswith(name))
            faults.append(f"{need} in the Python environment")
    return bool(versions)


@contextlib.contextmanager
def _telling_why(folder: str) -> Iterator[None]:
    """Turn the system's refusal to write into words."""
    try:
        yield
    except OSError as fault:
        reason = fault.strerror or type(fault).__name__
        raise Trouble(
            f"{folder} cannot be written ({reason}). Do you own it, and is there room?"
        ) from None


def _remove_tree(folder: str) -> None:
    """Remove a folder that may hold read-only files."""
    if not os.path.isdir(folder):
        return
    with _telling_why(folder):
        for path, _, names in os.walk(folder):
            for name in names:
                whole = os.path.join(path, name)
                if not os.path.islink(whole) and not os.access(whole, os.W_OK):
                    os.chmod(whole, stat.S_IREAD | stat.S_IWRITE)
        shutil.rmtree(folder)


def _run(command: list[str], seconds: int | None = None) -> subprocess.CompletedProcess[str]:
    """Run a program with its output caught, away from any foreign Python settings."""
    return subprocess.run(
        command,
        check=False,
        capture_output=True,
        encoding="utf-8",
        errors="replace",
        stdin=subprocess.DEVNULL,
        env=launch.clean(dict(os.environ)),
        timeout=seconds,
    )


def _runs(python: str, code: str) -> bool:
    try:
        return _run([python, "-c", code]).returncode == 0
    except OSError:
        return False


def _dotted(version: Sequence[object]) -> str:
    return ".".join(str(part) for part in version)


if __name__ == "__main__":
    sys.exit(main())

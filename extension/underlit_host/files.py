"""Reading and writing files so that nothing is ever lost half way.

Everything is written beside its target first and then renamed: an older file stays whole until
the new one is complete. `tempfile` and `pathlib` are left out for start-up time.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress

from underlit.errors import UnreadableDrawing, UnwritableTarget
from underlit.language import later, say, say_count


def read_bytes(path: str) -> bytes:
    """All bytes of a drawing. Raises UnreadableDrawing."""
    try:
        with open(path, "rb") as file:
            return file.read()
    except (FileNotFoundError, IsADirectoryError):
        raise no_drawing(path) from None
    except (OSError, ValueError) as fault:
        raise UnreadableDrawing(
            say("{path} cannot be read: {reason}.", path=path, reason=reason(fault))
        ) from None


def no_drawing(path: str) -> UnreadableDrawing:
    """What to say where `path` leads to no file."""
    if os.path.isdir(path):
        return UnreadableDrawing(say("{path} is a folder; name a drawing in it.", path=path))
    return UnreadableDrawing(
        say("There is no file {path}. Look whether its name and folder are right.", path=path)
    )


def where_saved(paths: Sequence[str]) -> str:
    """Where a maker finds files that were written ("": there are none)."""
    if not paths:
        return ""
    folder, name = os.path.split(os.path.abspath(paths[0]))
    return say_count(
        "Saved in {folder}: {name}.",
        "Saved in {folder}: {number} files.",
        len(paths),
        folder=folder,
        name=name,
    )


def write_all(contents: Mapping[str, bytes]) -> None:
    """Write several files, all or none, in their order. Raises UnwritableTarget.

    Files that exist are replaced whole, links are followed, permissions are kept. Devices and
    pipes are written to directly.
    """
    check_distinct(*contents)
    beside: dict[str, str] = {}
    direct: dict[str, bytes] = {}
    try:
        for path, data in contents.items():
            target = _resolve(path)
            if _is_device(target):
                direct[path] = data
            else:
                beside[path] = _write_beside(path, target, data)
        for path, data in direct.items():
            _write(path, path, data, os.O_WRONLY)
        for path in list(beside):
            _replace(path, beside[path])
            del beside[path]
    finally:
        for temporary in beside.values():
            _remove(temporary)


@contextmanager
def folder_for(path: str) -> Iterator[None]:
    """A folder that is there inside the block, and gone again where the block fails.

    One that was there before stays. Raises UnwritableTarget.
    """
    fresh = not os.path.isdir(path)
    if fresh:
        try:
            os.mkdir(path)
        except OSError as fault:
            raise _unwritable(path, fault) from None
    try:
        yield
    except BaseException:
        if fresh:
            with suppress(OSError):
                os.rmdir(path)
        raise


def check_distinct(*paths: str) -> None:
    """Raise UnwritableTarget where two of these are one file."""
    seen: set[str] = set()
    for path in paths:
        target = _resolve(path)
        if target in seen and not _is_device(target):
            raise UnwritableTarget(
                say("{path} is named twice; every file needs its own name.", path=path)
            )
        seen.add(target)


def _resolve(path: str) -> str:
    try:
        return os.path.realpath(path)
    except (OSError, ValueError) as fault:
        raise _unwritable(path, fault) from None


def _is_device(target: str) -> bool:
    """Something that exists and is neither a file nor a folder."""
    try:
        mode = os.stat(target).st_mode
    except OSError:
        return target.startswith("/proc/")  # where a link to an open stream leads
    return not (stat.S_ISREG(mode) or stat.S_ISDIR(mode))


def _write_beside(path: str, target: str, data: bytes) -> str:
    """Write into a new file in the target's folder; returns its path."""
    folder = os.path.dirname(target)
    mode = _mode_of(path, target, folder)
    temporary = os.path.join(folder, f".underlit-{os.getpid()}-{abs(hash(target)):x}.part")
    try:
        _write(path, temporary, data, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        if mode is not None:
            os.chmod(temporary, mode)
    except UnwritableTarget:
        _remove(temporary)
        raise
    except OSError as fault:
        _remove(temporary)
        raise _unwritable(path, fault) from None
    return temporary


def _mode_of(path: str, target: str, folder: str) -> int | None:
    """Permissions to keep, None for a new file. Raises where nothing may be written."""
    try:
        if not os.path.isdir(folder):
            raise UnwritableTarget(
                say(
                    "{path} cannot be written: there is no folder {folder}.",
                    path=path,
                    folder=folder,
                )
            )
        if os.name == "posix" and not os.stat(folder).st_mode & 0o222:
            raise UnwritableTarget(
                say(
                    "{path} cannot be written: its folder is read-only. Choose another folder.",
                    path=path,
                )
            )
        mode = os.stat(target).st_mode
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise _unwritable(path, fault) from None
    if stat.S_ISDIR(mode):
        raise UnwritableTarget(say("{path} is a folder; name a file in it.", path=path))
    if not mode & 0o222:
        raise UnwritableTarget(
            say("{path} is read-only; choose another name or unlock it.", path=path)
        )
    return stat.S_IMODE(mode)


def _write(path: str, place: str, data: bytes, flags: int) -> None:
    """Write bytes and make sure that they arrived; `path` is what messages name."""
    try:
        handle = os.open(place, flags | getattr(os, "O_BINARY", 0), 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
    except OSError as fault:
        raise _unwritable(path, fault) from None


def _replace(path: str, temporary: str) -> None:
    try:
        os.replace(temporary, _resolve(path))
    except OSError as fault:
        raise _unwritable(path, fault) from None


def _remove(path: str) -> None:
    try:
        os.unlink(path)
    except OSError:
        return


def _unwritable(path: str, fault: OSError | ValueError) -> UnwritableTarget:
    words = {"path": path, "reason": reason(fault)}
    if isinstance(fault, PermissionError):
        return UnwritableTarget(
            say("{path} cannot be written: {reason}. Choose another name or folder.", **words)
        )
    return UnwritableTarget(say("{path} cannot be written: {reason}.", **words))


_REASONS = {
    errno.ENOSPC: later("the disk is full"),
    errno.EDQUOT: later("your share of the disk is full"),
    errno.EROFS: later("the disk is read-only"),
    errno.EACCES: later("it is protected or in use by another program"),
    errno.EPERM: later("it is protected"),
    errno.ENAMETOOLONG: later("its name is too long"),
    errno.ENOTDIR: later("a part of its path is no folder"),
}


def reason(fault: OSError | ValueError) -> str:
    """Why, in words, without the path that the system's own text repeats."""
    if isinstance(fault, OSError):
        known = _REASONS.get(fault.errno or 0)
        if known:
            return say(known)
        return fault.strerror.lower() if fault.strerror else say("unknown reason")
    return say("that is no name of a file")

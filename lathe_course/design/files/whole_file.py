"""Files that are there whole or not at all, whatever happens while they are written.

A new file is written beside the old one, pushed down to the disk, and then takes the old
one's place in a single step of the file system.  One writer at a time: a lock beside the
file keeps two notebooks apart, and is let go by the system when its holder dies.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

from filelock import FileLock, Timeout

PATIENCE = 10.0  # seconds to wait for another writer
_UNFINISHED = ".part"
_LONG_AGO = 600.0  # seconds after which nobody is still writing
_TRIES = 5  # how often a line is added again because the file was changed in an editor meanwhile


class ChangedMeanwhile(Exception):
    """Somebody else wrote the file between reading and replacing it."""


class Busy(Exception):
    """Another writer held the file for longer than ``PATIENCE``."""


def write_whole(path: Path, content: bytes, instead_of: bytes | None = None) -> None:
    """Put ``content`` in the place of ``path`` in one step.

    With ``instead_of`` only if the file still holds exactly that; else ChangedMeanwhile.
    Raises OSError if the disk refuses; the file is then as it was.
    """
    with _unfinished(path, content) as unfinished:
        if os.path.exists(path):
            os.chmod(unfinished, stat.S_IMODE(os.stat(path).st_mode))
        if instead_of is not None and path.read_bytes() != instead_of:
            raise ChangedMeanwhile(path)
        _take_place(unfinished, path)
    _settle(path.parent)


def lay_whole(files: Mapping[Path, bytes]) -> None:
    """Lay several new files that belong together: all of them, or none if the disk refuses one.

    Raises OSError, and FileExistsError for a name that is taken; then none is there.
    """
    laid: list[Path] = []
    with contextlib.ExitStack() as stack:
        unfinished = {path: stack.enter_context(_unfinished(path, content)) for path, content in files.items()}
        try:
            for path, part in unfinished.items():
                if os.path.lexists(path):
                    raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
                _take_place(part, path)
                laid.append(path)
        except BaseException:
            for path in laid:
                with contextlib.suppress(OSError):
                    os.unlink(path)
            raise
    for folder in {path.parent for path in files}:
        _settle(folder)


@contextlib.contextmanager
def _unfinished(path: Path, content: bytes) -> Iterator[Path]:
    """A file beside ``path`` with the content, on the disk; it is gone afterwards, unless it has taken its place."""
    unfinished = path.with_name(f".{path.name}.{os.getpid()}-{secrets.token_hex(4)}{_UNFINISHED}")
    # opened by hand because tempfile makes files that only their owner may read
    handle = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        _sweep_old(unfinished, path)
        yield unfinished
    finally:
        with contextlib.suppress(OSError):
            os.unlink(unfinished)


def _sweep_old(fresh: Path, path: Path) -> None:
    """Remove what writers of ``path`` left unfinished long ago, by the clock of the disk; one that writes now is left alone."""
    with contextlib.suppress(OSError):
        now = os.stat(fresh).st_mtime
        for left in _left(path):
            with contextlib.suppress(OSError):
                if abs(os.stat(left).st_mtime - now) > _LONG_AGO:
                    os.unlink(left)


def _left(path: Path) -> list[Path]:
    """What writers of ``path`` have not finished, or not yet."""
    return [
        path.parent / name for name in os.listdir(path.parent) if name.startswith(f".{path.name}.") and name.endswith(_UNFINISHED)
    ]


def _take_place(new: Path, old: Path) -> None:
    attempts = 20 if os.name == "nt" else 1  # Windows refuses while a virus scanner or an editor looks at the file
    for attempt in range(attempts):
        try:
            os.replace(new, old)
            return
        except PermissionError:
            if attempt == attempts - 1:
                raise
            time.sleep(0.05)


def _settle(folder: Path) -> None:
    """Push the folder's list of names to the disk, where the system allows it; the file itself is already whole."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextlib.contextmanager
def one_writer(path: Path) -> Iterator[None]:
    """Hold ``path`` for writing; raises Busy if another does not let go, OSError if the folder refuses."""
    lock = FileLock(path.with_name(f".{path.name}.lock"))
    try:
        lock.acquire(timeout=PATIENCE)
    except Timeout:
        raise Busy(path) from None
    try:
        yield
    finally:
        # what was written stands already; a lock that cannot be closed must not tell otherwise, as filelock before 3.16 would
        with contextlib.suppress(OSError):
            lock.release()


def add_line(path: Path, line: bytes, start: bytes) -> None:
    """Add a line to the end of a file, after ``start`` where it is empty; all that stands in it stays, byte for byte.

    The longer file takes the place of the shorter one in a single step.  To write at the end of the old one would
    not do: a system may be stopped between two pages of the disk, and a line that lies across them is then torn.
    Raises OSError, Busy, or FileExistsError for a link to nothing: in a folder that was handed round it may lead to what another program runs.
    """
    real = Path(os.path.realpath(path))
    with one_writer(real):
        sweep(real)
        for _ in range(_TRIES):
            now = path.read_bytes() if os.path.lexists(real) else b""
            if not now.strip() and path.is_symlink():
                raise FileExistsError(path)
            ended = not now or now.endswith(b"\n")
            added = (now if ended else now + b"\n") + line if now.strip() else now + start + line
            try:
                return write_whole(real, added, instead_of=now if os.path.lexists(real) else None)
            except ChangedMeanwhile:
                continue
    raise Busy(path)


def sweep(path: Path) -> None:
    """Remove what a writer that was killed left unfinished; only under ``one_writer``."""
    with contextlib.suppress(OSError):
        for left in _left(path):
            with contextlib.suppress(OSError):
                os.unlink(left)


_HELD_OPEN = (32, 33)  # what Windows says of a file, or a part of it, that another program has to itself
_WORDS = {
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EROFS: "the disk can only be read",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file would be larger than is allowed",
    errno.EIO: "the disk reports a fault",
    errno.ENOENT: "the file or its folder is gone",
    errno.ENOTDIR: "a part of that path is a file, not a folder",
    errno.EISDIR: "there is a folder of that name",
    errno.EEXIST: "there is already a file of that name",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "its links lead in a circle",
}


def in_words(problem: OSError, reading: bool = False) -> str:
    """What the system refused, as part of a sentence."""
    if getattr(problem, "winerror", None) in _HELD_OPEN:
        return "another program holds it open; close it there and try again"
    if reading and problem.errno in (errno.EACCES, errno.EPERM):
        return "you may not read it"
    return _WORDS.get(problem.errno or 0, problem.strerror or str(problem))

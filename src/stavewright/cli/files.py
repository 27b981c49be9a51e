"""Reading and writing files: whole or not at all."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

from stavewright.theory.errors import StavewrightError

_T = TypeVar("_T")


class BadFile(StavewrightError):
    """A file cannot be read or written; the message says which and why."""


def read_bytes(path: Path) -> bytes:
    """The bytes of a file ("-" reads standard input).

    Raises:
        BadFile: it is not there or cannot be read.
    """
    if str(path) == "-":
        return sys.stdin.buffer.read()
    try:
        return path.read_bytes()
    except OSError as error:
        raise BadFile(f"cannot read {path}: {error.strerror or error}") from error


def read(path: Path, reader: Callable[[bytes], _T]) -> _T:
    """A file read as one document; whatever is wrong with it is said with the file's name before it.

    Raises:
        BadFile: it cannot be read, or it does not hold that document.
    """
    data = read_bytes(path)
    try:
        return reader(data)
    except StavewrightError as error:
        raise BadFile(f"{'standard input' if str(path) == '-' else path}: {error}") from error


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is either the old one or the whole new one.

    Raises:
        BadFile: the folder cannot be made or written to.
    """
    try:
        _write(path.parent, {path.name: data})
    except OSError as error:
        raise BadFile(f"cannot write {path}: {error.strerror or error}") from error


def write_all(folder: Path, files: dict[str, bytes]) -> list[Path]:
    """Write several files into a folder, all or none: every one is ready before the first is put in its place.

    Where one cannot be put in its place after all, the others are taken back and the old ones restored.

    Raises:
        BadFile: the folder cannot be made or written to.
    """
    try:
        return _write(folder, files)
    except OSError as error:
        raise BadFile(f"cannot write into {folder}: {error.strerror or error}") from error


def _write(folder: Path, files: dict[str, bytes]) -> list[Path]:
    finals = [folder / name for name in files]
    made = [one for one in (folder, *folder.parents) if not one.exists()]
    old: dict[Path, Path | None] = {}  # what was put in its place, and where its old self is kept
    beside: list[Path] = []  # every file written next to the final ones
    try:
        folder.mkdir(parents=True, exist_ok=True)
        ready = [_beside(final, data, beside) for final, data in zip(finals, files.values(), strict=True)]
        for temporary, final in zip(ready, finals, strict=True):
            kept = _beside(final, final.read_bytes(), beside) if final.is_file() else None
            temporary.replace(final)
            old[final] = kept
    except BaseException:
        for final, kept in old.items():
            if kept is None:
                final.unlink(missing_ok=True)
            else:
                kept.replace(final)
        _clear(beside)
        for one in made:
            with suppress(OSError):
                one.rmdir()
        raise
    _clear(beside)
    return finals


def _beside(final: Path, data: bytes, beside: list[Path]) -> Path:
    """Write the bytes to a hidden file next to the final one."""
    handle, name = tempfile.mkstemp(prefix=f".{final.name}.", dir=final.parent)
    temporary = Path(name)
    beside.append(temporary)
    with os.fdopen(handle, "wb") as out:
        out.write(data)
    temporary.chmod(0o644)
    return temporary


def _clear(beside: list[Path]) -> None:
    for one in beside:
        one.unlink(missing_ok=True)

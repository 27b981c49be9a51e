"""Reading and writing files: whole or not at all."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from stavewright.theory.errors import StavewrightError


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


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is either the old one or the whole new one.

    Raises:
        BadFile: the folder cannot be made or written to.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(data)
            Path(temporary).chmod(0o644)
            Path(temporary).replace(path)
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise BadFile(f"cannot write {path}: {error.strerror or error}") from error


def write_all(folder: Path, files: dict[str, bytes]) -> list[Path]:
    """Write several files into a folder, all or none: every one is ready before the first is put in its place.

    Raises:
        BadFile: the folder cannot be made or written to.
    """
    ready: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            handle, temporary = tempfile.mkstemp(prefix=f".{name}.", dir=folder)
            ready.append((Path(temporary), folder / name))
            with os.fdopen(handle, "wb") as out:
                out.write(data)
        for temporary_path, final in ready:
            temporary_path.chmod(0o644)
            temporary_path.replace(final)
    except OSError as error:
        for temporary_path, _ in ready:
            temporary_path.unlink(missing_ok=True)
        raise BadFile(f"cannot write into {folder}: {error.strerror or error}") from error
    return [final for _, final in ready]

"""A progress bar on the error stream, only where a person is watching."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from stavewright.services.ports import Progress, silent


@contextmanager
def bar(label: str) -> Iterator[Progress]:
    """Show how far a long piece of work is; nothing when the error stream is not a terminal."""
    if not sys.stderr.isatty():
        yield silent
        return
    from rich.console import Console
    from rich.progress import Progress as RichProgress

    with RichProgress(console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task(label, total=None)

        def tell(done: int, of: int) -> None:
            shown.update(task, completed=done, total=of)

        yield tell

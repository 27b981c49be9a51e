"""Timing: the best of several runs, and a fixed loop to hold absolute times against."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter, process_time


def best(call: Callable[[], object], *, repeat: int = 7, number: int = 1) -> float:
    """Seconds for one call: the best of `repeat` runs of `number` calls."""
    found = []
    for _ in range(repeat):
        start = perf_counter()
        for _ in range(number):
            call()
        found.append((perf_counter() - start) / number)
    return min(found)


def best_cpu(call: Callable[[], object], *, repeat: int = 3) -> float:
    """Seconds of processor time for one call: the best of `repeat` runs. Other work on the machine counts less."""
    found = []
    for _ in range(repeat):
        start = process_time()
        call()
        found.append(process_time() - start)
    return min(found)


def calibration() -> float:
    """Seconds for a fixed loop of integer sums in pure Python: what "one unit" is on this machine."""

    def loop() -> int:
        total = 0
        for number in range(300_000):
            total += number % 7
        return total

    return best(loop)

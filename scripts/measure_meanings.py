"""How well typed meanings are marked: precision, recall and confusion on the labelled answers, into docs/terms.md.

With "look", what is not marked as labelled in the half for building; with "speed", readings a second.
"""

from __future__ import annotations

import hashlib
import sys
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from stavewright.syllabus.signs import Sign, all_signs
from stavewright.syllabus.terms import term_of
from stavewright.syllabus.typed_meanings import Reading, read_typed

ROOT = Path(__file__).resolve().parent.parent
LABELLED = ROOT / "tests" / "terms" / "labelled.tsv"
FRESH = ROOT / "tests" / "terms" / "fresh.tsv"
PAGE = ROOT / "docs" / "terms.md"
LABELS = ("right", "part", "wrong")
MARKS = ("right", "part", "unsure", "wrong")
BEGIN, END = "<!-- measured: begin -->", "<!-- measured: end -->"


@dataclass(frozen=True, slots=True)
class Labelled:
    """A typed answer with the label a person gave it; `kept` lines are for the report only."""

    key: str
    typed: str
    label: str
    why: str

    @property
    def kept(self) -> bool:
        """Whether the line is kept apart."""
        return hashlib.sha256(f"{self.key}\t{self.typed}".encode()).digest()[0] % 2 == 1


def labelled() -> tuple[Labelled, ...]:
    """Every labelled answer."""
    lines = [line for line in LABELLED.read_text("utf-8").splitlines() if not line.startswith("#")]
    return tuple(Labelled(*line.split("\t")) for line in lines[1:])


def fresh() -> tuple[Labelled, ...]:
    """The answers that were written when the rules were finished."""
    lines = [line for line in FRESH.read_text("utf-8").splitlines() if not line.startswith("#")]
    return tuple(Labelled(*line.split("\t"), "") for line in lines[1:])


def _sign(name: str) -> Sign:
    return next(sign for sign in all_signs().values() if sign.name == name)


def read(one: Labelled) -> Reading:
    """How the program reads a labelled answer."""
    name, language = one.key.split("|")
    if language == "sign":
        sign = _sign(name)
        return read_typed(one.typed, sign.right("meaning"), sign.right("name"))
    term = term_of(one.key)
    return read_typed(one.typed, term.meanings, (term.term, *term.other))


@dataclass(frozen=True, slots=True)
class Figures:
    """Precision and recall of "right", how many are unsure, and the confusion table (label, mark) -> count."""

    precision: float
    recall: float
    unsure: float
    table: Counter[tuple[str, str]]
    count: int


def figures(lines: Sequence[Labelled]) -> Figures:
    """The figures of a set of labelled answers."""
    table = Counter((one.label, read(one).mark) for one in lines)
    given = sum(table[label, "right"] for label in LABELS)
    right = sum(table["right", mark] for mark in MARKS)
    unsure = sum(table[label, "unsure"] for label in LABELS)
    hits = table["right", "right"]
    return Figures(hits / given, hits / right, unsure / len(lines), table, len(lines))


def _shown(title: str, found: Figures) -> Iterable[str]:
    yield f"**{title}**, {found.count} answers: precision of “right” {found.precision:.3f}, recall {found.recall:.3f},"
    yield f"unsure {found.unsure:.1%}."
    yield ""
    yield "| labelled | " + " | ".join(f"marked {mark}" for mark in MARKS) + " |"
    yield "|---" * (len(MARKS) + 1) + "|"
    for label in LABELS:
        yield f"| {label} | " + " | ".join(str(found.table[label, mark]) for mark in MARKS) + " |"
    yield ""


def page_part() -> str:
    """The measured part of the page."""
    every = labelled()
    kept = [one for one in every if one.kept]
    text = [*_shown("Kept half", figures(kept)), *_shown("All", figures(every))]
    text += _shown("Fresh", figures(fresh()))
    return "\n".join((BEGIN, *text, END))


def main() -> None:
    """Write the figures into the page; with "look", show what is not marked as labelled in the half for building."""
    if "look" in sys.argv:
        for one in labelled():
            if not one.kept and (got := read(one)).mark != one.label:
                sys.stdout.write(f"{one.label} -> {got.mark} | {one.key} | {one.typed} | {got.why} {got.mended}\n")
        build = figures([one for one in labelled() if not one.kept])
        sys.stdout.write(f"building half: precision {build.precision:.3f}, recall {build.recall:.3f}, ")
        sys.stdout.write(f"unsure {build.unsure:.1%}\n")
        return
    if "speed" in sys.argv:
        lines = labelled()
        for one in lines[:5]:
            read(one)
        start = time.perf_counter()
        for one in lines:
            read(one)
        sys.stdout.write(f"{len(lines) / (time.perf_counter() - start):,.0f} readings a second, each new\n")
        return
    before, _, rest = PAGE.read_text("utf-8").partition(BEGIN)
    PAGE.write_text(before + page_part() + rest.partition(END)[2], "utf-8")


if __name__ == "__main__":
    main()

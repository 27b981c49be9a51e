"""Measure what each family of questions is aimed at (mean chance at three abilities) and keep it as data.

Run after a kind's `difficulty` or a scope changes; a test holds the data near what is measured.
"""

from __future__ import annotations

import json
from pathlib import Path
from random import Random
from statistics import fmean

from stavewright.papers.expected import chance, guess_of
from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.services.set_questions import set_questions
from stavewright.services.verify import cases
from stavewright.wiring import composed_melodies

FILE = Path(__file__).parent.parent / "src" / "stavewright" / "papers" / "targets.json"
QUESTIONS = 100


def measured(kind: str, grade: int, edition: str, count: int = QUESTIONS) -> list[float]:
    """The mean chance of full marks at each ability over so many questions."""
    first = Random(f"targets/{kind}/{grade}").randrange(10**6)
    rows = [
        chance(kind_of(kind).difficulty(facts_of(question)), guess_of(question))
        for question in set_questions(
            kind=kind, grade=grade, edition=edition, count=count, seed=first, melodies=composed_melodies()
        )
    ]
    return [round(fmean(column), 3) for column in zip(*rows, strict=True)]


def main() -> None:
    """Measure every family at every grade in both editions."""
    found = {f"{kind}/{grade}/{edition}": measured(kind, grade, edition) for kind, grade, edition in cases()}
    FILE.write_text(json.dumps(found, indent=1, sort_keys=True) + "\n", "utf-8")


if __name__ == "__main__":
    main()

"""Papers whose facts were tampered with: refused by name or marked as they stand, never a crash, never a hang."""

from __future__ import annotations

import copy
import json
import signal
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from papers.small_papers import paper_of
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Script
from stavewright.questions.catalogue import kinds
from stavewright.services.documents import as_json, read_paper
from stavewright.services.set_questions import set_questions
from stavewright.theory.errors import StavewrightError
from stavewright.wiring import composed_melodies

HOSTILE = (10**18, -(10**18), 100_000, -7, 0, "", "zzz", "H", "C\n", None, [], {}, True, 1.5)
PLACES = 25
"""Places of the facts tampered with, a question."""
PATIENCE = 2.0
"""Seconds within which any paper of one question is read and marked; most take a thousandth of that."""


def places(value: Any, here: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value inside a JSON value, itself included."""
    yield here
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inner:
        yield from places(one, (*here, key))


def tampered(value: Any, place: tuple[Any, ...], wrong: Any) -> Any:
    if not place:
        return wrong
    changed = copy.deepcopy(value)
    inner = changed
    for key in place[:-1]:
        inner = inner[key]
    inner[place[-1]] = wrong
    return changed


@pytest.fixture(autouse=True)
def _patience() -> Iterator[None]:
    """A paper that keeps the program busy is a failure, not a wait."""

    def enough(*_: object) -> None:
        raise TimeoutError("the program is still busy with it")

    before = signal.signal(signal.SIGALRM, enough)
    yield
    signal.setitimer(signal.ITIMER_REAL, 0)
    signal.signal(signal.SIGALRM, before)


def outcome(document: Any) -> str:
    """What becomes of a paper: "refused" by name, or "marked"; anything else is raised."""
    signal.setitimer(signal.ITIMER_REAL, PATIENCE)
    try:
        paper = read_paper(json.dumps(document).encode())
        mark_script(paper, Script(paper.id, {}))
        mark_script(paper, fill(paper, ability=-3, seed=1))
    except StavewrightError:
        return "refused"
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
    return "marked"


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.id)
def test_tampered_facts_never_crash(kind: Any) -> None:
    """Whatever stands in the facts, the paper is refused by a named error or marked."""
    found = {"refused": 0, "marked": 0}
    for edition in kind.forms:
        (question,) = set_questions(
            kind=kind.id, grade=5, edition=edition, count=1, seed=29, melodies=composed_melodies()
        )
        document = json.loads(as_json(paper_of([question], 5)))
        facts = document["sections"][0]["questions"][0]["facts"]
        everywhere = sorted(places(facts), key=str)
        for place in Random(1).sample(everywhere, min(PLACES, len(everywhere))):
            for wrong in HOSTILE:
                document["sections"][0]["questions"][0]["facts"] = tampered(facts, place, wrong)
                try:
                    found[outcome(document)] += 1
                except Exception as fault:
                    raise AssertionError(f"{place} = {wrong!r}: {type(fault).__name__}: {fault}") from fault
    assert found["refused"] > 0

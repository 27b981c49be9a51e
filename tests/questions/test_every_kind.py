"""The promises that every kind of question keeps; a new kind is tested by existing."""

from __future__ import annotations

import ast
import inspect
import re
from pathlib import Path
from types import ModuleType

import pytest

from stavewright.questions import catalogue
from stavewright.questions.catalogue import kinds
from stavewright.questions.kind import Kind
from stavewright.services.verify import cases, verify_case
from stavewright.syllabus.edition import EDITIONS
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

SEEDS = 50
"""Questions a case, always the same ones; `stavewright verify --seeds 2000` does many more."""

# Kinds that have been released: stored papers must still mark, so an id never leaves this list.
RELEASED = (
    "accidental-in-force add-the-bar-lines add-the-time-signature alter-the-interval anacrusis-balance "
    "answer-the-rhythm arpeggio beam-the-bar beats-under-notes broken-chord cadence-chords can-it-play "
    "chord-and-inversion chord-fault chord-in-texture chromatic-scale clef-and-accidentals compare-bars "
    "complete-the-bar complete-the-scale continue-the-sequence copy-the-bars count-in-the-extract degree-name "
    "degree-number describe-the-metre dot-or-tie draw-the-value enharmonic-twin find-in-the-extract "
    "find-the-faulty-bar finish-the-melody fit-the-key four-part-chord higher-or-lower how-many-in "
    "instrument-facts instruments-in-order "
    "interval-in-a-melody interval-number invert-the-interval key-for-the-player key-of-a-melody meaning-term "
    "metronome-mark minor-form name-the-cadence name-the-form name-the-interval name-the-note name-the-scale "
    "name-the-signature name-the-tonic-triad new-time-values octave-shift order-by-length ornament-name "
    "ornament-realised perform-the-extract place-the-sign primary-triads proof-read relative-key "
    "rhythm-for-words road-map same-pitch-other-clef scale-fault semitones-in-a-scale set-the-words "
    "short-and-open-score sign-meaning simple-to-compound "
    "sounding-pitch stem-direction term-in-extract term-language term-match term-meaning term-odd-one-out "
    "terms-in-order time-signature-meaning tone-or-semitone total-value transpose-the-melody transposing-or-not "
    "true-of-the-extract tune-on-a-rhythm tuplet-value value-name voices which-clef which-grouping which-signature "
    "which-transposition why-so with-and-without-signature write-the-chord write-the-interval write-the-note "
    "write-the-scale write-the-signature write-the-tonic-triad"
).split()


@pytest.mark.parametrize(("kind", "grade", "edition"), cases())
def test_every_promise_holds(kind: str, grade: int, edition: str) -> None:
    """Setter and solver agree, right answers earn full marks, slips do not, one option is right, sheets are shut."""
    found = verify_case(kind, grade, edition, seed=1000, count=SEEDS, melodies=composed_melodies())
    assert found.problems == ()


def test_no_released_kind_has_vanished() -> None:
    """A released kind id never disappears: stored papers must still mark."""
    assert set(RELEASED) <= set(kinds())


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.id)
def test_a_kind_says_what_it_is(kind: Kind) -> None:
    """Every kind has a title, a first grade from 1 to 5, forms for known editions, seconds, marks and a pool."""
    assert kind.title
    assert 1 <= kind.since <= 5
    assert set(kind.forms) <= set(EDITIONS)
    assert 3 <= kind.seconds <= 1200
    assert kind.marks >= 1
    for grade in range(kind.since, 6):
        pool = kind.pool(scope_for(grade))
        assert pool is None or pool >= 2


def _module(kind: Kind) -> ModuleType:
    found = inspect.getmodule(kind.set)
    assert found is not None
    return found


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.id)
def test_a_kind_asks_the_scope_not_the_grade(kind: Kind) -> None:
    """No kind decides by the number of the grade: the scope says what may be used."""
    source = Path(catalogue.__file__).parent / "kinds" / f"{kind.id.replace('-', '_')}.py"
    tree = ast.parse(source.read_text("utf-8"))
    names = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    names |= {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    assert not [name for name in names if re.fullmatch(r"grade\w*", name)]


def _reach(module: ModuleType, start: str) -> set[str]:
    """The functions of the questions layer that a function of a kind's file reaches, by name."""
    tree = ast.parse(inspect.getsource(module))
    functions = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    imported = {
        alias.asname or alias.name: f"{node.module}.{alias.name}"
        for node in tree.body
        if isinstance(node, ast.ImportFrom) and node.module
        for alias in node.names
    }
    seen: set[str] = set()
    found: set[str] = set()
    waiting = [start]
    while waiting:
        name = waiting.pop()
        if name in seen or name not in functions:
            continue
        seen.add(name)
        found.add(name)
        for node in ast.walk(functions[name]):
            if isinstance(node, ast.Name):
                waiting.append(node.id)
                if imported.get(node.id, "").startswith("stavewright.questions"):
                    found.add(imported[node.id])
    return found


# Records that carry facts and answers between the two; they decide nothing.
CARRIERS = re.compile(r"stavewright\.questions\.(documents|values|kind|melodies|score_document|wording)\.", re.ASCII)


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.id)
def test_setter_and_solver_share_no_function(kind: Kind) -> None:
    """Double entry: what sets a question and what solves it share no function above theory and score."""
    module = _module(kind)
    setter = _reach(module, kind.set.__name__)
    solver = _reach(module, kind.solve.__name__)
    shared = {name for name in setter & solver if not CARRIERS.match(name)}
    assert not shared


def test_the_double_entry_test_can_fail() -> None:
    """A kind whose setter calls its solver's function is found out."""
    source = "def _same(x):\n    return x\ndef _set(x):\n    return _same(x)\ndef _solve(x):\n    return _same(x)\n"
    module = ModuleType("faulty")
    functions = {node.name for node in ast.parse(source).body if isinstance(node, ast.FunctionDef)}
    assert functions == {"_same", "_set", "_solve"}
    original = inspect.getsource
    try:
        inspect.getsource = lambda _: source  # type: ignore[assignment]
        assert _reach(module, "_set") & _reach(module, "_solve") == {"_same"}
    finally:
        inspect.getsource = original

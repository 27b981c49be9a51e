"""A tune to a rhythm: the report worked by hand, marks for tunes that are not the model, every slip."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.criterion import lost
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.tune_on_a_rhythm import KIND, TuneOnARhythm
from stavewright.questions.score_mirror import document_of
from stavewright.questions.solving.tune_report import triad_of, tune_report
from stavewright.questions.values import Value, WrittenNote
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import ALL_KEYS, Key

ID = "tune-on-a-rhythm"
RHYTHM = extract("B4/1 B4/q B4/q | B4/1 B4/1 | B4/2", "2/4")
FACTS = TuneOnARhythm(document_of(RHYTHM), "D major")
VALUES = ("crotchet", "quaver", "quaver", "crotchet", "crotchet", "minim")


def tune(names: str, values=VALUES, **more) -> Value:
    """Notes such as "F4" or "F#4" (with a printed sharp) in the given values."""
    return Value(
        notes=tuple(
            WrittenNote(name[0], octave=int(name[-1]), type=value, accidental="sharp" if "#" in name else None)
            for name, value in zip(names.split(), values, strict=False)
        ),
        **more,
    )


def losses(names: str, values=VALUES) -> dict[str, int]:
    rhythm = [note.duration for note in RHYTHM.notes()]
    return {line.name: line.lost for line in tune_report(tune(names, values).notes, rhythm, Key.parse("D major"))}


# Worked by hand in D major (tonic triad D, F sharp, A: Gehrkens, Music Notation and Terminology, 1914, chords).
@pytest.mark.parametrize(
    ("names", "wrong"),
    [
        ("D4 F4 A4 D5 A4 D4", {}),
        ("A4 F#4 D4 F4 A4 D5", {}),
        ("D4 F4 A4 D5 F4 A4", {"ending": 1}),
        ("D4 E4 A4 D5 F4 D4", {"notes": 1}),
        ("D4 E4 G4 B4 F4 D4", {"notes": 2, "shape": 1}),
        ("D4 D4 A4 D4 A4 D4", {"shape": 1}),
        ("D4 F4 A5 D5 A4 D4", {"shape": 1}),
        ("D4 F4 A4 D5 D4", {"rhythm": 1}),
        ("G4 G4 G4 G4 G4 G4", {"notes": 2, "ending": 1, "shape": 1}),
    ],
)
def test_the_report_worked_by_hand(names, wrong):
    assert {criterion: marks for criterion, marks in losses(names).items() if marks} == wrong


def test_every_triad_is_music21s():
    for key in ALL_KEYS:
        tonic = music21.key.Key(key.tonic.short.replace("b", "-"), key.mode)
        root = music21.roman.RomanNumeral("I" if key.mode == "major" else "i", tonic)
        assert [p.name for p in root.pitches] == [
            text.replace(" sharp", "#").replace(" flat", "-") for text in triad_of(key)
        ]


def test_another_good_tune_earns_full_marks():
    draft = Draft(FACTS, KIND.solve(FACTS)[0].value)
    question = ask(KIND, draft, id="q", grade=2, edition="written", seed=1)
    assert mark_question(question, (tune("A4 F4 D4 F4 A4 D5"),)).marks == 5
    assert mark_question(question, (tune("A4 F4 D4 F4 A4 A4"),)).marks == 4
    assert mark_question(question, (tune("A4 E4 D4 G4 F4 A4"),)).marks == 2
    assert mark_question(question, ()).marks == 0


def test_every_slip():
    assert slip_texts(ID, FACTS) == {
        "not ended on the tonic": "D, F sharp, A, A, F sharp, A",
        "notes outside the triad": "D, E, A, A, E, D",
        "one note all through": "D, D, D, D, D, D",
        "rhythm not kept": "D, F sharp, A, A, F sharp, D, all in crotchets",
    }


@pytest.mark.parametrize("grade", [2, 5])
def test_the_model_keeps_every_rule(grade):
    for seed in range(40):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        if draft is not None:
            assert lost(KIND.report(draft.facts, KIND.solve(draft.facts)[0].value[0])) == 0
            assert lost(KIND.report(draft.facts, draft.expected)) == 0
            assert len(KIND.solve(draft.facts)) == 2


def test_a_rhythm_of_few_notes_is_refused():
    with pytest.raises(BadDocument):
        TuneOnARhythm(document_of(extract("B4/2 | B4/2", "2/4")), "D major")


def test_the_examples_are_two_tunes():
    """One from the tonic up and home below, one from the fifth that ends above."""
    assert texts(ID, FACTS) == ["D, F sharp, A, A, F sharp, D", "A, F sharp, D, D, F sharp, D"]
    first, second = (one.value[0].notes for one in KIND.solve(FACTS))
    assert (first[0].octave, first[-1].octave, second[-1].octave) == (4, 4, 5)


def test_hardly_anything_written_earns_nothing():
    """Two notes of six are no tune, though both are the tonic."""
    assert losses("D4 D4") == {"rhythm": 1, "notes": 2, "ending": 1, "shape": 1}
    assert losses("D4 F4 D4") == {"rhythm": 1, "notes": 0, "ending": 0, "shape": 1}

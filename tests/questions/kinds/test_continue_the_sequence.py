"""The next link of a sequence: worked cases, every slip, and music21 as a second opinion on diatonic moving."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.hand_written import extract, pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.continue_the_sequence import KIND, ContinueTheSequence
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.syllabus.scope import scope_for

ID = "continue-the-sequence"


def facts(text: str, time: str = "2/4", fifths: int = 0) -> ContinueTheSequence:
    return ContinueTheSequence(document_of(extract(text, time, fifths)))


# A diatonic sequence repeats the pattern on other degrees of the same key, so a major 3rd may become a minor one
# (Open Music Theory, version 1, "sequences"); worked by hand.
@pytest.mark.parametrize(
    ("text", "fifths", "right"),
    [
        ("C5/q E5/q D5/1 | D5/q F5/q E5/1", 0, "E, G, F"),
        ("B4/q A4/q G4/1 | A4/q G4/q F#4/1", 1, "G, F sharp, E"),
        ("G4/q Bb4/q D5/1 | Eb4/q G4/q Bb4/1", -2, "C, E flat, G"),
        ("C4/1 G4/q C4/q | E4/1 B4/q E4/q", 0, "G, D, G"),
    ],
)
def test_worked_by_hand(text, fifths, right):
    assert texts(ID, facts(text, fifths=fifths)) == [right]


def test_every_slip():
    assert slip_texts(ID, facts("C5/q E5/q D5/1 | D5/q F5/q E5/1")) == {
        "moved exactly, out of the key": "E, G, F sharp",
        "moved one step too far": "F, A, G",
        "last bar again": "D, F, E",
        "back to the first bar": "C, E, D",
        "turned upside down": "E, C, D",
        "shape lost at the end": "E, G, G",
    }


def test_marks():
    two = facts("C5/q E5/q D5/1 | D5/q F5/q E5/1")
    draft = next(d for d in (KIND.set(scope_for(3), Random(s), None, None) for s in range(9)) if d)
    question = ask(KIND, type(draft)(two, KIND.solve(two)[0].value), id="q", grade=3, edition="written", seed=1)
    assert mark_question(question, KIND.solve(two)[0].value).marks == 3
    crotchets = pupil_wrote("E5 G5 F5", "crotchet")
    assert mark_question(question, (crotchets,)).marks == 1


def test_two_bars_that_are_no_sequence_are_refused():
    for text in ("C5/1 D5/1 | C5/1 D5/1", "C5/1 D5/1 | D5/1 F5/1", "C5/1 D5/1", "C5/1 D5/1 | E5/2"):
        with pytest.raises(BadDocument):
            facts(text)


def test_music21_moves_the_same_way_in_the_key():
    """music21's scale object steps every note on by the same number of degrees."""
    for seed in range(60):
        draft = KIND.set(scope_for(3 + seed % 3), Random(seed), None, None)
        if draft is None:
            continue
        stave = score_of(draft.facts.music).staves[0]
        tonic = music21.key.KeySignature(stave.fifths).asKey("major")
        first, second = ([note.pitch for note in bar.events] for bar in stave.bars)
        shift = second[0].diatonic - first[0].diatonic
        for before, after in zip(second, KIND.solve(draft.facts)[0].value[0].notes, strict=True):
            here = music21.pitch.Pitch(before.short.replace("b", "-"))
            way = music21.scale.Direction.ASCENDING if shift > 0 else music21.scale.Direction.DESCENDING
            there = tonic.getScale().nextPitch(here, way, stepSize=abs(shift))
            assert (there.step, there.octave) == (after.step, after.octave)


def test_the_rules_of_kinds():
    keeps_the_rules(ID)

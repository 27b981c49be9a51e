"""A melody with accidentals in the place of its signature, and back."""

from __future__ import annotations

import msgspec
import music21
import pytest

from questions.asking_many import asked, drafts
from questions.tiny_melodies import TinyMelodies
from questions.written_melodies import crotchets, names_of, signs_of
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.with_and_without_signature import KIND, WithAndWithoutSignature
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.score.stave import Score
from stavewright.tunes.composed import ComposedMelodies

REMOVE = WithAndWithoutSignature(crotchets("F#4 C#5 F#4 F#5", "F#4 G#4 A4 D5", fifths=2), "D major")
ADD = WithAndWithoutSignature(crotchets("Bb4 C#5 D5 Bb4", "Bb4 A4 E5 D5"), "D minor")


def right(shown: WithAndWithoutSignature) -> Value:
    return KIND.solve(shown)[0].value[0]


def marks(shown: WithAndWithoutSignature, value: Value) -> int:
    question = ask(KIND, Draft(shown, right(shown)), id="q", grade=3, edition="written", seed=1)
    return mark_question(question, (value,)).marks


def test_accidentals_in_the_place_of_the_signature() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §24: a sign holds in its bar, on its own line or space."""
    value = right(REMOVE)
    assert value.signature is None
    assert signs_of(value) == ["sharp", "sharp", None, "sharp", "sharp", "sharp", None, None]


def test_a_signature_in_the_place_of_accidentals() -> None:
    """D minor has one flat and a raised 7th beside its notes (Gehrkens §§86, 89)."""
    value = right(ADD)
    assert value.signature == -1
    assert signs_of(value) == [None, "sharp", None, None, None, None, None, None]


def test_a_natural_against_the_signature_is_kept_or_dropped() -> None:
    bare = WithAndWithoutSignature(crotchets("F#4 F4 E4 D4", fifths=1), "G major")
    assert signs_of(right(bare)) == ["sharp", "natural", None, None]
    back = WithAndWithoutSignature(crotchets("F4 F#4 E4 D4"), "G major")
    assert signs_of(right(back)) == ["natural", "sharp", None, None]


def test_a_sign_that_says_it_again_is_no_fault() -> None:
    """Reminders are never penalised (common practice)."""
    value = right(ADD)
    kept = (msgspec.structs.replace(value.notes[0], accidental="flat"), *value.notes[1:])
    assert marks(ADD, msgspec.structs.replace(value, notes=kept)) == 4


def test_every_slip_without_a_signature() -> None:
    found = {one.name: signs_of(one.value[0]) for one in KIND.slips(REMOVE)}
    assert found == {
        "sign not repeated after the bar line": ["sharp", "sharp", None, "sharp", None, "sharp", None, None],
        "sign not repeated in another octave": ["sharp", "sharp", None, None, "sharp", "sharp", None, None],
        "signature forgotten": [None, None, None, None, None, "sharp", None, None],
        "last sign of the signature forgotten": ["sharp", None, None, "sharp", "sharp", "sharp", None, None],
        "signature kept": [None, None, None, None, None, "sharp", None, None],
    }
    assert marks(REMOVE, right(REMOVE)) == 4
    assert marks(REMOVE, {one.name: one.value[0] for one in KIND.slips(REMOVE)}["signature kept"]) <= 2


def test_every_slip_with_a_signature() -> None:
    found = {one.name: one.value[0] for one in KIND.slips(ADD)}
    assert {name: (value.signature, signs_of(value)[1]) for name, value in found.items()} == {
        "signs dropped that are still needed": (-1, None),
        "signature not written": (0, None),
        "one sign too many": (-2, "sharp"),
        "one sign too few": (0, "sharp"),
    }
    assert marks(ADD, found["one sign too many"]) == 3
    assert marks(ADD, msgspec.structs.replace(right(ADD), signature=None)) == 3


def test_key_and_signature_must_go_together() -> None:
    with pytest.raises(BadDocument, match="do not go together"):
        WithAndWithoutSignature(crotchets("F#4 G4", fifths=1), "D major")
    with pytest.raises(BadDocument):
        WithAndWithoutSignature(crotchets("F4 G4"), "C major")


def heard(score: Score) -> list[str]:
    """What music21 hears of the printed signs alone: its own stream of measures, signature and accidentals."""
    stave = score.staves[0]
    signature = music21.key.KeySignature(stave.fifths or 0)
    names = {"sharp": "#", "flat": "-", "natural": "n", "double-sharp": "##", "flat-flat": "--"}
    found = []
    tied = None
    for bar in stave.bars:
        force = {}
        for event in bar.events:
            for pitch, sign in zip(getattr(event, "pitches", ()), getattr(event, "accidentals", ()), strict=True):
                here = music21.pitch.Pitch(pitch.step, octave=pitch.octave)
                own = signature.accidentalByStep(pitch.step)
                if sign is not None:
                    force[here.nameWithOctave] = music21.pitch.Accidental(names[sign])
                accidental = force.get(here.nameWithOctave, own)
                if sign is None and tied is not None and tied[0] == here.nameWithOctave:
                    accidental = tied[1]
                tied = (here.nameWithOctave, accidental) if event.tie else None
                here.accidental = accidental
                found.append(here.ps)
    return found


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_music21_hears_the_same_before_and_after(source: object) -> None:
    ways = set()
    for _, draft in drafts("with-and-without-signature", 40, melodies=source):
        shown = score_of(draft.facts.melody)
        answer = KIND.draw(draft.facts, right(draft.facts))
        assert heard(shown) == heard(answer)
        assert (shown.staves[0].fifths is None) != (answer.staves[0].fifths is None)
        ways.add(shown.staves[0].fifths is None)
    assert ways == {True, False}


def test_one_option_sounds_the_same_in_the_way_asked_for() -> None:
    for _, draft, question in asked("with-and-without-signature", 12, melodies=TinyMelodies()):
        form = question.response[0]
        if isinstance(form, ChoiceForm):
            good = [one for one in form.options if is_right(one.value, KIND.solve(draft.facts), KIND)]
            same = [one for one in form.options if heard(score_of(one.score)) == heard(score_of(draft.facts.melody))]
            assert len(good) == 1
            assert good[0] in same


def test_any_answer_can_be_drawn() -> None:
    for value in (Value(notes=()), Value(notes=(WrittenNote("F", octave=2, accidental="odd", type="odd"),) * 8)):
        assert faults(KIND.draw(ADD, value)) == []
    assert names_of(right(ADD)) == "B4 C5 D5 B4 B4 A4 E5 D5"

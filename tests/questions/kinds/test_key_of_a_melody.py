"""Name the key of a provable extract."""

from __future__ import annotations

from random import Random

import pytest

from questions.asking_many import answer_words, asked, slip_words
from questions.tiny_melodies import TinyMelodies, stimulus
from stavewright.questions.kinds.key_of_a_melody import KIND, KeyOfAMelody
from stavewright.questions.score_mirror import document_of
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.score.writing import row_of, with_accidentals
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


def tune(text: str, fifths: int) -> KeyOfAMelody:
    row = row_of([Pitch.parse(p) for p in text.split()], "crotchet")
    return KeyOfAMelody(document_of(with_accidentals(single("treble", row, fifths))))


# Worked by hand. "The same signature, told apart by last note and raised 7th": common practice.
TUNES = [
    ("G4 B4 D5 C5 B4 A4 F#4 G4", 1, "G major"),
    ("E4 G4 B4 A4 G4 F#4 D#4 E4", 1, "E minor"),
    ("Bb4 D5 F5 Eb5 C5 A4 Bb4", -2, "B flat major"),
    ("D5 C#5 D5 F5 E5 C#5 D5", -1, "D minor"),
    ("C5 E5 G5 F5 E5 D5 B4 C5", 0, "C major"),
]


@pytest.mark.parametrize("text, fifths, key", TUNES)
def test_signature_last_note_and_leading_note(text, fifths, key):
    assert answer_words("key-of-a-melody", tune(text, fifths)) == [key]


def test_both_relatives_are_taken_where_nothing_proves_the_key():
    # A tune in A with no G sharp proves neither C major nor A minor.
    unproved = tune("A4 C5 E5 D5 C5 B4 A4", 0)
    assert answer_words("key-of-a-melody", unproved) == ["A minor", "C major"], "it ends on A, so A minor comes first"
    assert "or C major: the notes do not prove which" in KIND.work(unproved, "usual")[-2].text


def test_every_slip():
    assert slip_words("key-of-a-melody", tune("B4 E4 G4 D#4 E4", 1)) == {
        "relative without looking for the leading note": "G major",
        "first note taken for the tonic": "B minor",
        "major and minor mixed": "E major",
        "signature miscounted": "B minor",
    }


def test_the_working_points_at_the_leading_notes():
    steps = KIND.work(tune("E4 D#4 E4 F#4 D#4 E4", 1), "usual")
    assert steps[1].points_at == ("n2", "n5")
    assert steps[2].points_at == ("n6",)


def test_a_raised_seventh_that_is_natural_is_called_so():
    """In C minor the raised 7th is B natural: B alone could be taken for the B flat of the signature."""
    assert "B natural" in KIND.work(tune("C5 B4 C5 Eb5 C5", -3), "usual")[1].text
    assert KIND.work(tune("Eb4 F4 G4 Eb4", -3), "usual")[1].text == "It has no B natural, the raised 7th of C minor."


def test_a_first_note_with_too_many_signs_for_one_mode_is_taken_in_the_other():
    """D sharp begins: a pupil says D sharp minor, as D sharp major has no signature (common practice)."""
    found = slip_words("key-of-a-melody", tune("D#5 B4 D#5 A#4 B4", 5))
    assert found["first note taken for the tonic"] == "D sharp minor"


def test_a_stimulus_without_a_proved_key_or_outside_the_grade_is_refused():
    from dataclasses import replace

    scope = scope_for(1)
    base = stimulus(scope, 3)
    assert KIND.set(scope, Random(1), base, None) is not None
    assert KIND.set(scope, Random(1), replace(base, extract=replace(base.extract, key=None)), None) is None
    far = replace(base, extract=replace(base.extract, key=Key.parse("B flat minor")))
    assert KIND.set(scope, Random(1), far, None) is None
    assert KIND.set(scope, Random(1), None, None) is None


def test_questions_are_fair():
    count = 0
    for _, draft, question in asked("key-of-a-melody", 12, melodies=TinyMelodies()):
        count += 1
        assert question.prompt[1].id == ""
        assert draft.expected not in " ".join(block.alt for block in question.prompt if hasattr(block, "alt"))
    assert count == 12 * 5 * 2


def test_music21_would_call_the_tonic_the_same():
    # music21's own key finder is a profile and proves nothing (not used); its signature and last note do.
    import music21

    for seed in range(30):
        scope = scope_for(5)
        shown = stimulus(scope, seed)
        draft = KIND.set(scope, Random(seed), shown, None)
        notes = [event for event in shown.extract.score.events() if isinstance(event, Note)]
        stream = music21.stream.Stream()
        stream.append(music21.key.KeySignature(shown.extract.score.staves[0].fifths))
        for note in notes:
            stream.append(music21.note.Note(note.pitch.short.replace("b", "-")))
        last = stream.notes[-1].pitch
        signature = stream.keySignature or stream.recurse().getElementsByClass(music21.key.KeySignature).first()
        names = {signature.asKey(mode).tonic.name: mode for mode in ("major", "minor")}
        assert draft.expected.rsplit(" ", 1)[1] == names[last.name]

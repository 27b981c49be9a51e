"""Naming intervals: the published intervals, every other name a marker takes, the slips, and another program."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.catalogue import kind
from stavewright.questions.comparing import compare
from stavewright.questions.documents import StaveBlock
from stavewright.questions.kinds.name_the_interval import KIND, NameTheInterval
from stavewright.questions.score_mirror import score_of
from stavewright.questions.solving.intervals import METHODS, split_name
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.interval import Interval
from stavewright.theory.pitch import Pitch

# Gehrkens, Music Notation and Terminology (1914) §§184-197; those marked J from Schmidt-Jones, Understanding Basic
# Music Theory, m10867; O from Open Music Theory, version 1, "Intervals".
PUBLISHED = {
    "C4 C#4": "augmented unison", "B3 C4": "minor 2nd", "F4 Gb4": "minor 2nd", "B3 C#4": "major 2nd",
    "Bb3 C4": "major 2nd", "Gb4 Ab4": "major 2nd", "F4 G#4": "augmented 2nd", "C4 D#4": "augmented 2nd",  # J
    "C4 Dbb4": "diminished 2nd",  # J
    "C4 Ebb4": "diminished 3rd", "E4 G4": "minor 3rd", "Eb4 G4": "major 3rd", "E4 G#4": "major 3rd",
    "C4 E#4": "augmented 3rd",  # J
    "C#4 F4": "diminished 4th", "C4 F4": "perfect 4th", "C4 F#4": "augmented 4th", "C4 Gb4": "diminished 5th",
    "Eb4 Bb4": "perfect 5th",  # J
    "C4 G#4": "augmented 5th", "C4 Abb4": "diminished 6th",  # J
    "E4 C5": "minor 6th", "C4 A4": "major 6th", "C4 A#4": "augmented 6th", "C4 Bbb4": "diminished 7th",
    "C4 Bb4": "minor 7th", "C4 B4": "major 7th", "C4 B#4": "augmented 7th",  # J
    "C4 Cb5": "diminished octave", "C4 C5": "perfect octave", "C4 C#5": "augmented octave",
    "C4 E5": "major 10th",  # O
}  # fmt: skip


def pair(notes: str, **more: object) -> NameTheInterval:
    first, second = notes.split()
    return NameTheInterval("treble", first, second, False, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("notes, name", PUBLISHED.items())
def test_published_intervals_have_their_published_names(notes: str, name: str) -> None:
    assert texts("name-the-interval", pair(notes))[0] == name
    turned = " ".join(reversed(notes.split()))
    assert texts("name-the-interval", pair(turned))[0] == name, "an interval downwards has the same name"


# Gehrkens (1914) §193 and Open Music Theory, version 1: a 10th is an octave and a 3rd; octave and 8th, unison and
# prime: Gehrkens §184; the chromatic semitone: common practice.
@pytest.mark.parametrize(
    "notes, said",
    [
        ("C4 E5", "compound major 3rd"), ("C4 E5", "compound major third"), ("C4 E5", "Major tenth"),
        ("C4 C5", "perfect 8th"), ("C4 C5", "octave"), ("C4 C5", "Perfect octave"),
        ("C4 C#4", "augmented prime"), ("C4 C#4", "chromatic semitone"), ("F4 B4", "augmented 4th (tritone)"),
        ("C4 Eb4", "min. 3rd"), ("D4 E5", "compound major 2nd"), ("C4 G5", "perfect twelfth"),
    ],
)  # fmt: skip
def test_every_other_name_is_taken(notes: str, said: str) -> None:
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in KIND.solve(pair(notes)))


@pytest.mark.parametrize(
    "notes, said", [("C4 E5", "major 3rd"), ("F4 B4", "tritone"), ("F4 B4", "diminished 5th"), ("C4 Eb4", "3rd")]
)
def test_what_is_not_the_whole_name_is_not_taken(notes: str, said: str) -> None:
    assert not any(compare(Value(words=said), one.value[0], KIND.marking).same for one in KIND.solve(pair(notes)))


@pytest.mark.parametrize(
    "said, number, quality",
    [
        ("minor 6th", "6", "m"), ("6th", "6", ""), ("a sixth", "6", ""), ("compound major 3rd", "10", "M"),
        ("compound 3rd", "10", ""), ("octave", "8", ""), ("augmented 4th (tritone)", "4", "A"),
        ("no idea", "", ""),
    ],
)  # fmt: skip
def test_number_and_quality_are_marked_apart(said: str, number: str, quality: str) -> None:
    assert split_name(Value(words=said)) == (number, quality)


def test_each_slip_gives_the_answer_of_its_wrong_rule() -> None:
    # D up to B flat: B flat major holds D, so by the upper note it looks major.
    slips = slip_texts("name-the-interval", pair("D4 Bb4"))
    assert slips["quality by the upper note"] == "major 6th"
    assert slips["counted the gap"] == "perfect 5th"
    assert slips["signs left out"] == "major 6th"
    # F up to G sharp sounds as a minor 3rd does.
    assert slip_texts("name-the-interval", pair("F4 G#4"))["counted semitones only"] == "minor 3rd"
    wide = slip_texts("name-the-interval", pair("C4 E5", wide=True))
    assert wide["took eight off"] == "major 9th"
    assert wide["octave left out"] == "major 3rd"
    signed = pair("D4 F#4", key="D major", fifths=2)
    assert slip_texts("name-the-interval", signed)["signature forgotten"] == "minor 3rd"
    # The lines of E and G in the treble clef are G and B in the bass clef.
    assert slip_texts("name-the-interval", pair("E4 G4"))["read in the bass clef"] == "major 3rd"


def test_the_named_key_keeps_the_raised_seventh_as_it_sounds() -> None:
    assert texts("name-the-interval", pair("A4 G#5", key="A minor"))[0] == "major 7th"


@pytest.mark.parametrize("method", METHODS)
def test_the_working_ends_on_the_answer(method: str) -> None:
    for _, draft in drafts("name-the-interval", 60):
        name = texts("name-the-interval", draft.facts)[0]
        steps = KIND.work(draft.facts, method)
        assert any(name in step.text for step in steps), (name, steps)


def test_music21_gives_the_same_name_to_every_printed_pair() -> None:
    """Held against music21 by the notes on the printed stave, the lower given first."""
    for _kind, draft, question in asked("name-the-interval", 40):
        block = next(b for b in question.prompt if isinstance(b, StaveBlock))
        heard = [p for event in score_of(block.score).sounding() for p in event.pitches]
        low, high = sorted(heard, key=lambda p: (p.diatonic, p.midi))
        theirs = music21.interval.Interval(*(music21.pitch.Pitch(p.short.replace("b", "-")) for p in (low, high)))
        assert Interval.parse(texts("name-the-interval", draft.facts)[0]).short == theirs.name


def test_the_scope_decides_which_intervals_are_asked() -> None:
    for grade, draft in drafts("name-the-interval", 120):
        limits = scope_for(grade).intervals
        interval = Interval.parse(texts("name-the-interval", draft.facts)[0])
        assert interval.quality_text in limits.kinds
        assert limits.compound or not interval.is_compound
        if limits.above_tonic:
            low = min((Pitch.parse(draft.facts.first), Pitch.parse(draft.facts.second)), key=lambda p: p.midi)
            assert draft.facts.key.startswith(low.name.text)


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("name-the-interval")
    assert kind("name-the-interval") is KIND

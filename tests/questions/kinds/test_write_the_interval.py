"""Writing intervals: published intervals written out, both heights of a minor 6th and 7th, slips, another program."""

from __future__ import annotations

from random import Random

import msgspec
import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.write_the_interval import KIND, WriteTheInterval
from stavewright.questions.solving.written_interval import METHODS, split_note
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.interval import Interval
from stavewright.theory.pitch import Pitch

# Gehrkens, Music Notation and Terminology (1914) §§184-193; J: Schmidt-Jones, Understanding Basic Music Theory, m10867.
PUBLISHED = {
    ("F4", "m2"): "Gb4", ("B3", "M2"): "C#4", ("F#4", "M2"): "G#4", ("F4", "A2"): "G#4", ("C4", "m3"): "Eb4",
    ("Eb4", "M3"): "G4", ("C4", "A3"): "E#4", ("C4", "d4"): "Fb4", ("C4", "P4"): "F4", ("C4", "A4"): "F#4",
    ("C4", "d5"): "Gb4", ("Eb4", "P5"): "Bb4", ("C4", "A5"): "G#4", ("C4", "m6"): "Ab4", ("C4", "M6"): "A4",
    ("C4", "A6"): "A#4", ("C4", "d7"): "Bbb4", ("C4", "m7"): "Bb4", ("C4", "M7"): "B4", ("C4", "d8"): "Cb5",
    ("C4", "P8"): "C5", ("C4", "M10"): "E5",
}  # fmt: skip


def facts(given: str, wanted: str, **more: object) -> WriteTheInterval:
    quality = wanted[0] if wanted[0] in "PMmAd" else ""
    return WriteTheInterval("treble", given, int(wanted.removeprefix(quality)), quality, **more)  # type: ignore[arg-type]


def written(one: WriteTheInterval, at: int = 0) -> str:
    note = (KIND.solve(one)[at].value[0].notes or ())[0]
    return Pitch(note.step, note.alter or 0, note.octave).short


@pytest.mark.parametrize("asked, note", PUBLISHED.items())
def test_published_intervals_are_written(asked: tuple[str, str], note: str) -> None:
    assert written(facts(*asked)) == note


@pytest.mark.parametrize("asked, note", PUBLISHED.items())
def test_below_is_the_way_back(asked: tuple[str, str], note: str) -> None:
    """The note below the upper one by the same interval is the lower one again."""
    assert written(facts(note, asked[1], below=True)) == asked[0]


def test_the_reason_is_good_english() -> None:
    """An augmented 4th, a minor 3rd."""
    assert KIND.solve(facts("F4", "A4"))[0].reason == "B is the note an augmented 4th above F."
    assert KIND.solve(facts("F4", "m3"))[0].reason == "A flat is the note a minor 3rd above F."


def test_a_number_alone_keeps_to_the_key() -> None:
    """Gehrkens (1914) §§81-88: the scales of D major and A minor; either height of the minor 6th and 7th is right."""
    assert written(facts("D4", "3", key="D major")) == "F#4"
    assert texts("write-the-interval", facts("D4", "7", key="D major")) == ["C sharp, in the 3rd space"]
    seventh = KIND.solve(facts("A4", "7", key="A minor"))
    heights = [Pitch(n.step, n.alter, n.octave).short for one in seventh for n in one.value[0].notes]
    assert heights == ["G#5", "G5"]
    sixth = KIND.solve(facts("A4", "6", key="A minor"))
    assert [one.value[0].notes[0].alter for one in sixth] == [0, 1]


def test_a_sign_of_the_signature_need_not_be_written_again() -> None:
    right = KIND.solve(facts("D4", "M3", key="D major", fifths=2))
    assert is_right(Value(notes=(WrittenNote("F", octave=4, type="semibreve"),)), right, KIND)
    sharp = WrittenNote("F", octave=4, type="semibreve", accidental="sharp")
    assert is_right(Value(notes=(sharp,)), right, KIND), "a sign that says it again is no fault"
    assert not is_right(Value(notes=(msgspec.structs.replace(sharp, accidental="natural"),)), right, KIND)
    bare = KIND.solve(facts("D4", "M3", key="D major"))
    assert not is_right(Value(notes=(WrittenNote("F", octave=4, type="semibreve"),)), bare, KIND)


def test_the_place_counts_before_the_sign() -> None:
    assert split_note(KIND.solve(facts("C4", "m6"))[0].value[0]) == ("A4", "flat")
    assert split_note(Value(notes=())) == ("", "")


def test_each_slip_writes_by_its_wrong_rule() -> None:
    slips = slip_texts("write-the-interval", facts("D4", "m6"))
    assert slips["counted the gap"] == "C sharp, in the 3rd space"
    assert slips["sign left out"] == "B, on the 3rd line"
    assert slips["another quality"] == "B, on the 3rd line"
    assert slips["another letter, same sound"] == "A sharp, in the 2nd space"
    assert slips["sign the wrong way"] == "B sharp, on the 3rd line"
    assert slips["wrong direction"].startswith("F")
    assert slips["counted the first note twice"] == "A, in the 2nd space"
    # E4 read in the bass clef is G2, and a minor 3rd above that is B flat: a flat on the place of our G.
    assert slip_texts("write-the-interval", facts("E4", "m3"))["read in the bass clef"] == "G flat, on the 2nd line"


def test_music21_writes_the_same_note() -> None:
    for _, draft in drafts("write-the-interval", 60, grades=(3, 4, 5)):
        asked = Interval(draft.facts.quality, draft.facts.number).short
        given = music21.pitch.Pitch(draft.facts.given.replace("b", "-"))
        theirs = given.transpose(music21.interval.Interval(asked))
        assert theirs.nameWithOctave.replace("-", "b") == written(draft.facts)


@pytest.mark.parametrize("method", METHODS)
def test_the_working_names_the_note(method: str) -> None:
    for _, draft in drafts("write-the-interval", 40):
        name = texts("write-the-interval", draft.facts)[0].split(",")[0]
        said = " ".join(step.text for step in KIND.work(draft.facts, method))
        assert name in said or f"Write {name[0]} with" in said


def test_any_written_answer_can_be_drawn() -> None:
    one = facts("D4", "m6")
    for value in (Value(notes=()), Value(notes=(WrittenNote("D", octave=9, type="banana", accidental="banana"),) * 3)):
        assert faults(KIND.draw(one, value)) == []


def test_notes_below_are_asked_only_where_the_teacher_allows_it() -> None:
    assert not any(draft.facts.below for _, draft in drafts("write-the-interval", 60))
    scope = scope_for(4)
    free = msgspec.structs.replace(scope, intervals=msgspec.structs.replace(scope.intervals, below=True))
    found = [KIND.set(free, Random(f"{seed}"), None, None) for seed in range(60)]
    assert any(one.facts.below for one in found)
    for one in found:
        assert compare(KIND.solve(one.facts)[0].value[0], one.expected, KIND.marking).same


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("write-the-interval")

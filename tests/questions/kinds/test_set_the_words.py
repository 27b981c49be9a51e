"""Words set to a melody: the report worked by hand, other good answers, every slip, the models and their words."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import music21
import pytest

from questions.rules_of_kinds import slip_texts, texts
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.set_the_words import KIND, SetTheWords
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.errors import StavewrightError
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.theory.verse import read_line

ID = "set-the-words"
NAMES = {"0": "semibreve", "1": "minim", "2": "crotchet", "4": "quaver"}
WIND = SetTheWords("4/4", ("*Who has *seen the *wind?", "*Nei-ther *I nor *you:"), "G major", "soprano", "treble")
SAD = SetTheWords("3/4", ("The *rain is *cold", "the *night is *old"), "G minor", "alto", "treble")


def tune(text: str, key: str = "G major", time: str = "4/4", clef: str = "treble") -> Value:
    """ "G4/2 r/2 | A4/1." is a crotchet G4, a crotchet rest, a bar line, a dotted minim A4; "~" ties."""
    bars: list[Bar] = []
    for bar in text.split("|"):
        row: list[Event] = []
        for one in bar.split():
            name, _, value = one.partition("/")
            length = Duration(NAMES[value[0]], value.count("."))
            row.append(Rest(length) if name == "r" else Note(Pitch.parse(name), length, tie="~" in value))
        bars.append(Bar((tuple(row),), free=True))
    stave = Stave(clef, tuple(bars), Key.parse(key).fifths, TimeSignature.parse(time))
    return Value(score=document_of(with_accidentals(Score((stave,)))))


GOOD = "G4/2 A4/2 B4/2 G4/2 | A4/0 | D5/2 C5/2 B4/2 A4/2 | G4/0"


# Worked by hand: a beginning on the tonic chord, a halfway rest on I or V, a close on the tonic from a note of V or IV,
# no augmented leap, no 7th, nothing wider than an octave: common practice for a song. The soprano goes from B3 to C6 at
# the widest (theory.voice).
@pytest.mark.parametrize(
    ("facts", "answer", "wrong"),
    [
        (WIND, tune(GOOD), {}),
        (WIND, tune("B4/2. A4/4 G4/2 B4/2 | D5/1. r/2 | D5/2 C5/2 B4/2 A4/2 | G4/0"), {}),
        (WIND, tune("G4/2 A4/2 B4/2 G4/2 | A4/1~ A4/1 | D5/2 C5/2 B4/2 F#4/2 | G4/0"), {}),
        (WIND, tune(GOOD.replace("G4/0", "B4/0")), {"cadence": 1}),
        (WIND, tune(GOOD.replace("A4/2 | G4/0", "G4/2 | G4/0").replace("B4/2 G4", "B4/2 B4")), {"cadence": 1}),
        (WIND, tune(GOOD.replace("A4/0", "C5/0")), {"cadence": 1}),
        (WIND, tune("A4/2" + GOOD[4:]), {"opening": 1}),
        (WIND, tune(GOOD.replace("C5", "C#5")), {"key": 1}),
        (WIND, tune(GOOD, key="D major"), {"key": 1}),
        (WIND, tune(GOOD.replace("D5/2 C5", "G3/2 A3")), {"range": 1, "shape": 1}),
        (WIND, tune(GOOD.replace("D5/2", "G5/2").replace("A4/0", "A4/0")), {"shape": 1}),
        (WIND, tune(GOOD.replace("D5/2 C5/2", "B4/2 C5/2").replace("B4/2 A4/2 | G", "B4/2 A4/2 | G")), {"shape": 1}),
        (WIND, tune("G4/2 G4/2 G4/2 G4/2 | G4/0 | D5/2 C5/2 B4/2 A4/2 | G4/0"), {"shape": 1}),
        (WIND, tune("G4/2 A4/2 B4/2 | A4/0 | D5/2 C5/2 B4/2 A4/2 | G4/0"), {"syllables": 1, "bars": 1}),
        (WIND, tune("G4/2 | A4/2 B4/2 G4/2 A4/2 | D5/2 C5/2 B4/2 A4/2 | G4/1."), {"stress": 1}),
        (WIND, tune(GOOD.replace("G4/0", "G4/4 r/4 r/2 r/1")), {"ends": 1}),
        (SAD, tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | C4/1 A3/2 | G3/1", "G minor", "3/4"), {}),
        (SAD, tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | A3/1 F#3/2 | G3/1", "G minor", "3/4"), {}),
        (SAD, tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | A3/1 F3/2 | G3/1", "G minor", "3/4"), {"key": 1}),
        (SAD, tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | Eb4/1 F#4/2 | G4/1", "G minor", "3/4"), {"shape": 1}),
        (SAD, tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | C4/1 A3/2 | G3/1.", "G minor", "3/4"), {"bars": 1}),
    ],
)
def test_the_report_worked_by_hand(facts, answer, wrong):
    assert {one.name: one.lost for one in KIND.report(facts, answer) if one.lost} == wrong


def test_the_report_says_what_and_where():
    said = {one.name: one.why for one in KIND.report(WIND, tune(GOOD.replace("C5", "C#5").replace("D5", "G5")))}
    assert said["key"] == "bar 3: C sharp does not belong to G major"
    assert said["shape"] == "the minor 7th to G in bar 3 is hard to sing"
    assert said["range"] == "it suits a soprano"
    assert {one.earns for one in KIND.report(SAD, tune(GOOD))} >= {"An alto can sing every note."}


def test_a_sign_that_is_not_printed_is_not_heard():
    """A pupil's F sharp without its sign, where no signature gives it, is an F."""
    whole = tune("G3/2 | Bb3/1 A3/2 | D4/1 D4/2 | A3/1 F#3/2 | G3/1", "G minor", "3/4")
    score = score_of(whole.score)
    bars = list(score.staves[0].bars)
    row = tuple(note.signed(None) if isinstance(note, Note) else note for note in bars[3].events)
    bars[3] = Bar((row,), free=True)
    unsigned = Score((Stave("treble", tuple(bars), -2, TimeSignature(3, 4)),))
    assert {one.name for one in KIND.report(SAD, Value(score=document_of(unsigned))) if one.lost} == {"key"}


def test_marks_follow_the_criteria():
    question = ask(KIND, Draft(WIND, tune(GOOD)), id="q", grade=5, edition="written", seed=1)
    assert question.marks == 10
    assert mark_question(question, (tune(GOOD),)).marks == 10
    assert mark_question(question, (tune(GOOD.replace("G4/0", "B4/0")),)).marks == 9
    assert mark_question(question, ()).marks == 0
    assert mark_question(question, (tune("G4/2 A4/2 B4/2 G4/2 | A4/0"),)).marks == 4
    empty = mark_question(question, (Value(score=question.response[0].given),))
    assert (empty.marks, {one.why for one in empty.criteria}) == (0, {"too little is written to be judged"})


def test_the_models_rise_and_fall_and_every_slip_is_told():
    assert texts(ID, WIND) == [
        (
            "1: crotchet G 4 “Who”, A 4 “has”, B 4 “seen”, B 4 “the”. 2: semibreve A 4 “wind?”. "
            "3: crotchet D 5 “Nei-”, C 5 “ther”, B 4 “I”, A 4 “nor”. 4: semibreve G 4 “you:”"
        ),
        (
            "1: crotchet D 5 “Who”, C 5 “has”, B 4 “seen”, B 4 “the”. 2: semibreve A 4 “wind?”. "
            "3: crotchet B 4 “Nei-”, C 5 “ther”, D 5 “I”, A 4 “nor”. 4: semibreve G 4 “you:”"
        ),
    ]
    assert set(slip_texts(ID, WIND)) == {
        "not ended on the tonic", "range forgotten", "one note all through", "a leap that is hard to sing",
        "stress on weak beats", "one syllable too few", "ends in a hurry",
    }  # fmt: skip
    assert {"leading note not raised", "upbeat not taken off"} <= set(slip_texts(ID, SAD))


def test_every_question_of_many_has_good_models_in_range():
    """Each model is well written, lies in the voice as commonly taught, and has a word under every note."""
    voices = set()
    for seed in range(60):
        facts = KIND.set(scope_for(5), Random(seed), None, None).facts
        answers = KIND.solve(facts)
        assert answers
        voices.add(facts.voice)
        for one in answers:
            score = KIND.draw(facts, one.value[0])
            assert faults(score) == []
            assert all(note.lyric for note in score.notes())
            singer = KIND.report(facts, one.value[0])
            assert not [line for line in singer if line.lost]
    assert voices == {"soprano", "mezzo-soprano", "alto", "baritone", "bass"}


def test_music21_hears_the_words_the_key_and_the_leaps():
    """By music21: weak syllables off the downbeat, notes of the key's scale, no augmented interval, the tonic last."""
    compared = 0
    for seed in range(60):
        facts = KIND.set(scope_for(5), Random(seed), None, None).facts
        words = [syllable for line in facts.lines for syllable in read_line(line)]
        home = Key.parse(facts.key)
        scale = music21.key.Key(home.tonic.short.replace("b", "-"), home.mode)
        for answer in KIND.solve(facts):
            heard = music21.converter.parseData(to_musicxml(KIND.draw(facts, answer.value[0])), format="musicxml")
            notes = list(heard.recurse().notes)
            assert [note.lyric for note in notes] == [syllable.text for syllable in words]
            assert notes[-1].pitch.name == scale.tonic.name
            for note, syllable in zip(notes, words, strict=True):
                assert scale.getScaleDegreeFromPitch(note.pitch) is not None
                assert syllable.stress != "weak" or note.beatStrength < 1
            for one, other in pairwise(notes):
                size = music21.interval.Interval(one, other)
                assert size.simpleName[0] != "A"
                assert abs(size.semitones) <= 12
            compared += 1
    assert compared > 100


@pytest.mark.parametrize(
    "change",
    [{"time": "5/4"}, {"time": "9/8"}, {"clef": "bass"}, {"voice": "kazoo"}, {"lines": ("*la " * 7, "*la *la")}],
)
def test_what_cannot_be_set_is_refused(change):
    fields = {name: getattr(WIND, name) for name in WIND.__struct_fields__} | change
    with pytest.raises(StavewrightError):
        SetTheWords(**fields)
    assert issubclass(BadDocument, StavewrightError)

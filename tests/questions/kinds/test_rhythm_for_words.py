"""A rhythm for words: the report worked by hand, other good answers, every slip, the model with its words."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import slip_texts, texts
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.rhythm_for_words import CRITERIA, KIND, RhythmForWords
from stavewright.questions.setting.verse_rhythms import fitting
from stavewright.questions.values import Value, WrittenValue
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.verses import all_verses
from stavewright.theory.errors import StavewrightError

ID = "rhythm-for-words"
NAMES = {"0": "semibreve", "1": "minim", "2": "crotchet", "4": "quaver", "8": "semiquaver"}
WIND = RhythmForWords("4/4", ("*Who has *seen the *wind?", "*Nei-ther *I nor *you:"))
SPRING = RhythmForWords("6/8", ("The *year's at the *spring,", "And *day's at the *morn;"))
CLOUD = RhythmForWords("2/4", ("I *wan-dered *lone-ly ~as a *cloud", "That *floats on *high o'er *vales and *hills,"))


def value(text: str) -> Value:
    """ "2 4a 4a | 1. r2" is a crotchet, two quavers under one beam, a bar line, a dotted minim, a crotchet rest."""
    row: list[WrittenValue] = []
    lines: list[int] = []
    for one in text.split():
        if one == "|":
            lines.append(len(row))
            continue
        rest, body = one.startswith("r"), one.removeprefix("r")
        beam = next((" abc".index(letter) for letter in "abc" if letter in body), None)
        row.append(WrittenValue(NAMES[body[0]], body.count("."), rest, tie="~" in body, beam=beam))
    return Value(rhythm=tuple(row), bar_lines=tuple(lines))


# Worked by hand. Strong syllables on beats, weak ones never on the first of a bar, a longer note at the end of a line,
# one note a syllable: common practice. Bar sums and strong beats: Gehrkens, Music Notation and Terminology (1914) §96
# and §100.
@pytest.mark.parametrize(
    ("facts", "answer", "wrong"),
    [
        (WIND, "2 2 2 2 | 0 | 2 2 2 2 | 0", {}),
        (WIND, "2. 4 2. 4 | 1. r2 | 2 2 2 2 | 0", {}),
        (WIND, "2 2 2 2 | 1~ 1 | 2 2 2 2 | 1~ 1", {}),
        (WIND, "2 2 2 2 | 0 | 2 2 2 2 | 1", {"bars": 1}),
        (WIND, "2 2 2 2 | 0 | 2 2 2 | 0", {"syllables": 1, "bars": 1}),
        (WIND, "2 2 2 2 0 2 2 2 2 0", {"bars": 2}),
        (WIND, "2 | 2 2 2 2 | 2 2 2 2 | 2 r2 r4", {"bars": 1, "stress": 1}),
        (WIND, "2 | 2 2 2 2 | 2 2 2 2 | 2 r1", {"bars": 0, "stress": 1}),
        (WIND, "1 2 1 | 2 1 | 1 2 1 | 2 1", {"bars": 2, "stress": 2}),
        (WIND, "2 2 2 2 | 0 | 2 2 2 | 2 0", {"bars": 2}),
        (WIND, "4. 8 4a 4a 2 r2 | 1 r1 | 2 2 2 2 | 0", {"syllables": 1, "grouping": 1}),
        (WIND, "2 2 2 2 | 0 | 2 2 2 2 | 4 r4 r2 r1", {"ends": 1}),
        (WIND, "2 2 2 4a 4a | 0 | 2 2 2 2 | 0", {"syllables": 1}),
        (SPRING, "4 | 4a 4a 4a 2 4 | 4a 4a 4a 2", {}),
        (SPRING, "4 | 4. 8 4 2 4 | 4. 8 4 2", {}),
        (SPRING, "4 | 4 4 4 2 4 | 4 4 4 2.", {"bars": 1}),
        (SPRING, "2. | 4a 4a 4a 2 4 | 4a 4a 4a 2.", {"bars": 1}),
        (SPRING, "4a 4a 4a 4b 4b 4b | 4a 4a 4a 2.", {"stress": 3}),
        (SPRING, "4 | 4a 4a 4b 2 4b | 4a 4a 4a 2", {"grouping": 1}),
        (CLOUD, "2 | 2 2 | 2 2 | 2 2 | 2 2 | 2 2 | 2 2 | 2 2 | 2", {}),
        (CLOUD, "4 | 4a 4a 4b 4b | 4a 4a 4b 4b | 4a 4a 4b 4b | 4a 4a 4b", {"ends": 1}),
    ],
)
def test_the_report_worked_by_hand(facts, answer, wrong):
    found = {one.name: one.lost for one in KIND.report(facts, value(answer)) if one.lost}
    assert found == {name: lost for name, lost in wrong.items() if lost}


def test_the_report_says_where():
    said = {one.name: one.why for one in KIND.report(WIND, value("2 | 2 2 2 2 | 2 2 2 2 | 2 r1"))}
    assert said["stress"] == "the weak “has” is on the first beat of bar 1"
    said = {one.name: one.why for one in KIND.report(WIND, value("2 4 2 2 4 | 0 | 2 2 2 | 0"))}
    assert said["syllables"] == "10 syllables, 10 notes"
    assert said["bars"] == "bar 3 does not add up"
    assert said["stress"] == (
        "the strong “seen” is off the beat in bar 1 and the strong “wind” is off the beat in bar 1"
    )


def test_small_words_may_stand_on_either_place():
    facts = RhythmForWords("3/4", ("~In the *for-ests ~of the *night,", "*Boats ^sail ~on the *riv-ers,"))
    lifted = "1 2 | 1 2 | 1 2 | 1. | 1 2 | 1 2 | 1 2"
    passed_over = "2 2 | 2 4a 4a 2 | 1. | 2 2 4a 4a | 4a 4a"
    assert {one.name: one.lost for one in KIND.report(facts, value(lifted)) if one.lost} == {}
    assert {one.name for one in KIND.report(facts, value(passed_over)) if one.lost} == set()


def test_marks_follow_the_criteria():
    question = ask(KIND, Draft(WIND, KIND.solve(WIND)[0].value[0]), id="q", grade=4, edition="written", seed=1)
    assert question.marks == sum(CRITERIA.values()) == 8
    assert mark_question(question, (value("2. 4 2. 4 | 1. r2 | 2 2 2 2 | 0"),)).marks == 8
    assert mark_question(question, (value("2 2 2 2 | 0 | 2 2 2 2 | 1"),)).marks == 7
    hurried = mark_question(question, (Value(rhythm=value("2 2 2 2 0 2 2 2 2 0").rhythm),))
    assert (hurried.marks, hurried.slip) == (6, "no bar lines")
    assert mark_question(question, ()).marks == 0
    assert mark_question(question, (value("2 2 2 2"),)).marks == 0
    assert mark_question(question, (value("2 2 2 2 | 0"),)).marks == 2


def test_the_model_and_every_slip():
    assert texts(ID, SPRING) == [
        "quaver | quaver, quaver, quaver, crotchet, quaver | quaver, quaver, quaver, crotchet",
        "quaver | dotted quaver, semiquaver, quaver, crotchet, quaver | dotted quaver, semiquaver, quaver, crotchet",
    ]
    assert slip_texts(ID, SPRING) == {
        "stress on weak beats": " | ".join(["dotted crotchet, dotted crotchet"] * 5),
        "upbeat not taken off": (
            "quaver | quaver, quaver, quaver, crotchet, quaver | quaver, quaver, quaver, dotted crotchet"
        ),
        "ends in a hurry": "quaver | quaver, quaver, quaver, crotchet, quaver | quaver, quaver, quaver, semiquaver",
        "no bar lines": (
            "quaver, quaver, quaver, quaver, crotchet, quaver, quaver, quaver, quaver, crotchet, without bar lines"
        ),
    }
    assert slip_texts(ID, WIND)["one syllable too few"] == (
        "crotchet, crotchet, crotchet, crotchet | semibreve | minim, crotchet, crotchet | semibreve"
    )


def test_every_verse_has_a_time_and_every_rhythm_of_the_setter_keeps_every_rule():
    known = fitting(scope_for(4).times)
    assert {one.verse.id for one in known} == set(all_verses())
    for one in known:
        facts = RhythmForWords(one.time.text, one.verse.lines)
        assert sum(line.lost for line in KIND.report(facts, Value(rhythm=one.row, bar_lines=one.bar_lines))) == 0


def test_music21_hears_strong_syllables_on_beats_and_no_weak_one_on_a_downbeat():
    """Where each syllable falls, by music21's own beats and beat strengths of the model answers."""
    compared = 0
    for one in fitting(scope_for(4).times)[::4]:
        facts = RhythmForWords(one.time.text, one.verse.lines)
        for answer in KIND.solve(facts):
            heard = music21.converter.parseData(to_musicxml(KIND.draw(facts, answer.value[0])), format="musicxml")
            notes = list(heard.recurse().notes)
            words = [syllable for line in one.verse.syllables for syllable in line]
            assert len(notes) == len(words)
            for note, syllable in zip(notes, words, strict=True):
                assert note.lyric == syllable.text
                assert syllable.stress != "strong" or float(note.beat).is_integer()
                assert syllable.stress != "weak" or note.beatStrength < 1
                compared += 1
    assert compared > 2000


def test_words_stand_under_the_notes_of_the_model():
    score = KIND.draw(SPRING, KIND.solve(SPRING)[0].value[0])
    assert [note.lyric for note in score.notes()] == "The year's at the spring, And day's at the morn;".split()
    assert score.anacrusis
    score = KIND.draw(WIND, value("2 2 2 2 | 1~ 1 | 2 2"))
    assert [note.lyric for note in score.notes()] == ["Who", "has", "seen", "the", "wind?", None, "Nei-", "ther"]
    assert to_musicxml(score).count("<syllabic>begin</syllabic>") == 1


def test_pupils_rhythms_are_drawn_whatever_they_are():
    for text in ("2", "2 | 2 2 2 2 2 2 | r4", "r1", "0 | 0 | 0 | " + "4 " * 30):
        assert KIND.draw(SPRING, value(text)).staves
    assert KIND.draw(SPRING, Value(rhythm=())).staves


def test_questions_name_the_poet_and_our_own_verses_name_nobody():
    seen = set()
    for seed in range(30):
        draft = KIND.set(scope_for(4), Random(seed), None, None)
        question = ask(KIND, draft, id="q", grade=4, edition="written", seed=seed)
        credits_ = [block.text for block in question.prompt if block.id == "credit"]
        assert credits_ == ([draft.facts.credit] if draft.facts.credit else [])
        seen.add(len(credits_))
    assert seen == {0, 1}


@pytest.mark.parametrize(
    ("time", "lines"),
    [("5/4", WIND.lines), ("9/8", WIND.lines), ("7/3", WIND.lines), ("4/4", ("no stress here", "*or *here"))],
)
def test_what_cannot_be_set_is_refused(time, lines):
    with pytest.raises(StavewrightError):
        RhythmForWords(time, lines)
    assert issubclass(BadDocument, StavewrightError)


def test_an_upbeat_of_two_words_is_said_as_two_words():
    verse = RhythmForWords("4/4", ("There is *snow up-*on the *hill,", "There is *ice be-*low."))
    (said,) = [step.text for step in KIND.work(verse, "usual") if "upbeat" in step.text]
    assert said.startswith("“There is” comes before")

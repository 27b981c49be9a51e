"""Note names in other vocabularies: what is printed follows them, answers stay English, marks are the same."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.marking.naming import shown_marked
from stavewright.marking.one_question import mark_question
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.papers.naming import renamed_paper, shown_paper
from stavewright.questions.asking import answers_of, full
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import Question, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Kind
from stavewright.questions.naming import renamed, shown
from stavewright.questions.note_names import (
    NOTE_NAMES,
    UnknownNoteNames,
    check_note_names,
    fixed_do,
    german,
    in_names,
    short_in_names,
    to_english,
)
from stavewright.questions.read_back import shown_back
from stavewright.questions.values import Value, WrittenNote
from stavewright.services.set_questions import set_questions
from stavewright.services.work_question import TypedQuestion, as_paper, put
from stavewright.theory.pitch import STEPS, NoteName
from stavewright.wiring import composed_melodies

MELODIES = composed_melodies()
NAMES = st.builds(NoteName, st.sampled_from(STEPS), st.integers(-2, 2))


def asked(kind: str, *words: str, **fields: str) -> Question:
    return put(TypedQuestion(kind, words, fields), MELODIES)


# Gehrkens, Music Notation and Terminology (1914), and common practice: the German names of the notes.
GERMAN = {
    "C": "C", "C sharp": "Cis", "D flat": "Des", "D": "D", "D sharp": "Dis", "E flat": "Es", "E": "E", "F": "F",
    "F sharp": "Fis", "G flat": "Ges", "G": "G", "G sharp": "Gis", "A flat": "As", "A": "A", "A sharp": "Ais",
    "B flat": "B", "B": "H", "B double flat": "Heses", "F double sharp": "Fisis", "E double flat": "Eses",
    "A double flat": "Ases", "C flat": "Ces", "B sharp": "His",
}  # fmt: skip


@pytest.mark.parametrize(("english", "in_german"), GERMAN.items())
def test_german_names(english: str, in_german: str) -> None:
    """The German names, both ways."""
    assert german(NoteName.parse(english)) == in_german
    assert to_english(in_german, "german") == english


@given(NAMES)
def test_a_name_comes_back(name: NoteName) -> None:
    """Every note name up to two signs, said in a vocabulary, is read back."""
    assert to_english(german(name), "german") == name.text
    assert to_english(fixed_do(name), "fixed-do") == name.text


SENTENCES = [
    ("Name the relative minor of B flat major.", "german", "Name the relative minor of B major."),
    ("From B up to C is a semitone.", "german", "From H up to C is a semitone."),
    ("B minor has 2 sharps: F sharp and C sharp.", "german", "H minor has 2 sharps: Fis and Cis."),
    ("A minor 3rd down from D is B.", "fixed-do", "A minor 3rd down from re is si."),
    ("A minim lasts two crotchets.", "fixed-do", "A minim lasts two crotchets."),
    ("So A must go down to A flat.", "fixed-do", "So la must go down to la flat."),
    ("Go back: D.C. al Fine.", "fixed-do", "Go back: D.C. al Fine."),
    ("Middle C is the note below.", "fixed-do", "Middle do is the note below."),
    ("Clarinet in B flat", "german", "Clarinet in B"),
    ("A sharp or flat changes the quality.", "german", "A sharp or flat changes the quality."),
    ("A sharp lifts its note, a flat lowers it.", "german", "A sharp lifts its note, a flat lowers it."),
    ("A double sharp is like a small x.", "german", "A double sharp is like a small x."),
    ("A natural takes the sharp or flat away.", "fixed-do", "A natural takes the sharp or flat away."),
    ("A sharp or B flat.", "german", "Ais or B."),
    ("A sharp is the 3rd note.", "german", "Ais is the 3rd note."),
    ("It's a chord: I, IV or V.", "fixed-do", "It's a chord: I, IV or V."),
    ("The scale of A minor is A, B, C.", "fixed-do", "The scale of la minor is la, si, do."),
]


@pytest.mark.parametrize(("english", "names", "meant"), SENTENCES)
def test_sentences(english: str, names: str, meant: str) -> None:
    """Notes and keys of a sentence change; articles, numerals and signs do not."""
    assert in_names(english, names) == meant


def test_labels_are_no_notes() -> None:
    """A letter printed under a note or a bracket is no note; a note beside it is."""
    said = in_names("B, marked B, and the brackets A and B: which is B?", "german", letters="labels")
    assert said.startswith("H, marked B, and the brackets A and B: ")


def test_jottings() -> None:
    """Short names too."""
    assert short_in_names("B# Bb B 1", "german") == "His B H 1"
    assert short_in_names("F# G", "fixed-do") == "fa# sol"


def test_english_is_left_alone() -> None:
    """The English vocabulary changes nothing, and a vocabulary that is none is refused."""
    assert in_names("From B up to C.", "english") == "From B up to C."
    assert [check_note_names(one) for one in NOTE_NAMES] == list(NOTE_NAMES)
    with pytest.raises(UnknownNoteNames, match="english, german, fixed-do"):
        check_note_names("dutch")


EVERY = [(kind, edition) for kind in kinds().values() for edition in kind.forms]


@pytest.mark.parametrize("pair", EVERY, ids=lambda pair: f"{pair[0].id}-{pair[1]}")
def test_answers_stay_english_and_marks_are_the_same(pair: tuple[Kind, str]) -> None:
    """A question put in other names has the same answers, and its model answer said in those names earns all marks."""
    kind, edition = pair
    several = set_questions(kind=kind.id, grade=5, edition=edition, count=6, seed=5, melodies=MELODIES)
    for question, names in product(several, ("german", "fixed-do")):
        other = renamed(full(question), names)
        assert [one.text for one in other.answers] == [one.text for one in answers_of(question)]
        assert answers_of(other) == answers_of(question)
        if isinstance(question.response[0], WordsForm):
            for said, meant in zip(shown(other).answers, other.answers, strict=True):
                marked = mark_question(other, said.value)
                assert (marked.marks, marked.of) == (question.marks, question.marks), (names, meant.value, said.value)


def test_h_is_read_in_german_only() -> None:
    """B natural: H in the German vocabulary, B in English, si in fixed do; nothing of one in another."""
    question = asked("name-the-note", "treble: B4")
    earned = {
        (names, typed): mark_question(renamed(question, names), [Value(words=typed)]).marks
        for names in NOTE_NAMES
        for typed in ("B", "H", "si")
    }
    assert {pair for pair, marks in earned.items() if marks} == {
        ("english", "B"), ("german", "H"), ("fixed-do", "si"), ("fixed-do", "B"),
    }  # fmt: skip


def test_a_lone_letter_is_a_key() -> None:
    """Where a key is asked, a small letter is minor and a capital is major."""
    question = asked("key-of-a-melody", "treble 3/4: A4 B4 C5 | D5 E5 G#4 | A4:2. |]")
    marks = {typed: mark_question(question, [Value(words=typed)]).marks for typed in ("a", "A", "A minor", "Am")}
    assert marks == {"a": 1, "A": 0, "A minor": 1, "Am": 1}


def test_the_reading_is_said_back() -> None:
    """The pupil sees how words, notes and places were read."""
    key = asked("relative-key", "D major", ask="key")
    assert shown_back(key, Value(words="f#m")) == "read as F sharp minor"
    assert shown_back(key, Value(words="h")) == "“h” is not read as a key"
    assert shown_back(renamed(key, "german"), Value(words="h")) == "read as H minor"
    assert shown_back(asked("name-the-interval", "treble: F4 A4"), Value(words="third")) == (
        "“third” is not read as an interval"
    )
    note = Value(notes=(WrittenNote("F", octave=4, type="minim", accidental="sharp"),), clef="treble")
    assert shown_back(asked("write-the-note", "treble: F#4"), note) == "read as treble clef: F sharp 4 (minim)"
    marked = mark_question(key, [Value(words="Bmin")])
    assert (marked.marks, marked.read) == (1, "read as B minor")
    wrong = mark_question(key, [Value(words="H")])
    assert shown_marked(full(key), wrong).note == "“H” is not read as a key."


def test_an_invented_pupil_writes_in_the_paper_s_names() -> None:
    """A sure pupil's script of a German paper says H for B, and earns all marks."""
    paper = as_paper(full(asked("name-the-note", "treble: B4")))
    other = renamed_paper(paper, "german")
    script = fill(other, ability=9, seed=1)
    assert script.answers["typed"][0].words in ("H", "H natural")
    assert mark_script(other, script).total == 1
    assert fill(paper, ability=9, seed=1).answers["typed"][0].words in ("B", "B natural")


def test_a_paper_in_other_names() -> None:
    """The paper remembers its names; what is printed follows them; it cannot be put in yet others."""
    paper = as_paper(full(asked("relative-key", "G minor", ask="key")))
    other = renamed_paper(paper, "german")
    (question,) = other.questions()
    assert (other.note_names, question.note_names) == ("german", "german")
    assert question.answers[0].text == "B flat major"
    (printed,) = shown_paper(other).questions()
    assert printed.answers[0].text == "B major"
    assert shown_paper(paper) == paper
    with pytest.raises(BadDocument, match="german note names already"):
        renamed_paper(other, "fixed-do")

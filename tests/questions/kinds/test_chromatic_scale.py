"""Chromatic scales: written, completed, picked."""

from __future__ import annotations

from itertools import pairwise

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.chromatic_scale import KIND, ChromaticScale
from stavewright.questions.solving.scales import as_written
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.pitch import Pitch
from stavewright.theory.scale import is_chromatic


def facts(tonic: str = "C", direction: str = "up", form: str = "harmonic", mode: str = "major", missing=()):
    return ChromaticScale("treble", tonic, 4, direction, form, mode, missing)


def short(shown: ChromaticScale, at: int = 0) -> str:
    return " ".join(n.pitch.name.short for n in KIND.draw(shown, KIND.solve(shown)[at].value[0]).notes())


def written(names: str) -> Value:
    return Value(notes=as_written([Pitch.parse(name) for name in names.split()], "treble", None, "semibreve"))


def marks(shown: ChromaticScale, value: Value) -> int:
    model = KIND.solve(shown)[0].value[0]
    question = ask(KIND, Draft(shown, model), id="q", grade=5, edition="written", seed=1)
    return mark_question(question, (value,)).marks


# Gehrkens, Music Notation and Terminology (1914) §93: rising with sharps, falling with flats. The harmonic form and the
# minor key's melodic form: common practice.
@pytest.mark.parametrize(
    "direction, form, mode, names",
    [
        ("up", "melodic", "major", "C C# D D# E F F# G G# A A# B C"),
        ("down", "melodic", "major", "C B Bb A Ab G Gb F E Eb D Db C"),
        ("up", "harmonic", "major", "C Db D Eb E F F# G Ab A Bb B C"),
        ("down", "harmonic", "major", "C B Bb A Ab G F# F E Eb D Db C"),
        ("up", "melodic", "minor", "C C# D Eb E F F# G Ab A Bb B C"),
    ],
)
def test_the_known_forms(direction: str, form: str, mode: str, names: str) -> None:
    assert short(facts("C", direction, form, mode)) == names
    assert names in [short(facts("C", direction), at) for at in range(len(KIND.solve(facts("C", direction))))]


def test_any_spelling_with_each_letter_once_or_twice_earns_full_marks() -> None:
    """Gehrkens §94: sharp 4 and flat 7 serve both ways, so composers mix; the letter rule is common practice."""
    mixed = written("C4 C#4 D4 Eb4 E4 F4 F#4 G4 G#4 A4 Bb4 B4 C5")
    assert not is_right(mixed, KIND.solve(facts()), KIND)
    assert marks(facts(), mixed) == 3
    assert marks(facts(), written("C5 Db5 D5 Eb5 E5 F5 F#5 G5 Ab5 A5 Bb5 B5 C6")) == 3, "no octave is asked for"


@pytest.mark.parametrize(
    "names, earned",
    [
        ("C4 C#4 D4 D#4 E4 E#4 F#4 G4 G#4 A4 A#4 B4 C5", 3),  # E sharp for F, and F still there
        ("C4 C#4 D4 D#4 E4 E#4 Gb4 G4 G#4 A4 A#4 B4 C5", 2),  # the letter F is missing
        ("C4 C#4 D4 D#4 E4 F4 F#4 F##4 G#4 A4 A#4 B4 C5", 2),  # the letter F comes three times
        ("C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4", 2),  # a note too few
        ("C4 D4 E4 F4 G4 A4 B4 C5", 0),
        ("C5 B4 Bb4 A4 Ab4 G4 F#4 F4 E4 Eb4 D4 Db4 C4", 0),  # down where up is asked
        ("C4 C#4 D4 D#4 E4 F4 F4 G4 G#4 A4 A#4 B4 C5", 2),  # one note wrong
    ],
)
def test_faults_are_counted_once(names: str, earned: int) -> None:
    """Worked by hand: one fault, one mark."""
    assert marks(facts(), written(names)) == earned


def test_missing_notes_keep_to_the_printed_ones() -> None:
    shown = facts("C", "up", "melodic", missing=(1, 6, 10))
    assert texts("chromatic-scale", shown)[0] == "C sharp F sharp A sharp"
    assert marks(shown, written("C#4 F#4 Bb4")) < 3, "B follows without a sign and would then read B flat"
    down = facts("C", "down", "melodic", missing=(2, 6, 11))
    assert texts("chromatic-scale", down) == ["B flat G flat D flat"], "A sharp would make the printed A sharp too"
    free = facts("C", "up", "harmonic", missing=(1, 3, 8))
    assert set(texts("chromatic-scale", free)) >= {"D flat E flat A flat", "C sharp D sharp A flat"}
    assert marks(free, written("C#4 Eb4 G#4")) == 3, "the D and the A that follow have their naturals"


def test_letters_never_turn_back() -> None:
    """B, then C double flat sounds right but goes the wrong way on the stave."""
    crossed = written("C5 B4 Cbb5 A4 Ab4 G4 Gb4 F4 E4 Eb4 D4 Db4 C4")
    assert marks(facts("C", "down", "melodic"), crossed) == 2


def test_every_slip_of_a_whole_scale() -> None:
    found = slip_texts("chromatic-scale", facts())
    assert max(found["a letter three times"].split()[:-1].count(letter) for letter in "CDEFGAB") == 3
    assert "F" not in found["a letter missing"]
    assert found["every letter with its sharp"] == (
        "C C sharp D D sharp E E sharp F F sharp G G sharp A A sharp B B sharp C"
    )
    assert found["upper tonic under another name"].endswith("B B sharp")
    assert found["major scale"] == "C D E F G A B C"


def test_every_slip_of_a_gap() -> None:
    found = slip_texts("chromatic-scale", facts("C", "up", "harmonic", missing=(1, 6, 8)))
    assert found == {
        "signs left out": "D F A",
        "a semitone too high": "D F double sharp A",
        "a semitone too low": "D double flat F A double flat",
        "a letter too often or missing": found["a letter too often or missing"],
    }


def test_no_slip_is_a_right_scale() -> None:
    for _, draft in drafts("chromatic-scale", 80):
        for wrong in KIND.slips(draft.facts):
            if draft.facts.missing and is_right(wrong.value[0], KIND.solve(draft.facts), KIND):
                continue
            assert KIND.faults(draft.facts, wrong.value[0]), wrong


def test_one_option_only_is_a_chromatic_scale() -> None:
    for _, draft, question in asked("chromatic-scale", 30):
        form = question.response[0]
        if isinstance(form, ChoiceForm):
            rows = [[n.pitch for n in KIND.draw(draft.facts, one.value).notes()] for one in form.options]
            assert sum(is_chromatic(row) for row in rows) == 1


def test_music21_hears_thirteen_semitones() -> None:
    for _, draft in drafts("chromatic-scale", 60):
        for one in KIND.solve(draft.facts):
            names = [note.pitch.short.replace("b", "-") for note in KIND.draw(draft.facts, one.value[0]).notes()]
            heard = [music21.pitch.Pitch(name).ps for name in names]
            way = 1 if draft.facts.direction == "up" else -1
            assert [after - before for before, after in pairwise(heard)] == [way] * 12


def test_triple_signs_are_refused() -> None:
    for _, draft in drafts("chromatic-scale", 80):
        assert all(abs(note.alter) <= 2 for note in draft.expected.notes)
    with pytest.raises(BadDocument):
        facts(missing=(3, 3))


def test_it_is_asked_only_where_the_scope_has_it() -> None:
    import random

    assert KIND.set(scope_for(3), random.Random(1), None, None) is None


def test_any_answer_can_be_drawn() -> None:
    odd = Value(notes=(WrittenNote("F", octave=2, accidental="odd"),))
    for shown in (facts(), facts(missing=(2, 3, 6))):
        assert faults(KIND.draw(shown, odd)) == []
        assert faults(KIND.draw(shown, Value(notes=()))) == []


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("chromatic-scale")

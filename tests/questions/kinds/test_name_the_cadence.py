"""Cadences read from the printed notes: worked chord pairs, what is no cadence, names, slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import ask
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.name_the_cadence import KIND, NameTheCadence
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value
from stavewright.score.event import Chord, Note
from stavewright.score.moments import moments
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.services.verify import verify_case
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.wiring import composed_melodies


def passage(key: str, chords: str) -> NameTheCadence:
    """Chords written lowest note first, a bar line between them: the bass on its stave, the others above."""
    long = Duration("minim")
    upper, lower = [], []
    for chord in chords.split("|"):
        bass, *above = (Pitch.parse(name) for name in chord.split())
        upper.append(Chord(tuple(above), long))
        lower.append(Note(bass, long))
    fifths = Key.parse(key).fifths
    staves = (
        Stave("treble", (Bar((tuple(upper),), free=True),), fifths=fifths),
        Stave("bass", (Bar((tuple(lower),), free=True),), fifths=fifths),
    )
    return NameTheCadence(document_of(with_ids(with_accidentals(Score(staves, join="brace")))), key)


# Which chords make which cadence: Gehrkens, Music Notation and Terminology (1914) §§203-207; any chord to V, and VI
# after V: Open Music Theory, version 1, "Introduction to cadences" (cadenceTypes). The spellings follow from these.
WORKED = [
    ("C major", "G2 G3 B3 D4 | C3 G3 C4 E4", "perfect cadence"),
    ("C major", "G2 G3 B3 F4 | C3 G3 C4 E4", "perfect cadence"),  # V7
    ("A minor", "E3 E4 G#4 B4 | A2 E4 A4 C5", "perfect cadence"),
    ("G major", "D3 D4 F#4 A4 | G2 D4 G4 B4", "perfect cadence"),
    ("B flat major", "F3 F4 A4 C5 | Bb2 F4 Bb4 D5", "perfect cadence"),
    ("C major", "F3 F4 A4 C5 | C3 G4 C5 E5", "plagal cadence"),
    ("A minor", "D3 D4 F4 A4 | A2 E4 A4 C5", "plagal cadence"),
    ("D major", "G2 D4 G4 B4 | D3 D4 F#4 A4", "plagal cadence"),
    ("C major", "C3 G3 C4 E4 | G2 G3 B3 D4", "imperfect cadence"),
    ("A minor", "A2 E4 A4 C5 | E3 E4 G#4 B4", "imperfect cadence"),
    ("G major", "A2 E4 A4 C5 | D3 D4 F#4 A4", "imperfect cadence"),  # II-V
    ("C major", "G2 G3 C4 E4 | G2 G3 B3 D4", "imperfect cadence"),  # Ic-V
    ("C major", "A2 A3 C4 E4 | G2 G3 B3 D4", "imperfect cadence"),  # VI-V
    ("C major", "G2 G3 B3 D4 | A2 A3 C4 E4", "interrupted cadence"),
    ("A minor", "E3 E4 G#4 B4 | F3 F4 A4 C5", "interrupted cadence"),
]


@pytest.mark.parametrize("key, chords, name", WORKED)
def test_worked_pairs_of_chords(key: str, chords: str, name: str) -> None:
    assert texts("name-the-cadence", passage(key, chords))[0] == name


def test_a_last_chord_struck_twice_is_still_one_chord() -> None:
    """The working points at the two chords of the cadence, not at two beats of one."""
    facts = passage("C major", "C3 G3 C4 E4 | G2 G3 B3 D4 | C3 G3 C4 E4 | C3 G3 C4 E4")
    assert texts("name-the-cadence", facts)[0] == "perfect cadence"
    first, second, *_ = KIND.work(facts, "usual")
    assert "has the notes G, B, D: chord V" in first.text
    assert "has the notes C, G, E: chord I" in second.text


# Goals out of root position and chords that only stay are set by nobody; conventions differ on them (common practice).
@pytest.mark.parametrize(
    "chords", ["C3 G3 C4 E4 | F3 F4 A4 C5", "G2 G3 B3 D4 | E3 G3 C4 C5", "B2 G3 D4 G4 | C3 G3 C4 E4"]
)
def test_what_is_no_cadence_has_no_answer(chords: str) -> None:
    assert KIND.solve(passage("C major", chords)) == ()


def test_a_chord_foreign_to_the_key_is_refused() -> None:
    with pytest.raises(UnknownChordError, match="no chord of C major"):
        KIND.solve(passage("C major", "G2 G3 B3 D4 | C#3 E4 G4 A4"))
    with pytest.raises(BadDocument, match="nonsense"):
        NameTheCadence(passage("C major", WORKED[0][1]).passage, "C major", ("perfect", "nonsense"))


# The second names: Schmidt-Jones, Understanding Basic Music Theory, m12402; Gehrkens (1914) §§203-207.
@pytest.mark.parametrize(
    "chords, said",
    [
        (WORKED[0][1], "authentic cadence"), (WORKED[0][1], "full close"), (WORKED[0][1], "Perfect"),
        (WORKED[5][1], "amen cadence"), (WORKED[8][1], "half cadence"), (WORKED[13][1], "deceptive cadence"),
    ],
)  # fmt: skip
def test_every_name_is_taken(chords: str, said: str) -> None:
    assert is_right(Value(words=said), KIND.solve(passage("C major", chords)), KIND)


def test_american_pages_offer_american_names() -> None:
    _, draft = next(drafts("name-the-cadence", 1))
    question = ask(KIND, draft, id="q1", grade=5, edition="written", seed=1, words="us")
    assert question is not None
    form = question.response[0]
    assert isinstance(form, ChoiceForm)
    assert [o.text for o in form.options] == [
        "authentic cadence", "plagal cadence", "half cadence", "deceptive cadence"
    ]  # fmt: skip


def test_each_slip_names_by_its_wrong_rule() -> None:
    plagal = slip_texts("name-the-cadence", passage("C major", WORKED[5][1]))
    assert plagal["any ending on I taken for perfect"] == "perfect cadence"
    long = passage("C major", "F3 F4 A4 C5 | G2 G3 C4 E4 | G2 G3 B3 D4 | C3 G3 C4 E4")
    slips = slip_texts("name-the-cadence", long)
    assert texts("name-the-cadence", long)[0] == "perfect cadence"
    assert slips["Ic-V read as I-V"] == "imperfect cadence"
    broken = slip_texts("name-the-cadence", passage("C major", WORKED[13][1]))
    assert broken["V heard, the last chord not read"] == "perfect cadence"
    assert broken["any ending off I taken for imperfect"] == "imperfect cadence"
    half = slip_texts("name-the-cadence", passage("C major", WORKED[8][1]))
    assert half["chords turned round"] == "perfect cadence"
    assert half["any surprise taken for interrupted"] == "interrupted cadence"


def test_a_perfect_cadence_with_a_seventh_has_its_slips() -> None:
    """V7-I too is misread: the two chords turned round, or perfect and plagal mixed (common practice)."""
    slips = slip_texts("name-the-cadence", passage("C major", "G2 F3 B3 D4 | C3 E3 C4 C4"))
    assert slips["chords turned round"] == "imperfect cadence"
    assert slips["perfect and plagal mixed"] == "plagal cadence"


def test_most_keys_have_few_signs() -> None:
    """Chords are the new thing to read here, so the keys are mostly of at most four signs (common practice)."""
    near = [abs(Key.parse(draft.facts.key).fifths) <= 4 for _, draft in drafts("name-the-cadence", 60)]
    assert sum(near) / len(near) > 0.75
    assert not all(near)


def test_music21_finds_the_roots_that_the_cadence_needs() -> None:
    """Roots only: its Roman numerals in minor are another convention."""
    steps = {"perfect": (4, 0), "plagal": (3, 0), "interrupted": (4, 5)}
    for _kind, draft, question in asked("name-the-cadence", 40):
        del question
        key = Key.parse(draft.facts.key)
        last = [
            music21.chord.Chord([p.short.replace("b", "-") for p in moment.pitches]).root()
            for moment in moments(score_of(draft.facts.passage))[-2:]
        ]
        away = tuple(("CDEFGAB".index(root.step) - key.tonic.index) % 7 for root in last)
        name = texts("name-the-cadence", draft.facts)[0].removesuffix(" cadence")
        assert away == steps[name] if name in steps else away[1] == 4
        assert name in scope_for(5).cadences


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("name-the-cadence")


def test_no_voice_leaves_the_range_of_its_stave():
    """Every note lies within the grade's range in its clef (a high tenor once stood on A4 in the bass: seed 513)."""
    found = verify_case("name-the-cadence", 5, "written", seed=500, count=40, melodies=composed_melodies())
    assert found.problems == ()

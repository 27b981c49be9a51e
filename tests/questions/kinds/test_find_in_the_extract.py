"""Find a property in an extract: every finder on music written out by hand, and setter against solver."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from questions.hand_written import MUSIC, extract
from questions.rules_of_kinds import slip_texts
from questions.tiny_melodies import TinyMelodies, stimulus
from stavewright.questions.asking import ask
from stavewright.questions.kinds.find_in_the_extract import KIND, FindInTheExtract
from stavewright.questions.properties import Property
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.extract_finds import finds
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.showing.find_words import search_words
from stavewright.questions.solving.find_slips import HOW, how_to_find
from stavewright.questions.solving.finders import FINDERS
from stavewright.questions.solving.line import line_of
from stavewright.questions.values import Place
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

LINE = line_of(document_of(MUSIC))
BY_HAND = [
    (Property("highest"), [(6, 8)]),
    (Property("lowest"), [(8, 2)]),
    (Property("longest"), [(3, 4)]),
    (Property("shortest"), [(4, 2), (4, 3), (4, 4)]),
    (Property("same-rhythm", bar=1), [2, 5]),
    (Property("same-notes", bar=5), [1]),
    (Property("same-notes", bar=2), []),
    (Property("sequence", bar=1), [2]),
    (Property("run-up"), [6]),
    (Property("run-down"), [4]),
    (Property("interval", word="6th"), [8]),
    (Property("interval", word="major 6th"), [8]),
    (Property("interval", word="minor 6th"), []),
    (Property("interval", word="minor 3rd"), [3]),
    (Property("largest-leap"), [8]),
    (Property("syncopation"), [3]),
    (Property("tuplet", number=3), [4]),
    (Property("value", word="dotted crotchet"), [7]),
    (Property("held-over"), [4]),
    (Property("accidental"), [7]),
    (Property("rest"), [7]),
    (Property("hairpin", word="crescendo"), [4]),
    (Property("hairpin", word="diminuendo"), [6]),
    (Property("loudest"), [6]),
    (Property("quietest"), [1]),
    (Property("marked", word="staccato"), [6]),
]


@pytest.mark.parametrize("search, where", BY_HAND, ids=lambda one: getattr(one, "about", ""))
def test_every_finder_on_music_worked_by_hand(search, where):
    places = [Place(*one) if isinstance(one, tuple) else Place(one) for one in where]
    assert sorted(FINDERS[search.about](LINE, search)) == places


def test_every_property_has_a_hand_worked_case_words_and_a_way_to_look():
    assert {search.about for search, _ in BY_HAND} == set(FINDERS) == set(HOW)
    for search, _ in BY_HAND:
        assert search_words(search, 1)[-1] in "?."
        assert search_words(search, 2)


def test_the_setter_finds_the_same_in_the_music_worked_by_hand():
    found = dict(finds(flatten(MUSIC), scope_for(5)))
    for search, where in BY_HAND:
        places = tuple(Place(*one) if isinstance(one, tuple) else Place(one) for one in where)
        if search in found:
            assert found[search] == places, search
    asked = {search.about for search in found}
    assert {"highest", "sequence", "syncopation", "tuplet", "held-over", "largest-leap", "marked"} <= asked


# Syncopation, worked by hand (common practice: the accent moves to a weaker place by holding).
@pytest.mark.parametrize(
    "text, time, bars",
    [
        ("C5/q D5/1 C5/q | C5/1 D5/1", "2/4", [1]),
        ("C5/1 D5/2 C5/1 | C5/2 D5/2", "4/4", [1]),
        ("C5/q D5/q~ D5/q C5/q | C5/1 D5/1", "2/4", [1]),
        ("C5/1. D5/q | C5/q D5/q C5/1", "2/4", []),
        ("C5/1 D5/2 | C5/2 D5/1", "3/4", []),
        ("C5/q D5/1 C5/q D5/1 | C5/1. D5/1.", "6/8", []),
        ("C5/1 D5/1 C5/1 | C5/1. D5/1.", "6/8", [1]),
        ("C5/1 D5/1~ | D5/1 C5/1", "2/4", [1]),
    ],
)
def test_syncopation(text, time, bars):
    line = line_of(document_of(extract(text, time)))
    assert [place.bar for place in FINDERS["syncopation"](line, Property("syncopation"))] == bars


def test_a_rest_parts_two_notes():
    music = line_of(document_of(extract("C5/q r/q A5/q G5/q | C5/q D5/q B5/q D5/q", "2/4")))
    assert [place.bar for place in FINDERS["interval"](music, Property("interval", word="6th"))] == [2]
    assert [place.bar for place in FINDERS["largest-leap"](music, Property("largest-leap"))] == [2]


def test_an_upbeat_is_not_bar_one():
    music = extract("D5/q | G5/1 A5/1 | B4/1 G4/q C5/q | G4/1 G4/q", "2/4", 1, anacrusis=True)
    facts = FindInTheExtract(document_of(music), Property("lowest"))
    line = line_of(facts.extract)
    assert [place.bar for place in FINDERS["highest"](line, Property("highest"))] == [1]
    high = FindInTheExtract(document_of(music), Property("highest"))
    assert KIND.solve(high)[0].text == "bar 1, 2nd note"
    assert slip_texts("find-in-the-extract", high)["upbeat counted as bar 1"] == "bar 2, 2nd note"


def test_every_slip():
    def slips(search):
        return slip_texts("find-in-the-extract", FindInTheExtract(document_of(MUSIC), search))

    assert slips(Property("highest")) == {"lowest for highest": "bar 8, 2nd note"}
    assert slips(Property("longest")) == {"shortest for longest": "bar 4, 2nd note"}
    assert slips(Property("run-up"))["ends higher than it begins"] == "bar 1"
    assert slips(Property("same-notes", bar=5)) == {
        "same rhythm for same notes": "bar 2",
        "same shape for same notes": "bar 2",
        "looked at the first note only": "bar 3",
    }
    assert slips(Property("same-rhythm", bar=1)) == {
        "counted the notes only": "bar 4",
        "same notes for same rhythm": "bars 3 and 6",
    }
    assert slips(Property("sequence", bar=1)) == {
        "same rhythm for a sequence": "bar 5",
        "exact repeat for a sequence": "bar 5",
    }
    assert slips(Property("interval", word="major 6th")) == {}
    assert slips(Property("syncopation")) == {
        "dotted rhythm for syncopation": "bar 7",
    }
    assert slips(Property("held-over")) == {"any tie": "bar 3"}
    assert slips(Property("value", word="dotted crotchet")) == {
        "neighbouring value": "bar 1",
        "dot not looked at": "bar 1",
    }
    assert slips(Property("accidental"))["sharps and flats of the signature"] == "bar 6"
    assert slips(Property("hairpin", word="crescendo")) == {"hairpins mixed": "bar 6"}
    assert slips(Property("loudest")) == {"quietest for loudest": "bar 1"}
    assert slips(Property("rest")) == {}
    assert slips(Property("largest-leap")) == {"the bar with the highest note": "bar 6"}


@pytest.mark.parametrize("source", [composed_melodies(), TinyMelodies()], ids=["composed", "tiny"])
@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_setter_and_solver_find_the_same_places(source, grade):
    count = 0
    for seed in range(25):
        made = source.melody(scope_for(grade), Random(f"find{seed}"), bars=8)
        if made is None:
            continue
        line = line_of(document_of(made.score))
        for search, places in finds(flatten(made.score), scope_for(grade)):
            assert tuple(sorted(FINDERS[search.about](line, search))) == places, (seed, search)
            count += 1
    assert count > 100


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(-7, 7))
def test_moving_every_note_by_steps_moves_no_rhythm_and_no_place(seed, steps):
    """What is found by shape and rhythm stays where it is when the whole melody is written higher or lower."""
    made = TinyMelodies().melody(scope_for(5), Random(seed), bars=6)
    line = line_of(document_of(made.score))
    moved = line_of(document_of(_moved(made.score, steps)))
    for about in ("longest", "same-rhythm", "sequence", "run-up", "run-down", "syncopation", "rest", "largest-leap"):
        search = Property(about, bar=2)
        assert FINDERS[about](line, search) == FINDERS[about](moved, search)


def _moved(score: Score, steps: int) -> Score:
    stave = score.staves[0]
    bars = []
    for bar in stave.bars:
        row = [
            replace(e, pitch=type(e.pitch).from_diatonic(e.pitch.diatonic + steps, 0)) if isinstance(e, Note) else e
            for e in bar.events
        ]
        bars.append(replace(bar, voices=(tuple(row),)))
    return replace(score, staves=(replace(stave, bars=tuple(bars), fifths=0),))


def test_music21_measures_the_same_intervals():
    for seed in range(12):
        made = TinyMelodies().melody(scope_for(5), Random(seed), bars=8)
        line = line_of(document_of(made.score))
        for search, places in finds(flatten(made.score), scope_for(5)):
            if search.about != "interval":
                continue
            quality, number = search.word.rsplit(" ", 1)
            wanted = {"perfect": "P", "major": "M", "minor": "m", "augmented": "A", "diminished": "d"}[quality]
            bars = set()
            for bar in line:
                for a, b in zip(bar.notes, bar.notes[1:], strict=False):
                    low, high = sorted((a.pitch, b.pitch), key=lambda p: p.diatonic)
                    name = music21.interval.Interval(
                        music21.pitch.Pitch(low.short.replace("b", "-")),
                        music21.pitch.Pitch(high.short.replace("b", "-")),
                    ).name
                    if name == f"{wanted}{number[:-2]}" and not b.held and not b.after_rest:
                        bars.add(bar.number)
            assert bars == {place.bar for place in places}


def test_questions_are_fair_on_a_shared_extract():
    for seed in range(30):
        scope = scope_for(3)
        shared = stimulus(scope, seed, bars=8)
        draft = KIND.set(scope, Random(seed), shared, None)
        if draft is None:
            continue
        question = ask(KIND, draft, id="q", grade=3, edition="written", seed=seed)
        assert question.prompt[1].id == "extract"
        assert question.response[0].how_many == len(draft.expected.places)
        assert draft.facts.credit == ""


def test_nothing_is_asked_of_two_staves_or_without_music():
    shared = stimulus(scope_for(3), 1)
    stave = shared.extract.score.staves[0]
    two = replace(shared, extract=replace(shared.extract, score=Score((stave, stave))))
    assert KIND.set(scope_for(3), Random(1), two, None) is None
    assert KIND.set(scope_for(3), Random(1), None, None) is None


def test_an_interval_of_a_kind_is_told_by_its_semitones():
    """A minor 3rd has 3 semitones, an augmented 4th 6 (Gehrkens 1914, intervals): the number alone finds too many."""
    steps = KIND.work(FindInTheExtract(document_of(MUSIC), Property("interval", word="minor 3rd")), "usual")
    assert steps[0].text.endswith("A minor 3rd has 3 semitones.")
    assert how_to_find(Property("interval", word="augmented 4th")).endswith("An augmented 4th has 6 semitones.")
    assert how_to_find(Property("interval", word="3rd")).endswith("call the first one 1.")


def test_a_property_that_no_bar_has_gives_no_answer():
    assert KIND.solve(FindInTheExtract(document_of(MUSIC), Property("interval", word="minor 7th"))) == ()
    assert KIND.solve(FindInTheExtract(document_of(MUSIC), Property("colour"))) == ()


def test_a_value_is_not_looked_for_beside_its_dotted_form():
    """Whether a dotted minim is "a minim" nobody can tell: the plain one is asked only where no other bar has it."""
    mixed = extract("C5/2 D5/1 | E5/2. | D5/1 C5/1 B4/1 | C5/1 D5/1 r/1", "3/4")
    plain = extract("C5/2 D5/1 | E5/1 D5/1 E5/1 | D5/1 C5/1 B4/1 | C5/1 D5/1 r/1", "3/4")
    asked = [
        {named.word for named, _ in finds(flatten(music), scope_for(2)) if named.about == "value"}
        for music in (mixed, plain)
    ]
    assert ["minim" in words for words in asked] == [False, True]
    assert "dotted minim" in asked[0]

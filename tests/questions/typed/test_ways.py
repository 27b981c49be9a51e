"""How each sort of field is typed, by hand; and music laid out over fields."""

from __future__ import annotations

from typing import Any

import pytest

from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.typed.answers import read_answer, write_answer
from stavewright.questions.typed.facts import made, read_fields
from stavewright.questions.typed.question import read_question
from stavewright.questions.typed.row_ways import read_row, write_row
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.questions.values import Place, Value, WrittenNote
from stavewright.services.work_question import TypedQuestion, put
from stavewright.wiring import composed_melodies

MELODIES = composed_melodies()

# Common practice throughout: names of keys, values and clefs in British, American and short forms.
FIELDS = [
    ("write-the-signature", "key", "f#", "F sharp minor"),
    ("write-the-signature", "key", "Bb", "B flat major"),
    ("write-the-signature", "clef", "Bass clef", "bass"),
    ("name-the-signature", "fifths", "3 flats", -3),
    ("name-the-signature", "fifths", "D major", 2),
    ("name-the-signature", "fifths", "b", 2),
    ("describe-the-metre", "time", "cut", "cut C"),
    ("how-many-in", "part", "eighth note", "quaver"),
    ("how-many-in", "part", "8", "quaver"),
    ("transpose-the-melody", "interval", "minor third", "m3"),
    ("transpose-the-melody", "up", "down", False),
    ("write-the-interval", "number", "6th", 6),
    ("write-the-interval", "quality", "minor", "m"),
    ("write-the-interval", "key", "none", None),
    ("write-the-scale", "form", "Harmonic Minor", "harmonic minor"),
    ("write-the-scale", "tonic", "Bb", "B flat"),
    ("term-meaning", "term", "adagio", "Adagio|Italian"),
    ("which-clef", "place", "space 2", 3),
    ("which-clef", "clefs", "treble, bass", ["treble", "bass"]),
    ("add-the-bar-lines", "pickup", "crotchet+quaver", 241920),
    ("chord-fault", "chords", "label=I notes=C4 E4 G4", [{"label": "I", "notes": ["C4", "E4", "G4"]}]),
    ("higher-or-lower", "notes", "treble F#4, bass E3", [
        {"clef": "treble", "place": 1, "accidental": "sharp"}, {"clef": "bass", "place": 5},
    ]),
    ("road-map", "offered", "1-4, 5-8", [[1, 4], [5, 8]]),
    ("can-it-play", "notes", "C4 D4, E4", ["C4", "D4", "E4"]),
    ("four-part-chord", "given", "C5 none none C3", ["C5", None, None, "C3"]),
    ("rhythm-for-words", "lines", "one line / another", ["one line", "another"]),
    ("total-value", "run", "minim~ crotchet.", [{"value": "minim", "tie": True}, {"value": "crotchet", "dots": 1}]),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "field", "typed", "value"), FIELDS)
def test_a_field_is_read(kind: str, field: str, typed: str, value: Any) -> None:
    """What is typed means what a musician means by it."""
    assert read_fields(kind_of(kind), {field: typed}, Typing()) == {field: value}


def test_printed_notes_hang_on_their_clef() -> None:
    """A printed note is a place of the stave under its clef; its sign and its tie are kept."""
    read = read_fields(kind_of("accidental-in-force"), {"clef": "alto", "bars": "C4 F#4~ F4 | Fn4"}, Typing())
    assert read["bars"] == [
        [{"place": 4}, {"place": 7, "accidental": "sharp", "tie": True}, {"place": 7}],
        [{"place": 7, "accidental": "natural"}],
    ]
    with pytest.raises(BadTyping, match="needs its clef"):
        read_fields(kind_of("accidental-in-force"), {"bars": "C4"}, Typing())


def test_rows_of_values() -> None:
    """Dots, rests, ties, beams and tuplets, read and written."""
    row = read_row("4. (8 16 16) r:2 minim~ 5:4{8 8 8 8 8}")
    assert [one["type"] for one in row[:6]] == ["crotchet", "quaver", "semiquaver", "semiquaver", "minim", "minim"]
    assert [one.get("beam") for one in row[:5]] == [None, 1, 1, 1, None]
    assert (row[0]["dots"], row[4]["rest"], row[5]["tie"]) == (1, True, True)
    assert row[6]["tuplet"] == {"actual": 5, "normal": 4}
    assert read_row(write_row(row)) == row


MUSIC = [
    ("name-the-interval", "bass D: <D3 F#3>", {"first": "D3", "second": "F#3", "together": True, "fifths": 2}),
    ("name-the-interval", "bass: D3 F#3", {"together": False, "fifths": None}),
    ("accidental-in-force", "treble G: F#4 F4 | F#4~ F#4", {"fifths": 1}),
    ("name-the-tonic-triad", "treble: <D4 F#4 A4>", {"notes": ("D4", "F#4", "A4")}),
    ("chord-and-inversion", "treble C major: <E4 G4>; bass: C3", {"upper": ("E4", "G4"), "lower": ("C3",)}),
    ("beam-the-bar", "treble 2/4: C5:8 C5 C5:4", {"time": "2/4"}),
    ("anacrusis-balance", "treble 3/4 upbeat: C5 | C5:2 C5:4 |", {"time": "3/4"}),
    ("value-name", "treble: r:2.", {"value": "minim", "dots": 1, "rest": True}),
    ("stem-direction", "treble: F4+up A4+up C5+up", {"clef": "treble"}),
]


@pytest.mark.parametrize(("kind", "music", "wanted"), MUSIC)
def test_music_is_laid_out(kind: str, music: str, wanted: dict[str, Any]) -> None:
    """Clef, signature, time, notes and values of a typed stave go to the fields for them."""
    more = {
        "accidental-in-force": {"bar": "1", "note": "1"}, "anacrusis-balance": {"unit": "crotchet"},
    }.get(kind, {})  # fmt: skip
    facts = read_question(kind_of(kind), [music], more, Typing(), {"wide": True})
    assert {name: getattr(facts, name) for name in wanted} == wanted


def test_rows_from_music() -> None:
    """Two rows of values are the two bars; a natural in a signature is a printed natural."""
    facts = read_question(
        kind_of("anacrusis-balance"), ["treble 3/4 upbeat: C5 | C5:2 C5:4 |"], {"unit": "crotchet"}, Typing(), {}
    )
    assert [[one.type for one in row] for row in (facts.upbeat, facts.bar)] == [["crotchet"], ["minim", "crotchet"]]
    facts = read_question(
        kind_of("accidental-in-force"), ["treble G: F4 F#4~ F#4"], {"bar": "1", "note": "1"}, Typing(), {}
    )
    assert [(one.place, one.accidental, one.tie) for one in facts.bars[0]] == [
        (1, "natural", False), (1, "sharp", True), (1, None, False),
    ]  # fmt: skip


def test_a_scale_begins_on_the_stave_or_just_below() -> None:
    """E on the lowest line of the treble stave is the lowest E on it; middle C is just below."""
    lowest = {"E": 4, "D": 4, "C": 4, "B": 4, "F": 4}
    for tonic, octave in lowest.items():
        assert facts_of(put(TypedQuestion("write-the-scale", ["treble", tonic, "major"]), MELODIES)).octave == octave


def test_the_level_of_terms_is_the_grade() -> None:
    """What a pupil of the grade has met may be answered."""
    for grade in (1, 3, 5):
        assert facts_of(put(TypedQuestion("term-meaning", ["allegro"], grade=grade), MELODIES)).level == grade


def test_what_is_left_out_needs_no_fallback() -> None:
    """A record that may be missing is not asked for; one that was begun is asked for whole."""
    degree = kind_of("degree-number")
    assert made(degree, {"key": "D major", "degree": 4}, {}).place is None
    with pytest.raises(BadTyping, match=r"also needs search\.about"):
        made(kind_of("find-in-the-extract"), {}, {"extract": None})


SHARP = WrittenNote("F", octave=4, type="semibreve", accidental="sharp")
ANSWERS = [
    (("name-the-interval", "treble: F#4 D5"), "m6", Value(words="m6")),
    (("how-many-in", "quaver", "minim"), "four", Value(number=4)),
    (("order-by-length", "quaver minim crotchet"), "b, c, a", Value(order=("b", "c", "a"))),
    (("find-the-faulty-bar", "treble 2/4 numbered: [free] C5 | C5:2 |]"), "bar 2", Value(places=(Place(2),))),
    (("write-the-note", "treble: F#4"), "F#4:1", Value(notes=(SHARP,))),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "text", "value"), ANSWERS)
def test_an_answer_is_read(typed: tuple[str, ...], text: str, value: Value) -> None:
    """In the form that the question asks for."""
    question = put(TypedQuestion(typed[0], typed[1:]), MELODIES)
    assert read_answer(question, text) == (value,)
    assert read_answer(question, write_answer((value,))) == (value,)


def test_two_answers_are_parted_by_a_semicolon() -> None:
    """A question that asks for two things is answered twice; one answer too few is refused."""
    first = "C5:4 D5 E5 C5 | D5 E5 F5 D5 | C5 D5 E5 C5 | G4:1"
    second = "E5:4 F5 G5 E5 | F5 E5 D5 C5 | B4 C5 D5 B4 | C5:1"
    shape = f"treble C 4/4: {first} | {second} |]"
    question = put(TypedQuestion("name-the-form", [shape]), MELODIES)
    assert len(question.response) == 2
    assert [value.form for value in read_answer(question, "a; bar 4, bar 8")] == ["choice", "places"]
    with pytest.raises(BadTyping, match="1 answers, where the question asks for 2"):
        read_answer(question, "a")

"""Pictures of music in words: everything that is printed, nothing that is asked."""

from __future__ import annotations

from stavewright.questions.showing.pictures import picture
from stavewright.questions.showing.rows import empty_row, note_row, value_row
from stavewright.questions.showing.shapes import shape
from stavewright.questions.values import Value, WrittenNote, WrittenValue
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import VALUES, Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

QUAVER = Duration("quaver")


def test_every_value_has_its_own_shape() -> None:
    """Two values that looked alike in words could not be told apart by a pupil who cannot see them."""
    shapes = [shape(Duration(v, dots), rest=rest) for v in VALUES for dots in (0, 1, 2) for rest in (False, True)]
    assert len(set(shapes)) == len(shapes)
    assert not [one for one in shapes for value in VALUES if value in one]


def test_a_whole_stave_is_said_sign_by_sign() -> None:
    """Written by hand from the picture."""
    beamed = tuple(Note(Pitch("C", 0, 5), QUAVER, beam=1) for _ in range(2))
    bars = (
        Bar(((*beamed, Note(Pitch("F", 1, 4), Duration("crotchet"), tie=True), Rest(Duration("minim"))),)),
        Bar(((Note(Pitch("F", 1, 4), Duration("semibreve")),),), line="final"),
    )
    score = Score((Stave("treble", bars, fifths=1, time=TimeSignature(4, 4)),))
    assert picture(score) == (
        "The treble clef, 1 sharp in the key signature, 4/4 time. "
        "Bar 1: A note in the 3rd space, a filled head with a stem and one tail, on one beam with the next; "
        "a note in the 3rd space, a filled head with a stem and one tail; "
        "a note in the 1st space, a filled head with a stem and no tails, tied to the next; "
        "a rest, a block that sits on a line. "
        "Bar 2: A note in the 1st space, an open head with no stem."
    )


def test_chords_gaps_tuplets_and_drawn_signatures() -> None:
    triplet = Duration("quaver", tuplet=Tuplet(3, 2))
    chord = Chord((Pitch("G", 0, 2), Pitch("B", -1, 2)), triplet, accidentals=(None, "flat"))
    stave = Stave("bass", (Bar(((chord, Gap(triplet)),), free=True),), signs=(Pitch("F", 1, 3),))
    assert picture(Score((stave,))) == (
        "The bass clef, in the key signature a sharp on the 4th line. "
        "A chord on the 1st line and on the 2nd line, with a flat before it, in a triplet; an empty place."
    )
    assert picture(empty_row("alto", 1)) == "The alto clef. An empty place."
    bare = Stave("treble", (Bar(((Note(Pitch("E", 0, 4), QUAVER),),), free=True),), show_clef=False)
    assert picture(Score((bare,))) == "No clef. A note on the 1st line."


def test_a_long_score_is_cut_at_a_whole_bar() -> None:
    bar = Bar((tuple(Note(Pitch("C", 0, 5), QUAVER, accidental="natural") for _ in range(8)),), free=True)
    said = picture(Score((Stave("treble", (bar,) * 40),)))
    assert len(said) < 2000
    assert said.endswith(".")
    assert "Bar 1: " in said


def test_what_a_pupil_cannot_have_meant_is_still_drawn() -> None:
    """A clef, sign or value that does not exist is replaced, never a crash: an answer is drawn as far as it reads."""
    odd = Value(notes=(WrittenNote("F", octave=4, type="nonsense", accidental="nonsense"),), clef="nonsense")
    assert [n.pitch.short for n in note_row(odd, "bass").notes()] == ["F4"]
    assert note_row(odd, "bass").staves[0].clef == "bass"
    odd = Value(rhythm=(WrittenValue("nonsense", tie=True), WrittenValue("minim", 1, rest=True)))
    assert [event.duration.text for event in value_row(odd).events()] == ["crotchet", "dotted minim"]
    assert [event.id for event in note_row(Value(notes=()), "alto").events()] == ["n1"]


def test_a_sign_holds_along_the_row() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §24: to the end of the bar, here of the row."""
    row = Value(notes=tuple(WrittenNote("F", octave=o, accidental=a) for o, a in ((4, "sharp"), (4, None), (5, None))))
    assert [n.pitch.short for n in note_row(row, "treble").notes()] == ["F#4", "F#4", "F5"]
    assert [n.pitch.short for n in note_row(row, "treble", 1).notes()] == ["F#4", "F#4", "F#5"]


def test_values_are_said_even_where_all_are_alike_if_they_are_asked_for() -> None:
    """Found in review: four bars of one value, or one note of each answer, said no value at all."""
    bar = Bar((tuple(Note(Pitch("B", 0, 4), QUAVER) for _ in range(2)),), free=True)
    plain = Score((Stave("treble", (bar,)),))
    assert "tail" not in picture(plain)
    assert picture(plain, shapes=True).count("a filled head with a stem and one tail") == 2

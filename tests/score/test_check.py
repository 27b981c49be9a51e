"""Notation checked: bars add up, signs say what the pitches mean."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.score.check import check, faults, signature_alter
from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Note, Rest
from stavewright.score.stave import Bar, Bracket, Score, Stave, single
from stavewright.score.writing import row_of, with_accidentals, with_ids
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

CROTCHET = Duration("crotchet")
pitches = st.builds(Pitch, st.sampled_from("CDEFGAB"), st.integers(-2, 2), st.integers(2, 6))


def bars_of(*names: str, time: str | None = None) -> Score:
    notes = tuple(Note(Pitch.parse(name), CROTCHET) for name in names)
    return Score((Stave("treble", (Bar((notes,)),), time=TimeSignature.parse(time) if time else None),))


@given(st.lists(pitches, min_size=1, max_size=12), st.integers(-7, 7))
def test_printed_signs_always_read_back(row: list[Pitch], fifths: int) -> None:
    """An accidental lasts to the bar line at its own line or space, and nowhere else (Gehrkens 1914, §24)."""
    assert faults(with_accidentals(single("treble", row_of(row), fifths))) == []


@given(st.lists(pitches, min_size=1, max_size=8), st.integers(-7, 7))
def test_no_sign_is_printed_twice_in_a_row(row: list[Pitch], fifths: int) -> None:
    """A note repeated in its bar needs no second sign."""
    doubled = [pitch for pitch in row for _ in range(2)]
    written = list(with_accidentals(single("treble", row_of(doubled), fifths)).notes())
    assert all(second.accidental is None for second in written[1::2])


def test_signature_order() -> None:
    """Sharps come F C G D A E B, flats B E A D G C F (Gehrkens 1914, §83)."""
    assert [step for step in "FCGDAEB" if signature_alter(step, 3)] == ["F", "C", "G"]
    assert [step for step in "BEADGCF" if signature_alter(step, -2)] == ["B", "E"]
    assert {signature_alter(step, 7) for step in "ABCDEFG"} == {1}
    assert {signature_alter(step, -7) for step in "ABCDEFG"} == {-1}


def test_a_tie_carries_the_sign_over_the_bar_line() -> None:
    """A tie carries an accidental over the bar line (Gehrkens 1914, §25)."""
    tied = Note(Pitch("F", 1, 4), CROTCHET, accidental="sharp", tie=True)
    after = Note(Pitch("F", 1, 4), CROTCHET)
    free = (Bar(((tied,),), free=True), Bar(((after,),), free=True))
    assert faults(Score((Stave("treble", free),))) == []
    untied = (Bar(((Note(Pitch("F", 1, 4), CROTCHET, accidental="sharp"),),), free=True), free[1])
    assert len(faults(Score((Stave("treble", untied),)))) == 1


def test_bars_must_add_up() -> None:
    """A bar holds what its time signature says (Gehrkens 1914, §96); a whole-bar rest fits any bar (§33)."""
    assert faults(bars_of("C4", "D4", "E4", time="3/4")) == []
    assert len(faults(bars_of("C4", "D4", time="3/4"))) == 1
    whole = Bar(((Rest(Duration("semibreve"), whole_bar=True),),))
    assert faults(Score((Stave("treble", (whole,), time=TimeSignature.parse("3/4")),))) == []


def test_every_fault_is_told_at_once() -> None:
    """All faults of one score are reported together."""
    notes = (Note(Pitch("F", 1, 4), CROTCHET, id="a"), Note(Pitch("G", 0, 4), CROTCHET, id="a"))
    broken = Score((Stave("treble", (Bar((notes,)),), time=TimeSignature.parse("4/4")),), brackets=(Bracket("a", "z"),))
    with pytest.raises(BadScore) as told:
        check(broken)
    assert all(part in str(told.value) for part in ("'a' stands twice", "'z'", "ticks", "F#4"))


def test_unknown_signs_are_refused() -> None:
    """Accidentals, marks, clefs and bar lines come from closed sets."""
    with pytest.raises(BadScore, match="sharp"):
        Note(Pitch("F", 1, 4), CROTCHET, accidental="cross")
    with pytest.raises(BadScore, match="treble"):
        Stave("soprano", (Bar(((),)),))
    with pytest.raises(BadScore, match="at least one"):
        Chord((), CROTCHET)


def test_ids_are_given_in_reading_order() -> None:
    """Events without an id get n1, n2, ... and keep one they have."""
    numbered = with_ids(bars_of("C4", "D4", "E4", time="3/4"))
    assert [event.id for event in numbered.events()] == ["n1", "n2", "n3"]
    assert with_ids(numbered) == numbered


def test_voices_keep_their_own_ties() -> None:
    """A tie in one voice lives on while another voice moves."""
    held = Note(Pitch("F", 1, 4), CROTCHET, accidental="sharp", tie=True)
    after = Note(Pitch("F", 1, 4), CROTCHET)
    other = Note(Pitch("C", 0, 4), CROTCHET)
    bars = (Bar(((held,), (other,)), free=True), Bar(((after,), (other,)), free=True))
    score = Score((Stave("treble", bars),))
    assert faults(score) == []
    assert with_accidentals(score) == score


def test_a_signed_note_keeps_all_else() -> None:
    """Another printed sign changes nothing else of a note."""
    whole = Note(
        Pitch("F", 1, 4), CROTCHET, "n1", None, True, 2, "up", ("accent",), "acciaccatura", "start", "la", "?"
    )
    signed = whole.signed("sharp")
    assert signed.accidental == "sharp"
    assert signed.signed(None) == whole

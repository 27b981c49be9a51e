"""Music as a line of text: what is typed is read, and what is written is read back."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings

from exchange.any_score import hard_case, scores
from stavewright.score.check import faults
from stavewright.score.compact.reading import read_music
from stavewright.score.compact.writing import write_music
from stavewright.score.errors import BadMusicText
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Score


@given(scores())
@settings(max_examples=150, deadline=None)
def test_what_is_written_is_read_back(score: Score) -> None:
    """Any score at all, written as text and read, is the same score."""
    assert read_music(write_music(score)) == score


def test_the_hard_case_comes_back() -> None:
    """Everything the score model has a name for is kept."""
    assert read_music(write_music(hard_case())) == hard_case()


@given(scores())
@settings(max_examples=60, deadline=None)
def test_plain_text_keeps_the_notes(score: Score) -> None:
    """Plain text gives back the same pitches, values, ties and bars."""
    plain = read_music(write_music(score, plain=True))
    assert [(type(e), e.duration) for e in plain.events()] == [(type(e), e.duration) for e in score.events()]
    assert [e.pitches for e in plain.sounding()] == [e.pitches for e in score.sounding()]
    assert [e.tie for e in plain.sounding()] == [e.tie for e in score.sounding()]


def _row(text: str) -> list[str]:
    return [f"{n.pitch.short} {n.duration.text}" for n in read_music(text).notes()]


def test_a_value_holds_until_the_next() -> None:
    """A value is typed once and holds for the notes after it."""
    assert _row("treble 3/4: G4:8 A4 B4:4. C5:8 | D5:2.") == [
        "G4 quaver", "A4 quaver", "B4 dotted crotchet", "C5 quaver", "D5 dotted minim",
    ]  # fmt: skip


def test_names_of_values_in_both_vocabularies() -> None:
    """A value may be named: crotchet, quarter."""
    assert _row("bass: C3:minim D3:quarter E3:eighth") == ["C3 minim", "D3 crotchet", "E3 quaver"]


def test_beams_follow_the_time_signature() -> None:
    """Six quavers of 6/8 are beamed in threes; round brackets beam otherwise, `tails` not at all."""
    beams = [note.beam for note in read_music("treble 6/8: C5:8 C5 C5 C5 C5 C5").notes()]
    assert beams == [0, 0, 0, 1, 1, 1]
    assert [n.beam for n in read_music("treble 6/8: (C5:8 C5) (C5 C5) (C5 C5)").notes()] == [1, 1, 2, 2, 3, 3]
    assert [n.beam for n in read_music("treble tails 2/4: C5:8 C5 C5 C5").notes()] == [None] * 4


def test_signs_are_printed_where_they_are_needed() -> None:
    """Notes are named as they sound: a signature spares the sign, a natural against it is printed, once a bar."""
    signs = [n.accidental for n in read_music("treble D 2/4: F#4 F4 | F4:8 F4 F#4:4 | F#4!:2").notes()]
    assert signs == [None, "natural", "natural", None, "sharp", "sharp"]


def test_two_staves_chords_rests_gaps_voices() -> None:
    """A great stave, a chord, rests, a whole bar's rest, a gap and a second voice."""
    score = read_music("treble brace 2/4: <C5 E4 G4>:2 & r:4 G3 | _:2; bass: R | C3:4~ C3")
    events = list(score.events())
    assert score.join == "brace"
    assert isinstance(events[0], Chord)
    assert [p.short for p in events[0].pitches] == ["E4", "G4", "C5"]
    assert [type(e) for e in events[1:5]] == [Rest, Note, Gap, Rest]
    assert events[4].whole_bar
    assert events[5].tie
    assert faults(score) == []


def test_an_upbeat_need_not_be_full() -> None:
    """With `upbeat` the first bar and the last may be short."""
    score = read_music("treble upbeat 3/4: G4 | C5:2 B4:4 | C5:2 |]")
    assert [bar.free for bar in score.staves[0].bars] == [True, False, True]
    assert score.anacrusis


def test_brackets_join_notes() -> None:
    """A lettered bracket goes from the note after it to the note before its end."""
    score = read_music("treble: [bracket A] C5 D5 [end A] E5")
    assert [(one.first, one.last, one.label) for one in score.brackets] == [("n1", "n2", "A")]


def test_words_for_the_player() -> None:
    """Dynamics, a tempo word, a hairpin."""
    bar = read_music("treble 2/4: [tempo Andante] [p] C5:8 [crescendo to 4] D5 E5 F5").staves[0].bars[0]
    assert [(d.kind, d.at, d.text, d.until) for d in bar.directions] == [
        ("tempo", 0, "Andante", None), ("dynamic", 0, "p", None), ("crescendo", 1, "", 3),
    ]  # fmt: skip


def test_common_time_and_key_names() -> None:
    """`common` prints the sign; small letters and words name minor keys."""
    assert read_music("alto common c: C4:1").staves[0].time.symbol == "common"
    for key in ("f#", "F# minor", "F sharp minor", "3 sharps", "key f#", "3#"):
        assert read_music(f"treble {key}: C#5").staves[0].fifths == 3, key


BAD = [
    ("", "there is no music"),
    ("treble", "no heading ends in a colon"),
    ("D: C4", "no clef: begin with one of treble"),
    ("treble Q: C4", "'Q' is neither clef, key, time signature"),
    ("treble: H4", "'H4' is no English note name"),
    ("treble: F#", "'F#' has no octave number: add one, as in F#4"),
    ("treble: C4:3", "'3' is no value"),
    ("treble: C4:", "no value after the colon"),
    ("treble 4/4: C4:2 D4:4", "bar 1 holds 3 crotchets, 4/4 asks for 4 crotchets"),
    ("treble 2/4: C4:8 D4 E4", "holds 1 1/2 crotchets"),
    ("treble: C4+loud", "+loud says nothing of this"),
    ("treble: r~", "a tie after a rest"),
    ("treble: (C4:8 D4", "a beam is not closed"),
    ("treble: 3{C4:8 D4 E4", "not closed: end it with }"),
    ("treble: 12{C4:8}", "a tuplet has 2 to 9 notes"),
    ("treble: C4; bass: C3 | D3", "the staves have 1 and 2 bars"),
    ("treble: [loudly] C4", "[loudly] is not known"),
    ("treble: [bracket A] C4", "bracket A has no end"),
    ("treble: C4 [end A]", "ends a bracket that has no note"),
    ("treble: <> C4", "a chord without notes"),
    ("treble:", "stave 1 has no notes"),
    ("treble: C4!loud", "write ! alone"),
    ("treble 5/0: C4", "5/0"),
]


@pytest.mark.parametrize(("text", "said"), BAD)
def test_what_cannot_be_read_is_named(text: str, said: str) -> None:
    """A fault is named with what would be right."""
    with pytest.raises(BadMusicText) as refused:
        read_music(text)
    assert said in str(refused.value)


def test_all_faults_are_told_together() -> None:
    """Three faults in two bars are told in one message, each with its place."""
    with pytest.raises(BadMusicText) as refused:
        read_music("treble 2/4: H4 C4 | D4:5 E4 | [nonsense] C4:2")
    assert [part in str(refused.value) for part in ("bar 1: 'H4'", "bar 2: ", "bar 3: [nonsense]")] == [True] * 3


@pytest.mark.parametrize("piece", ["[", "(", '"', "C", "[x ", "& ", '["', "<", "+a", "|"])
def test_long_nonsense_is_refused_at_once(piece: str) -> None:
    """Whatever is typed, the reader is done within a second or two, and its message stays short."""
    start = time.process_time()
    with pytest.raises(BadMusicText) as refused:
        read_music(f"treble: {piece * 20_000} H4")
    assert time.process_time() - start < 3
    assert len(str(refused.value)) < 3000


def test_endless_text_is_not_read() -> None:
    """A limit on its length is named."""
    with pytest.raises(BadMusicText, match="at most 200000 are read"):
        read_music("treble: " + "C4 " * 100_000)

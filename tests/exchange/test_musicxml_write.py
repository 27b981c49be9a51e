"""A score written as MusicXML: valid against the published schema, and saying what the score says."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from exchange.any_score import CROTCHET, QUAVER, SEMIQUAVER, hard_case, note, scores
from exchange.published_schema import faults_of
from stavewright.exchange.errors import CannotWrite
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave, single
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

FOUR = TimeSignature(4, 4)
WRITE_HARD_CASE = """
from exchange.any_score import hard_case
from stavewright.exchange.musicxml_write import to_musicxml
print(to_musicxml(hard_case()))
"""


def one_bar(*events, time=FOUR, **more) -> Score:
    return Score((Stave("treble", (Bar((tuple(events),), **more),), time=time),))


def beams(*events) -> list[list[str]]:
    root = etree.fromstring(to_musicxml(one_bar(*events, free=True)).encode())
    return [[beam.text for beam in found.findall("beam")] for found in root.iter("note")]


@settings(max_examples=60, deadline=None)
@given(scores())
def test_every_score_makes_a_valid_document(score):
    """Whatever the model can hold, the document is valid against the schema of MusicXML 4.0 (W3C 2021)."""
    assert faults_of(to_musicxml(score)) == []


def test_the_hard_case_is_valid():
    assert faults_of(to_musicxml(hard_case(), title="A <title> & more", composer='"B"', rights="none")) == []


def test_the_schema_check_can_fail():
    """The check itself is tested: a note whose parts stand in the wrong order is refused."""
    good = to_musicxml(single("treble", (note("G4"),)))
    bad = good.replace("<duration>1</duration><voice>1</voice>", "<voice>1</voice><duration>1</duration>")
    assert faults_of(good) == []
    assert faults_of(bad)


@given(st.text(max_size=12))
@settings(max_examples=80, deadline=None)
def test_words_are_escaped_or_refused(text):
    """Words from outside stand in the document as words, or are refused by name; they never become markup."""
    score = one_bar(note("G4", Duration("semibreve"), label=text), directions=(Direction("text", text=text),))
    try:
        document = to_musicxml(score, title=text)
    except CannotWrite:
        assert any(ord(c) < 32 or "\ud800" <= c <= "\udfff" or c in "\ufffe\uffff" for c in text)
        return
    root = etree.fromstring(document.encode())
    assert root.find(".//words").text == (text.replace("\r\n", "\n").replace("\r", "\n") or None)


def test_beams_of_a_dotted_figure():
    """Dotted quaver and semiquaver share a beam; the semiquaver's second beam is a stub (common practice)."""
    dotted = note("G4", Duration("quaver", 1), beam=1)
    short = note("A4", SEMIQUAVER, beam=1)
    assert beams(dotted, short) == [["begin"], ["end", "backward hook"]]
    assert beams(short, dotted) == [["begin", "forward hook"], ["end"]]
    plain = note("B4", QUAVER, beam=2)
    assert beams(plain, short, dotted) == [[], ["begin", "forward hook"], ["end"]]


def test_beams_of_four_semiquavers():
    four = [note("G4", SEMIQUAVER, beam=1)] * 4
    assert beams(*four) == [["begin", "begin"], ["continue", "continue"], ["continue", "continue"], ["end", "end"]]


def test_a_tie_is_written_at_both_ends():
    root = etree.fromstring(to_musicxml(one_bar(note("G4", tie=True), note("G4"), note("A4"), note("B4"))).encode())
    ties = [[tie.get("type") for tie in found.findall("tie")] for found in root.iter("note")]
    assert ties == [["start"], ["stop"], [], []]


def test_a_pick_up_is_bar_nought_and_not_counted():
    """A pick-up bar has the number 0 and is implicit, so the first whole bar is 1 (MusicXML 4.0, measure)."""
    score = Score(
        (
            Stave(
                "treble", (Bar(((note("G4"),),), free=True), Bar((tuple([note("G4")] * 4),))), time=TimeSignature(4, 4)
            ),
        ),
        anacrusis=True,
    )
    root = etree.fromstring(to_musicxml(score).encode())
    assert [(m.get("number"), m.get("implicit")) for m in root.iter("measure")] == [("0", "yes"), ("1", None)]


def test_a_whole_bar_rest_lasts_the_bar_it_fills():
    rest = Rest(Duration("semibreve"), whole_bar=True)
    root = etree.fromstring(to_musicxml(one_bar(rest, time=TimeSignature(6, 8))).encode())
    divisions = int(root.findtext(".//divisions"))
    assert root.find(".//rest").get("measure") == "yes"
    assert int(root.findtext(".//note/duration")) == 3 * divisions


def test_triplets_get_a_bracket_each():
    third = note("G4", Duration("quaver", tuplet=Tuplet(3, 2)))
    root = etree.fromstring(to_musicxml(one_bar(*[third] * 6, free=True)).encode())
    ends = [[t.get("type") for t in found.iter("tuplet")] for found in root.iter("note")]
    assert ends == [["start"], [], ["stop"], ["start"], [], ["stop"]]


def test_a_mixed_triplet_is_one_group():
    """Crotchet and quaver fill one triplet of quavers (Gehrkens, Music Notation and Terminology, 1914, §55)."""
    long = note("G4", Duration("crotchet", tuplet=Tuplet(3, 2)))
    short = note("G4", Duration("quaver", tuplet=Tuplet(3, 2)))
    root = etree.fromstring(to_musicxml(one_bar(long, short, long, short, free=True)).encode())
    ends = [[t.get("type") for t in found.iter("tuplet")] for found in root.iter("note")]
    assert ends == [["start"], ["stop"], ["start"], ["stop"]]


def test_free_music_has_no_printed_time():
    root = etree.fromstring(to_musicxml(single("alto", (note("C4"),))).encode())
    time = root.find(".//time")
    assert time.get("print-object") == "no"
    assert time.find("senza-misura") is not None


@pytest.mark.parametrize("score", [hard_case(), single("bass", (note("C3", CROTCHET),))])
def test_same_score_same_bytes(score):
    assert to_musicxml(score) == to_musicxml(score)


def test_same_bytes_whatever_the_hash_seed():
    """Two Python processes with different hash seeds write the same document."""
    runs = {
        subprocess.run(
            [sys.executable, "-c", WRITE_HARD_CASE],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


def test_a_pitch_off_the_scale_is_refused_by_name():
    with pytest.raises(CannotWrite, match="octaves 0 to 9"):
        to_musicxml(single("treble", (Note(Pitch("C", 0, 12), CROTCHET),)))


def test_a_named_slur_runs_from_its_first_note_to_its_last():
    row = (note("G4", slur="s1"), note("A4", slur="s1"), note("B4", slur="s1"), note("C5"))
    root = etree.fromstring(to_musicxml(one_bar(*row)).encode())
    assert [[s.get("type") for s in found.iter("slur")] for found in root.iter("note")] == [["start"], [], ["stop"], []]


def test_a_signature_drawn_by_hand_keeps_its_places():
    """A pupil's own signature is written sign by sign, each in the octave it was drawn in."""
    signs = (Pitch("F", 1, 4), Pitch("C", 1, 5))
    score = Score((Stave("treble", (Bar(((note("G4"),),), free=True),), fifths=2, signs=signs),))
    key = etree.fromstring(to_musicxml(score).encode()).find(".//key")
    assert [child.text for child in key] == ["F", "1", "C", "1", "4", "5"]
    assert faults_of(to_musicxml(score)) == []

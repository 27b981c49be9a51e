"""music21 as a second opinion: it reads our documents note for note, and we read its corpus as it does."""

from __future__ import annotations

import warnings
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from music21 import converter, note, stream
from music21.musicxml.xmlObjects import MusicXMLWarning

from exchange.any_score import hard_case
from exchange.sound_score import sound_scores
from stavewright.exchange.musicxml_read import read_musicxml
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.score.event import Chord, Gap, Note
from stavewright.score.writing import with_accidentals
from stavewright.theory.duration import CROTCHET_TICKS

CORPUS = Path(find_spec("music21").origin).parent / "corpus"


def name(pitch) -> str:
    """A music21 pitch in our spelling: its flats are written with a minus sign."""
    return f"{pitch.step}{'#' * int(max(pitch.alter, 0))}{'b' * int(max(-pitch.alter, 0))}{pitch.octave}"


def theirs(measure: stream.Measure) -> list[tuple]:
    """Onset, pitches, length and tie of each note music21 found in a bar, graces left out."""
    found = []
    for one in measure.recurse().notes:
        if one.duration.isGrace:
            continue
        pitches = tuple(sorted(name(p) for p in one.pitches))
        tied = one.tie is not None and one.tie.type in ("start", "continue")
        onset = Fraction(one.getOffsetInHierarchy(measure)).limit_denominator(1000)
        found.append((onset, pitches, Fraction(one.quarterLength).limit_denominator(1000), tied))
    return sorted(found)


def ours(bar, *, octave: frozenset[int] = frozenset()) -> list[tuple]:
    found = []
    for voice in bar.voices:
        onset = 0
        for place, event in enumerate(voice):
            if isinstance(event, Chord) or (isinstance(event, Note) and not event.grace):
                pitches = tuple(sorted(p.shifted(1 if place in octave else 0).short for p in event.pitches))
                length = Fraction(event.ticks, CROTCHET_TICKS).limit_denominator(1000)
                found.append((Fraction(onset, CROTCHET_TICKS).limit_denominator(1000), pitches, length, event.tie))
            onset += event.ticks
    return sorted(found)


def measures(document: str | Path) -> list[list[stream.Measure]]:
    with warnings.catch_warnings():
        # Bars that hold too much are meant here; music21 says so and keeps every note.
        warnings.simplefilter("ignore", MusicXMLWarning)
        parsed = converter.parse(document, format="musicxml", forceSource=True)
    return [list(part.getElementsByClass(stream.Measure)) for part in parsed.parts]


def test_music21_reads_the_hard_case_note_for_note():
    """Pitch, onset, length and tie of every note; under the octave sign the note is named as it sounds."""
    score = hard_case()
    for stave, bars in zip(score.staves, measures(to_musicxml(score)), strict=True):
        for index, (bar, measure) in enumerate(zip(stave.bars, bars, strict=True)):
            under = frozenset([4]) if stave is score.staves[0] and index == 1 else frozenset()
            if under:
                bar_ours = ours(bar.__class__((bar.voices[0],)), octave=under) + ours(bar.__class__((bar.voices[1],)))
                assert sorted(bar_ours) == theirs(measure)
            else:
                assert ours(bar) == theirs(measure)


@settings(max_examples=25, deadline=None, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow])
@given(sound_scores())
def test_music21_reads_our_documents_note_for_note(score):
    """Every note of any sound score comes out of our document for music21 as it went in.

    Bars without any length (grace notes and gaps alone) are left out: music21 divides by it. The signs are made to
    agree with the pitches, as music21 trusts the sign where the two differ.
    """
    bars = [bar for stave in score.staves for bar in stave.bars]
    assume(all(sum(0 if isinstance(event, Gap) else event.ticks for event in bar.events) for bar in bars))
    score = with_accidentals(score)
    for stave, bars in zip(score.staves, measures(to_musicxml(score)), strict=True):
        for bar, measure in zip(stave.bars, bars, strict=True):
            assert ours(bar) == theirs(measure)


FILES = [*sorted((CORPUS / "bach").glob("*.mxl"))[::29], CORPUS / "haydn" / "opus1no1" / "movement2.mxl"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_we_read_its_corpus_as_it_does(path):
    """Each bar that we say we understand holds the notes music21 finds there."""
    reading = read_musicxml(path.read_bytes())
    understood = 0
    for stave, bars in zip(reading.staves, measures(path), strict=True):
        for read, measure in zip(stave.bars, bars, strict=True):
            if read.bar is not None:
                understood += 1
                assert ours(read.bar) == theirs(measure), (stave.name, read.number)
    assert understood > 0.7 * sum(len(stave.bars) for stave in reading.staves)


def test_no_note_was_left_untested():
    assert len(FILES) >= 14
    assert any(isinstance(event, note.Note) for event in converter.parse(FILES[0]).recurse().notes)

"""A signature drawn sign by sign: kept by the document, written as MusicXML, drawn where it stands."""

from __future__ import annotations

from exchange.published_schema import faults_of
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

SIGNS = (Pitch("C", 1, 5), Pitch("F", 1, 4))
DRAWN = Score((Stave("treble", (Bar(((Gap(Duration("semibreve")),),), free=True, line="none"),), signs=SIGNS),))


def test_a_drawn_signature_survives_the_document():
    assert score_of(document_of(DRAWN)) == DRAWN


def test_a_drawn_signature_is_written_sign_by_sign():
    # W3C MusicXML 4.0, element key: key-step and key-alter in order, then a key-octave for each.
    xml = to_musicxml(DRAWN)
    assert faults_of(xml) == []
    assert "<key-step>C</key-step><key-alter>1</key-alter><key-step>F</key-step><key-alter>1</key-alter>" in xml
    assert '<key-octave number="1">5</key-octave><key-octave number="2">4</key-octave>' in xml

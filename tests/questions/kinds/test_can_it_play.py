"""What an instrument can play: range, clef, written and sounding pitch."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.can_it_play import KIND, CanItPlay
from stavewright.syllabus.scope import scope_for
from stavewright.theory.instrument import instrument
from stavewright.theory.pitch import Pitch

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914), Appendix B"
HORN = "Schmidt-Jones, Understanding Your French Horn (m10672)"
YES, LOW, HIGH, CLEF = KIND.options(CanItPlay("violin", "treble", ("A4",)))
YES, LOW, HIGH, CLEF = (str(one.words) for one in (YES, LOW, HIGH, CLEF))

# fmt: off
# instrument, clef, notes, as heard?, answer, source
CASES = [
    ("violin", "treble", "G3 A4 E5", False, YES, f"{GEHRKENS}: the lowest string is G3"),
    ("violin", "treble", "F3 A4 E5", False, LOW, f"{GEHRKENS}: the lowest string is G3"),
    ("violin", "alto", "A3 C4 G4", False, CLEF, f"{GEHRKENS}: the violin reads the treble clef"),
    ("viola", "alto", "C3 G3 A4", False, YES, f"{GEHRKENS}: the lowest string is C3"),
    ("viola", "alto", "A2 G3 A4", False, LOW, f"{GEHRKENS}: the lowest string is C3"),
    ("viola", "bass", "C3 D3 E3", False, CLEF, f"{GEHRKENS}: alto, also treble"),
    ("cello", "bass", "C2 G2 A3", False, YES, f"{GEHRKENS}: the lowest string is C2"),
    ("cello", "tenor", "C3 G3 A4", False, YES, f"{GEHRKENS}: bass, tenor and treble clef"),
    ("cello", "bass", "A1 C3 G2", False, LOW, f"{GEHRKENS}: the lowest string is C2"),
    ("flute", "treble", "C4 E5 C6", False, YES, f"{GEHRKENS}: C4 to C7"),
    ("flute", "treble", "G3 E5 C6", False, LOW, f"{GEHRKENS}: C4 to C7; the MuseScore table has B3"),
    ("horn in F", "treble", "C4 G4 C5", False, YES, HORN),
    ("horn in F", "treble", "C4 G4 E6", False, HIGH, f"{GEHRKENS}: up to F5 as it sounds, so written C6"),
    ("alto saxophone", "treble", "G3 C5 A5", False, LOW, f"{HORN}: written G3 sounds B flat 2, below C sharp 3"),
    ("alto saxophone", "treble", "G3 C5 A5", True, YES, "the same notes as they are heard"),
    ("double bass", "bass", "E2 A2 D3", False, YES, f"{GEHRKENS}: written an octave higher than it sounds"),
    ("double bass", "bass", "B1 A2 D3", False, LOW, f"{GEHRKENS}: E1, with an extension C1 (MuseScore table)"),
    ("double bass", "bass", "B1 A2 D3", True, YES, f"{GEHRKENS}: B1 itself is on the lowest string"),
    ("double bass", "treble", "C5 A4 G4", True, HIGH, f"{GEHRKENS}: up to A3, the MuseScore table up to G4"),
    ("bassoon", "treble", "C5 A5 E5", True, HIGH, f"{GEHRKENS}: up to B flat 4, the MuseScore table up to E5"),
]
# fmt: on


@pytest.mark.parametrize("name, clef, notes, sounding, right, source", CASES)
def test_published_ranges_and_clefs(name: str, clef: str, notes: str, sounding: bool, right: str, source: str) -> None:
    assert texts("can-it-play", CanItPlay(name, clef, tuple(notes.split()), sounding)) == [right], source


def test_slips_by_hand() -> None:
    """A written part read as it stands: B1 is on the double bass, but an octave lower it is not."""
    bass = CanItPlay("double bass", "bass", ("B1", "A2", "D3"))
    assert slip_texts("can-it-play", bass)["took written for sounding"] == YES
    high = CanItPlay("flute", "treble", ("A4", "E6", "C6"))
    assert slip_texts("can-it-play", high)["took ledger lines above for too high"] == HIGH
    low = CanItPlay("cello", "bass", ("C2", "E2", "G2"))
    assert slip_texts("can-it-play", low)["took ledger lines below for too low"] == LOW
    strange = CanItPlay("viola", "bass", ("C3", "D3", "E3"))
    assert slip_texts("can-it-play", strange)["looked at the clef alone"] == YES


def test_nothing_near_the_edge_is_asked() -> None:
    """Sources differ by a third: right notes lie within the usual range, wrong ones well past the widest."""
    for seed in range(500):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is None or draft.expected == CLEF:
            continue
        one = instrument(draft.facts.name)
        notes = [Pitch.parse(note) for note in draft.facts.notes]
        heard = [note if draft.facts.sounding else one.sounding(note) for note in notes]
        for pitch in heard:
            inside = one.usual.low.midi <= pitch.midi <= one.usual.high.midi
            beyond = 7 if one.family == "brass" else 3
            far = pitch.midi <= one.limits.low.midi - beyond or pitch.midi >= one.limits.high.midi + beyond
            assert inside or (far and draft.expected in (LOW, HIGH)), draft


def test_nothing_is_asked_that_a_brass_player_could_dispute() -> None:
    """A trombone has pedal notes down to E1; a horn part in the bass clef may sound a 4th higher than written."""
    for seed in range(800):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is not None:
            assert (draft.facts.name, draft.expected) != ("trombone", LOW)
            assert draft.facts.sounding or (draft.facts.name, draft.facts.clef) != ("horn in F", "bass")


def test_every_answer_comes_often() -> None:
    found = Counter()
    for seed in range(400):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        found[draft and draft.expected] += 1
    assert all(found[one] > 60 for one in (YES, LOW, HIGH, CLEF)), found
    assert found[None] < 40


def test_notes_to_be_heard_ask_for_no_clef() -> None:
    assert len(KIND.options(CanItPlay("violin", "bass", ("A3",), True))) == 3


def test_an_instrument_without_a_range_is_refused() -> None:
    with pytest.raises(BadDocument, match="no range of the bass flute"):
        CanItPlay("bass flute", "treble", ("C4",))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("can-it-play")

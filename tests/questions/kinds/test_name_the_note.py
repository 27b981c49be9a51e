"""Naming a note from its place under its clef."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.documents import StaveBlock
from stavewright.questions.kinds.name_the_note import KIND, NameTheNote
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# clef, place (0 is the bottom line), sign, name, source
CASES = [
    ("bass", 0, None, "G", f"{GEHRKENS} §48: the bottom bass line is G2"),
    ("bass", 8, None, "A", f"{GEHRKENS} §48: the top bass line is A3"),
    ("bass", 10, None, "C", f"{GEHRKENS} §48: middle C, one line above the bass stave"),
    ("treble", -2, None, "C", f"{GEHRKENS} §48: middle C, one line below the treble stave"),
    ("treble", 9, None, "G", f"{GEHRKENS} §48: the space above the treble stave is G5"),
    ("treble", 12, None, "C", f"{GEHRKENS} §48: the second line above the treble stave is C6"),
    ("treble", 2, "sharp", "G sharp", f"{GEHRKENS} §15: the G clef names its second line"),
    ("bass", 6, "flat", "F flat", f"{GEHRKENS} §16: the F clef names its fourth line"),
    ("alto", 4, None, "C", f"{GEHRKENS} §17: the C clef names its own line, here the middle one"),
    ("tenor", 6, "natural", "C", f"{GEHRKENS} §17: the C clef names its own line, here the fourth"),
    ("treble", 4, "flat-flat", "B double flat", f"{GEHRKENS} §22-26: the double flat"),
    ("treble", 8, "double-sharp", "F double sharp", f"{GEHRKENS} §22-26: the double sharp"),
]
# fmt: on


@pytest.mark.parametrize("clef, place, sign, name, source", CASES)
def test_published_places(clef: str, place: int, sign: str | None, name: str, source: str) -> None:
    assert texts("name-the-note", NameTheNote(clef, place, sign))[0] == name, source


def test_a_natural_may_be_named_in_full() -> None:
    """Common practice: F and F natural are one note; F sharp has one name."""
    assert texts("name-the-note", NameTheNote("treble", 1)) == ["F", "F natural"]
    assert texts("name-the-note", NameTheNote("treble", 1, "sharp")) == ["F sharp"]


def test_slips_are_what_the_wrong_rule_gives() -> None:
    """Worked by hand: the second space of the treble clef, A; in the bass clef it would be C."""
    assert slip_texts("name-the-note", NameTheNote("treble", 3, "flat-flat")) == {
        "read in the bass clef": "C double flat",
        "sign left out": "A",
        "sharp and flat mixed up": "A double sharp",
        "double sign read as single": "A flat",
        "one place too high": "B double flat",
        "one place too low": "G double flat",
    }
    assert slip_texts("name-the-note", NameTheNote("alto", 4))["read in the tenor clef"] == "A"


def test_the_picture_in_words_does_not_name_the_note() -> None:
    posed = KIND.pose(NameTheNote("treble", 3, "flat-flat"), Wording("words"))
    stave = posed.blocks[1]
    assert isinstance(stave, StaveBlock)
    assert stave.alt == "A stave with the treble clef and one note, in the 2nd space, with a double flat before it."


def test_a_far_note_is_spelt_through_the_octave() -> None:
    """C6 under the treble clef: up an octave from G to G, then G A B C."""
    steps = KIND.work(NameTheNote("treble", 12), "usual")
    assert steps[1].text.endswith("to G again, then on, one letter for each line and space: G, A, B, C.")


def test_an_outside_library_reads_the_same_notes() -> None:
    """music21 places its pitches by the lowest line of its own clefs."""
    clefs = {
        "treble": music21.clef.TrebleClef,
        "bass": music21.clef.BassClef,
        "alto": music21.clef.AltoClef,
        "tenor": music21.clef.TenorClef,
    }
    signs = {None: 0, "natural": 0, "sharp": 1, "flat": -1, "double-sharp": 2, "flat-flat": -2}
    for seed in range(200):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        pitch = music21.pitch.Pitch()
        pitch.diatonicNoteNum = clefs[facts.clef]().lowestLine + facts.place
        spelt = {1: " sharp", -1: " flat", 2: " double sharp", -2: " double flat", 0: ""}[signs[facts.accidental]]
        assert texts("name-the-note", facts)[0] == pitch.step + spelt


def test_the_pool_is_counted() -> None:
    """Grade 1: treble C4 to A5 and bass E2 to C4, each place plain, natural, sharp and flat, less the rare ones."""
    seen = set()
    for seed in range(4000):
        draft = KIND.set(scope_for(1), Random(seed), None, None)
        assert draft is not None
        seen.add((draft.facts.clef, draft.facts.place, draft.facts.accidental))
    assert len(seen) == KIND.pool(scope_for(1))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("name-the-note")


@pytest.mark.parametrize(
    "sign, looks", [("sharp", "grid"), ("flat", "grid"), ("double-sharp", "x"), ("flat-flat", "x")]
)
def test_the_remedy_shows_the_sign_that_is_there(sign: str, looks: str) -> None:
    """Gehrkens, Music Notation and Terminology (1914) §21-23; double signs were told by single ones."""
    remedies = {one.name: one.remedy for one in KIND.slips(NameTheNote("alto", 3, sign))}
    assert f"small {looks}" in remedies["sharp and flat mixed up"]

"""Going on with a broken chord: worked patterns up and down, signs bar by bar, the slips, music21."""

from __future__ import annotations

from itertools import pairwise

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.comparing import compare
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.broken_chord import KIND, BrokenChord
from stavewright.questions.values import Value
from stavewright.score.check import faults


def ask(key: str, pattern: str, *, up: bool = True, signature: bool = False, groups: int = 3, octave: int = 4):
    rungs = tuple(int(one) for one in pattern)
    return BrokenChord("treble", key, octave, rungs, up, signature, "quaver", 2, groups)


# Triads: Gehrkens, Music Notation and Terminology (1914) §§197-198; each group from the next note of the chord (C E G,
# E G C, G C E) is the pattern of broken chords in every book of scales: common practice.
@pytest.mark.parametrize(
    "facts, notes",
    [
        (ask("C major", "012"), "G C E"), (ask("C major", "012", groups=4), "G C E C E G"),
        (ask("C major", "012", up=False), "C E G"), (ask("A minor", "0123"), "E A C E"),
        (ask("D major", "021"), "A F sharp D"), (ask("G minor", "210", up=False), "D B flat G"),
        (ask("F major", "0121"), "C F A F"),
    ],
)  # fmt: skip
def test_worked_patterns(facts: BrokenChord, notes: str) -> None:
    assert texts("broken-chord", facts) == [notes]


def test_the_first_groups_are_printed_and_the_rest_is_left() -> None:
    drawn = KIND.draw(ask("C major", "012"), KIND.solve(ask("C major", "012"))[0].value[0])
    assert [note.pitch.short for note in drawn.notes()] == "C4 E4 G4 E4 G4 C5 G4 C5 E5".split()
    down = ask("C major", "012", up=False)
    drawn = KIND.draw(down, KIND.solve(down)[0].value[0])
    assert [note.pitch.short for note in drawn.notes()] == "G4 C5 E5 E4 G4 C5 C4 E4 G4".split()


def test_the_octave_counts_and_signs_last_to_the_bar_line() -> None:
    """Each bar needs its own sign (Gehrkens, 1914, §24)."""
    facts = ask("D major", "012", groups=4)
    value = KIND.solve(facts)[0].value[0]
    assert [note.accidental for note in value.notes] == [None, None, "sharp", None, "sharp", None]
    right = pupil_wrote("A4 D5 F#5 D5 F#5 A5", "quaver")
    assert compare(right, value, KIND.marking).same
    assert compare(pupil_wrote("A4 D5 F#5 D5 F5 A5", "quaver"), value, KIND.marking).faults == 1
    assert compare(pupil_wrote("A4 D4 F#5 D5 F#5 A5", "quaver"), value, KIND.marking).faults == 1
    signed = ask("D major", "012", signature=True)
    assert compare(pupil_wrote("A4 D5 F5", "quaver"), KIND.solve(signed)[0].value[0], KIND.marking).same


def test_each_slip_goes_on_by_its_wrong_rule() -> None:
    slips = slip_texts("broken-chord", ask("D major", "012", groups=4))
    assert slips["pattern moved by step"] == "G B E A C sharp F sharp"
    assert slips["last group written again"] == "F sharp A D F sharp A D"
    assert slips["went back"] == "D F sharp A D F sharp A"
    assert slips["a chord note skipped"] == "D F sharp A A D F sharp"
    assert slips["group turned round"] == "F sharp D A A F sharp D"
    assert slips["signs left out"] == "A D F D F A"
    assert all(one.steady for one in KIND.slips(ask("D major", "012")))


def test_facts_that_leave_nothing_to_write_are_refused() -> None:
    with pytest.raises(BadDocument, match="leave at least one"):
        BrokenChord("treble", "C major", 4, (0, 1, 2), True, False, "quaver", 3, 3)


def test_music21_hears_one_triad_in_every_bar() -> None:
    """Every bar of the whole row is the tonic triad, and its lowest note climbs or falls by one note of the chord."""
    for _, draft in drafts("broken-chord", 60):
        facts = draft.facts
        drawn = KIND.draw(facts, KIND.solve(facts)[0].value[0])
        lows = []
        for bar in drawn.staves[0].bars:
            heard = music21.chord.Chord([one.pitch.short.replace("b", "-") for one in bar.events])
            name = heard.root().name.replace("-", " flat").replace("#", " sharp")
            assert f"{name} {heard.quality}" == facts.key
            lows.append((heard.inversion(), min(one.pitch.midi for one in bar.events)))
        step = 1 if facts.up else -1
        assert all((a[0] + step) % 3 == b[0] and (b[1] - a[1]) * step > 0 for a, b in pairwise(lows))
        assert all(abs(b[1] - a[1]) <= 5 for a, b in pairwise(lows))


def test_any_written_answer_can_be_drawn() -> None:
    facts = ask("A minor", "012", signature=True)
    for value in (Value(notes=()), pupil_wrote("C9 C9", "quaver"), pupil_wrote("C4 " * 9, "quaver")):
        assert faults(KIND.draw(facts, value)) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("broken-chord")

"""Transposing instruments: which, by what interval, and in which direction."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.transposing_or_not import KIND, TransposingOrNot

HORN = "Schmidt-Jones, Understanding Your French Horn (m10672)"
GEHRKENS = "Gehrkens, Music Notation and Terminology (1914), Appendix B"

# fmt: off
# instrument, how it sounds, source
CASES = [
    ("clarinet in B flat", "a major 2nd lower than written", HORN),
    ("clarinet in A", "a minor 3rd lower than written", HORN),
    ("clarinet in E flat", "a minor 3rd higher than written", HORN),
    ("horn in F", "a perfect 5th lower than written", HORN),
    ("cor anglais", "a perfect 5th lower than written", HORN),
    ("alto saxophone", "a major 6th lower than written", HORN),
    ("trumpet in B flat", "a major 2nd lower than written", HORN),
    ("piccolo", "an octave higher than written", HORN),
    ("double bass", "an octave lower than written", HORN),
    ("oboe", "as written", GEHRKENS),
    ("viola", "as written", GEHRKENS),
    ("trombone", "as written", GEHRKENS),
]
# fmt: on


@pytest.mark.parametrize("name, how, source", CASES)
def test_published_intervals(name: str, how: str, source: str) -> None:
    assert texts("transposing-or-not", TransposingOrNot(name))[0] == how, source


def test_which_of_several() -> None:
    """Schmidt-Jones, Understanding Your French Horn (m10672)."""
    among = ("oboe", "cor anglais", "bassoon", "flute")
    assert texts("transposing-or-not", TransposingOrNot("", among, "does")) == ["cor anglais"]
    among = ("clarinet", "horn", "trombone", "alto saxophone")
    assert texts("transposing-or-not", TransposingOrNot("", among, "not")) == ["trombone"]


def test_slips_by_hand() -> None:
    """The wrong direction first; the interval turned round: a major 2nd becomes a minor 7th."""
    assert slip_texts("transposing-or-not", TransposingOrNot("clarinet in B flat")) == {
        "wrong direction": "a major 2nd higher than written",
        "turned the interval round": "a minor 7th lower than written",
        "took it for one that does not transpose": "as written",
        "took it for another instrument": "a minor 3rd lower than written",
    }
    assert slip_texts("transposing-or-not", TransposingOrNot("piccolo"))["wrong direction"] == (
        "an octave lower than written"
    )
    among = ("oboe", "cor anglais", "bassoon", "violin")
    assert slip_texts("transposing-or-not", TransposingOrNot("", among, "does")) == {
        "went by the family": "oboe",
        "mixed up the strings": "violin",
    }


def test_an_octave_instrument_is_heard_at_another_c() -> None:
    """Schmidt-Jones, Understanding Your French Horn (m10672): contrabassoon and double bass an octave lower."""
    facts = TransposingOrNot("contrabassoon")
    said = [KIND.solve(facts)[0].reason, *(step.text for step in KIND.work(facts, "usual"))]
    said += [slip.remedy for slip in KIND.slips(facts)]
    assert not any("hear C" in text for text in said)
    assert any("hear the C an octave lower" in text for text in said)


def test_music21_agrees() -> None:
    """music21's instruments, as a second opinion; it has the same sounding interval for each it knows."""
    theirs = {
        "clarinet in B flat": music21.instrument.Clarinet(),
        "horn in F": music21.instrument.Horn(),
        "cor anglais": music21.instrument.EnglishHorn(),
        "alto saxophone": music21.instrument.AltoSaxophone(),
        "piccolo": music21.instrument.Piccolo(),
        "double bass": music21.instrument.Contrabass(),
        "trumpet in B flat": music21.instrument.Trumpet(),
    }
    for name, one in theirs.items():
        said = texts("transposing-or-not", TransposingOrNot(name))[0]
        size = one.transposition.semiSimpleNiceName.lower()
        assert (one.transposition.generic.value > 0) is ("higher" in said), name
        number = {"octave": "octave", "second": "2nd", "third": "3rd", "fifth": "5th", "sixth": "6th"}
        assert number[size.split()[-1]] in said, (name, size)


def test_no_name_gives_it_away() -> None:
    """Where one of several is asked, no option names its key."""
    several = [draft for _, draft in drafts("transposing-or-not", 200) if draft.facts.among]
    assert len(several) > 40
    assert not [draft for draft in several if any(" in " in name for name in draft.facts.among)]


def test_unfair_sets_are_refused() -> None:
    with pytest.raises(BadDocument, match="exactly one must"):
        TransposingOrNot("", ("clarinet", "horn", "oboe", "flute"), "does")
    with pytest.raises(BadDocument, match="name one instrument"):
        TransposingOrNot("oboe", ("clarinet",), "does")


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("transposing-or-not")

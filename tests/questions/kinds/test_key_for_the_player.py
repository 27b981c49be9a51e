"""The key a transposing player reads: published transpositions, both spellings of far keys, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.key_for_the_player import KIND, KeyForThePlayer
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import Key


# How far each sounds from its part: Schmidt-Jones, Understanding Your French Horn (m10672). Keys moved by those
# intervals: Schmidt-Jones, Understanding Basic Music Theory (m10668: C up m3 is E flat, G up M2 is A); the others
# follow by the same rule.
@pytest.mark.parametrize(
    "instrument, concert, signature",
    [
        ("clarinet in B flat", "G major", "3 sharps"), ("clarinet in B flat", "E flat major", "1 flat"),
        ("trumpet in B flat", "E major", "6 sharps"), ("clarinet in A", "C major", "3 flats"),
        ("clarinet in A", "C sharp minor", "1 sharp"), ("cor anglais", "D flat major", "4 flats"),
        ("cor anglais", "D minor", "no sharps or flats"), ("cor anglais", "B major", "6 sharps"),
        ("clarinet in E flat", "E flat major", "no sharps or flats"), ("trumpet in D", "D major", "no sharps or flats"),
        ("clarinet in E flat", "C major", "3 sharps"), ("soprano saxophone", "G minor", "no sharps or flats"),
    ],
)  # fmt: skip
def test_published_transpositions(instrument: str, concert: str, signature: str) -> None:
    assert texts("key-for-the-player", KeyForThePlayer(instrument, concert))[0] == signature


def test_the_signs_count_in_order_and_place() -> None:
    facts = KeyForThePlayer("clarinet in B flat", "G major")
    answers = KIND.solve(facts)
    signs = pupil_wrote("F#5 C#5 G#5").notes
    assert is_right(Value(notes=signs), answers, KIND)
    assert not is_right(Value(notes=signs[::-1]), answers, KIND)
    assert not is_right(Value(notes=signs[:2]), answers, KIND)
    assert not is_right(pupil_wrote("F#4 C#5 G#5"), answers, KIND)


def test_both_spellings_of_a_far_key_are_right() -> None:
    """G flat and F sharp major are one key (Gehrkens, Music Notation and Terminology, 1914, §83)."""
    assert texts("key-for-the-player", KeyForThePlayer("trumpet in B flat", "E major")) == ["6 sharps", "6 flats"]
    assert len(texts("key-for-the-player", KeyForThePlayer("trumpet in B flat", "D major"))) == 1


def test_each_slip_answers_by_its_wrong_rule() -> None:
    slips = slip_texts("key-for-the-player", KeyForThePlayer("clarinet in B flat", "E flat major"))
    assert slips == {
        "wrong direction": "5 flats", "concert key kept": "3 flats", "moved as for an instrument in A": "6 flats",
        "moved as for an instrument in F": "2 flats", "major and minor mixed up": "4 flats",
    }  # fmt: skip
    higher = slip_texts("key-for-the-player", KeyForThePlayer("clarinet in E flat", "C major"))
    assert higher["wrong direction"] == "3 flats"
    assert "moved as for an instrument in A" not in higher


def test_others_than_transposing_players_are_refused() -> None:
    for name in ("flute", "horn in F", "zither"):
        with pytest.raises(BadDocument, match="no transposing instrument"):
            KeyForThePlayer(name, "C major")


def test_music21_moves_the_tonic_alike() -> None:
    """The tonic moved by music21's own table of the instrument, or by the interval where it has none."""
    table = {
        "clarinet in B flat": music21.instrument.Clarinet(), "cor anglais": music21.instrument.EnglishHorn(),
        "soprano saxophone": music21.instrument.SopranoSaxophone(),
    }  # fmt: skip
    seen = set()
    for _, draft in drafts("key-for-the-player", 200):
        facts = draft.facts
        concert = Key.parse(facts.concert)
        if facts.instrument not in table:
            continue
        tonic = music21.pitch.Pitch(concert.tonic.short.replace("b", "-"))
        part = tonic.transpose(table[facts.instrument].transposition.reverse())
        theirs = music21.key.Key(part.name.lower() if concert.is_minor else part.name)
        signs = len(KIND.solve(facts)[0].value[0].notes or ())
        assert signs == abs(theirs.sharps)
        assert theirs.sharps in {key.fifths for key in scope_for(5).keys}
        seen.add(facts.instrument)
    assert seen == set(table)


def test_any_written_answer_can_be_drawn() -> None:
    facts = KeyForThePlayer("cor anglais", "C major")
    for value in (Value(notes=()), pupil_wrote("C9 C9")):
        assert faults(KIND.draw(facts, value)) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("key-for-the-player")

"""The table of terms: counts, what is refused, and meanings held against published glossaries."""

from __future__ import annotations

import pytest

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import opposed, read_meaning, same_meaning, too_near
from stavewright.syllabus.terms import COLUMNS, all_terms, core_terms, read_terms, term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
LILYPOND = "LilyPond Music Glossary"

# fmt: off
# term, language, a meaning in other words, source
PUBLISHED = [
    ("Largo", "Italian", "slow and broad", f"{GEHRKENS} §109"),
    ("Andante", "Italian", "walking pace", f"{GEHRKENS} §109; {LILYPOND}"),
    ("Presto", "Italian", "very fast", f"{GEHRKENS} §109"),
    ("Rallentando", "Italian", "slowing down gradually", f"{GEHRKENS} §111; {LILYPOND}"),
    ("Accelerando", "Italian", "gradually faster", f"{LILYPOND}, accelerando"),
    ("Mezzo piano", "Italian", "moderately soft", f"{GEHRKENS} §120"),
    ("Fortissimo", "Italian", "very loud", f"{GEHRKENS} §120"),
    ("Crescendo", "Italian", "becoming gradually louder", f"{GEHRKENS} §124"),
    ("Staccato", "Italian", "detached", f"{LILYPOND}, staccato"),
    ("Legato", "Italian", "smoothly connected", f"{LILYPOND}, legato: smooth and connected"),
    ("Pizzicato", "Italian", "plucked", f"{LILYPOND}, pizzicato"),
    ("Da capo", "Italian", "from the beginning", f"{LILYPOND}, da capo"),
    ("Dal segno", "Italian", "from the sign", f"{LILYPOND}, dal segno"),
    ("Lent", "French", "slowly", f"{LILYPOND}, lento: F. lent"),
    ("Langsam", "German", "slow", f"{LILYPOND}, adagio, largo, lento: German langsam"),
]
# fmt: on


@pytest.mark.parametrize("term, language, said, source", PUBLISHED)
def test_published_meanings(term: str, language: str, said: str, source: str) -> None:
    known = term_of(f"{term}|{language}").meanings
    assert any(read_meaning(said) <= read_meaning(one) or same_meaning(said, one) for one in known), source


def test_the_core_grows_as_the_syllabus_says() -> None:
    """Common practice, counted with the signs: about 45, 95, 150, 220 and 300 by level."""
    assert len(all_terms()) >= 600
    counts = [len(core_terms(level)) for level in (1, 2, 3, 4, 5)]
    assert counts == [28, 62, 110, 171, 257]
    assert {term.language for term in core_terms(3)} == {"Italian"}
    assert {term.language for term in core_terms(4)} == {"Italian", "French", "Latin"}
    assert "German" in {term.language for term in core_terms(5)}


def test_every_term_says_where_it_comes_from() -> None:
    for term in all_terms():
        assert term.source.strip()
        assert term.meaning.strip()
        assert term.confirmed or "memory" in term.source


HEAD = "\t".join(COLUMNS)
GOOD = "Lento\t\tItalian\tslow\t\ttempo slow\t2\tyes\tmemory\tno"


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "columns"),
        ("term\tmeaning", "columns"),
        (f"{HEAD}\n{GOOD}\n{GOOD}", "Lento (Italian) stands twice"),
        (f"{HEAD}\n{GOOD}\n{GOOD.replace('Lento', 'LENTO')}", "stands twice"),
        (f"{HEAD}\n{GOOD.replace('tempo slow', 'snail')}", "theme 'snail'"),
        (f"{HEAD}\n{GOOD.replace('slow', '', 1)}", "no meaning"),
        (f"{HEAD}\n{GOOD.replace('Italian', 'Martian')}", "language 'Martian'"),
        (f"{HEAD}\n{GOOD.replace('2', '6')}", "grade '6'"),
        (f"{HEAD}\n{GOOD.replace('yes', 'maybe')}", "core is 'maybe'"),
        (f"{HEAD}\nLento\tslow", "line 2 has 2 fields"),
    ],
)
def test_a_broken_table_is_refused(text: str, said: str) -> None:
    with pytest.raises(BadSyllabus) as fault:
        read_terms(text)
    assert said in str(fault.value)


def test_every_fault_is_named_at_once() -> None:
    text = f"{HEAD}\n{GOOD.replace('slow', '', 1)}\n{GOOD.replace('Italian', 'Martian')}"
    with pytest.raises(BadSyllabus, match=r"(?s)line 2.*line 3"):
        read_terms(text)


@pytest.mark.parametrize(
    "one, other",
    [
        ("getting gradually slower", "slow down gradually"),
        ("quiet", "softly"),
        ("in a singing style", "like a song"),
        ("fast and lively", "lively and quick"),
        ("held for its full length", "hold for full value"),
    ],
)
def test_one_meaning_in_many_words(one: str, other: str) -> None:
    assert same_meaning(one, other)


@pytest.mark.parametrize(
    "one, other",
    [
        ("slow", "slower"),
        ("slow", "very slow"),
        ("loud", "getting louder"),
        ("not too fast", "fast"),
        ("with mute", "without mute"),
    ],
)
def test_other_meanings_stay_apart(one: str, other: str) -> None:
    assert not same_meaning(one, other)
    assert not too_near(one, other)


def test_a_meaning_that_holds_both_sides_is_the_opposite_of_neither() -> None:
    """Fortepiano, “loud, then at once soft”, is no opposite of loud or of soft."""
    assert not opposed("loud, then at once soft", "very loud")
    assert not opposed("very soft", "loud, then at once soft")
    assert opposed("very loud", "soft")


def test_every_way_to_say_a_term_says_all_of_it() -> None:
    """Half of a two-sided meaning is not the meaning: “very fast” is presto, not presto ma non troppo."""
    for term, half in (
        ("Presto ma non troppo", "very fast"),
        ("Andante ma non troppo", "walking pace"),
        ("Adagietto", "slow"),
        ("Allegro giusto", "fast"),
        ("Patetico", "with deep"),
    ):
        assert half not in term_of(f"{term}|Italian").meanings


def test_mild_degrees_agree_before_a_word_and_not_alone() -> None:
    """Mezzo, half, is not moderato, moderate; yet half loud is moderately loud and fairly loud."""
    assert same_meaning("half loud", "moderately loud")
    assert same_meaning("quite loud", "medium loud")
    assert not same_meaning("half", "moderate")
    assert not same_meaning("moderate", "somewhat")
    assert same_meaning("moderate", "medium")


def test_opposites_work_both_ways() -> None:
    assert opposed("loud", "soft")
    assert opposed("soft", "loud")
    assert not opposed("loud", "slow")


@pytest.mark.parametrize(
    "term, said, right",
    [
        ("Fortepiano", "soft, then suddenly loud", False),
        ("Fortepiano", "loud then quiet straight away", True),
        ("Senza sordino", "take the mute off", True),
        ("Con sordino", "mute off", False),
        ("Arco", "bow the strings", True),
        ("Pizzicato", "pluck with your finger", True),
        ("Da capo", "from the top", True),
        ("Fine", "finish here", True),
        ("Molto", "lots", True),
        ("Meno", "not as much", True),
        ("Meno", "more", False),
        ("Sempre", "all the time", True),
        ("Subito", "straightaway", True),
        ("Subito", "quickly", False),
        ("Accelerando", "get faster and faster", True),
        ("Accelerando", "fast", False),
        ("Crescendo", "get louder slowly", True),
        ("Crescendo", "louder", False),
        ("Tenuto", "pause", False),
        ("Legato", "no gaps between the notes", True),
        ("Rubato", "flexible tempo", True),
        ("Una corda", "left pedal", True),
        ("Tre corde", "left pedal", False),
        ("Tre corde", "release left pedal", True),
        ("Attacca", "go on without stopping", True),
        ("Attacca", "attack", False),
        ("Allargando", "broadening out", True),
        ("Presto", "extremely fast", False),
        ("Ottava", "8 notes higher", False),
    ],
)
def test_what_a_pupil_writes_in_their_own_words(term: str, said: str, right: bool) -> None:
    """Written before the marker was asked, from musical knowledge: fair words are taken, near ones are not."""
    meanings = term_of(f"{term}|Italian").meanings
    assert any(same_meaning(said, meaning) for meaning in meanings) is right

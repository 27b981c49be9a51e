"""The notes: facts computed and right, faults of the data named, words that a child of ten reads."""

from __future__ import annotations

import re

import pytest

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes import TOPICS, Rule, read_topic, rules_for, topic_notes
from stavewright.syllabus.notes_facts import FACTS, with_facts

ALL = [(topic, rule) for topic in TOPICS for rule in topic_notes(topic).rule]


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        # Gehrkens, Music Notation and Terminology (1914) §87-95, key signatures; common practice for the rest.
        ("signature E major", "F sharp, C sharp, G sharp and D sharp"),
        ("signature C major", "no sharps or flats"),
        ("signs A flat major", "4 flats"),
        ("relative E flat major", "C minor"),
        ("leading F sharp minor", "E sharp"),
        ("scale E, harmonic minor", "E, F sharp, G, A, B, C, D sharp, E"),
        ("scale E, melodic minor, down", "E, D, C, B, A, G, F sharp, E"),
        ("semitones major", "3 and 4, and 7 and 8"),
        ("degree B flat major, 4", "E flat"),
        ("degree-name 6", "submediant"),
        ("chord V, E minor", "B, D sharp, F sharp"),
        ("chord IIb, C major", "F, A, D"),
        ("cadence V, VI", "interrupted"),
        ("interval Ab3, F4", "major 6th"),
        ("number C4, E4", "3rd"),
        ("size diminished 5th", "6"),
        ("inversion major 2nd", "minor 7th"),
        ("simple minor 10th", "minor 3rd"),
        ("above D, major 6th", "B"),
        ("below D, minor 3rd", "B"),
        ("key-above E flat major, major 2nd", "F major"),
        ("twins B", "C flat or A double sharp"),
        ("lines tenor", "D, F, A, C, E"),
        ("spaces alto", "G, B, D, F"),
        ("count semiquaver, dotted crotchet", "6"),
        ("beats 12/8", "4"),
        ("beat 9/8", "dotted crotchet"),
        ("metre 4/2", "simple quadruple"),
        ("sounds horn in F, C5", "F"),
        ("part trumpet in B flat, E flat major", "F major"),
        ("term Molto", "very, much"),
        ("sign 2", "double sharp"),
    ],
)
def test_facts_are_what_the_books_say(fact: str, said: str) -> None:
    assert with_facts(f"So {{{fact}}}.") == f"So {said}."


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{signature}", "signature"),
        ("{signature H major}", "H major"),
        ("{colour blue}", "there is no fact 'colour'"),
        ("{count crotchet, dotted quaver}", "no whole number"),
        ("{lines soprano}", "soprano"),
        ("{term Nonsense}", "Nonsense"),
        ("{cadence V}", "cadence V"),
    ],
)
def test_a_fact_that_theory_cannot_work_out_is_refused(text: str, said: str) -> None:
    """No sentence with a wrong or an unknown fact is ever printed."""
    with pytest.raises(BadSyllabus, match=re.escape(said)):
        with_facts(text)


def test_every_fact_is_tried() -> None:
    """The notes, or the list above, use each fact there is: none is left that nobody has looked at."""
    source = " ".join(sentence for _, rule in ALL for sentence in rule.say)
    used = set(re.findall(r"\{([\w-]+)", source)) | {"size", "above", "below", "key-above", "number", "sign", "degree"}
    assert set(FACTS) - used <= {"last-sign", "signs"}


RULE = 'id = "a"\nsince = 1\ntitle = "A"\nsay = ["{}"]\n'


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        ([RULE.format("Yes."), RULE.format("Again.")], "rule 'a' stands twice"),
        ([RULE.format("Yes.").replace("1", "3"), RULE.format("No.").replace('"a"', '"b"')], "after one of grade 3"),
        ([RULE.format("Yes.").replace("1", "7")], "no grade 7"),
        ([RULE.format("Yes.").replace('"Yes."', "")], "says nothing"),
        ([RULE.format("{signs H major}")], "H major"),
        ([RULE.format("Yes.") + 'hints = ["x"]\n'], "hints"),
    ],
)
def test_faults_of_the_data_are_told_with_their_place(rules: list[str], said: str) -> None:
    text = 'title = "Keys"\n' + "".join(f"[[rule]]\n{one}" for one in rules)
    with pytest.raises(BadSyllabus, match=re.escape(said)) as told:
        read_topic(text, "keys")
    assert str(told.value).startswith("notes/keys.toml")


def test_an_unknown_topic_is_told_the_known_ones() -> None:
    with pytest.raises(BadSyllabus, match="scales"):
        topic_notes("scals")


def test_rules_are_cumulative() -> None:
    """Grade n holds every rule of the grades before it."""
    for topic in TOPICS:
        for grade in (2, 3, 4, 5):
            assert set(rules_for(grade - 1, topic)) <= set(rules_for(grade, topic))
        assert rules_for(5, topic) == topic_notes(topic).rule


def syllables(word: str) -> int:
    """About how many syllables an English word has: groups of vowels, a silent last e not counted."""
    groups = len(re.findall(r"[aeiouy]+", word.lower()))
    silent = word.lower().endswith("e") and not word.lower().endswith("le") and groups > 1
    return max(1, groups - silent)


def sentences(rule: Rule) -> list[str]:
    return [one for one in re.split(r"[.?!:;](?:\s|$)", " ".join(rule.sentences())) if one.strip()]


def test_a_child_of_ten_can_read_them() -> None:
    """Flesch-Kincaid grade (Kincaid and others 1975, from memory) of all rules together at most 5: reading age ten."""
    found = [one for _, rule in ALL for one in sentences(rule)]
    words = [word for one in found for word in re.findall(r"[A-Za-z']+", one)]
    grade = 0.39 * len(words) / len(found) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    assert grade <= 5, grade


@pytest.mark.parametrize(("topic", "rule"), ALL, ids=[f"{topic}-{rule.id}" for topic, rule in ALL])
def test_sentences_are_short(topic: str, rule: Rule) -> None:
    """No sentence has more than 26 words, no rule more than 120; none shows braces."""
    assert max(len(one.split()) for one in sentences(rule)) <= 26
    assert len(" ".join(rule.sentences()).split()) <= 120
    assert "{" not in " ".join(rule.sentences())
    assert all(one.rstrip().endswith((".", "?", '".')) for one in rule.sentences())

"""A teacher's own question: typed as a printed paper has it, answered as the theory books answer it."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from stavewright.questions.asking import facts_of, full, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.score_mirror import score_of
from stavewright.questions.typed.question import read_question
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.score.compact.reading import read_music
from stavewright.score.compact.writing import write_music
from stavewright.score.writing import with_ids
from stavewright.services.work_question import TypedQuestion, as_paper, check_method, put
from stavewright.wiring import composed_melodies, music_file_reader, music_writer

MELODIES = composed_melodies()
EXAMPLES = tomllib.loads((Path(__file__).parent / "worked_examples.toml").read_text("utf-8"))["example"]


def typed(kind: str, line: list[str], **more: Any) -> TypedQuestion:
    fields = {name: text for name, _, text in (word.partition("=") for word in line if "=" in word.split(":")[0])}
    return TypedQuestion(kind, [word for word in line if "=" not in word.split(":")[0]], fields, **more)


@pytest.mark.parametrize("one", EXAMPLES, ids=lambda one: f"{one['kind']}-{one['typed'][0][:24]}")
def test_a_printed_question_is_answered(one: dict[str, Any]) -> None:
    """The answer is the one that the theory books give."""
    worked = full(put(typed(one["kind"], one["typed"]), MELODIES))
    assert worked.working
    if "answer" in one:
        assert worked.answers[0].text == one["answer"]
    else:
        kind = kind_of(one["kind"])
        drawn = kind.draw(facts_of(worked), native(worked, worked.answers[0].value[0]))
        assert _heard(write_music(drawn, plain=True)) == _heard(one["music"])


def _heard(text: str) -> list[tuple[str, tuple[str, ...], str, int | None]]:
    """Clef, signature, pitches and values of a line of music."""
    score = read_music(text)
    return [
        (stave.clef, tuple(pitch.short for pitch in event.pitches), event.duration.text, stave.fifths)
        for stave in score.staves
        for bar in stave.bars
        for event in bar.events
        if hasattr(event, "pitches")
    ]


def test_there_are_enough_examples() -> None:
    """At least forty questions of at least thirty kinds, each with its source."""
    assert len(EXAMPLES) >= 40
    assert len({one["kind"] for one in EXAMPLES}) >= 30
    assert all(one["source"] for one in EXAMPLES)


def test_music_from_a_file() -> None:
    """A MusicXML file stands for the line of text."""
    score = read_music("treble 1 sharp 3/4: E4 F#4 G4 | A4 B4 D#5 | E5:2. |]")
    data = music_writer()(with_ids(score)).encode()
    question = put(
        TypedQuestion("key-of-a-melody", ["melody.musicxml"], music=lambda _: music_file_reader()(data)), MELODIES
    )
    assert full(question).answers[0].text == "E minor"


def test_a_field_may_name_a_file() -> None:
    """The same in a named field."""
    score = read_music("treble F 2/4: F4 A4 | F4:2 |]")
    question = put(TypedQuestion("copy-the-bars", [], {"melody": "x.xml"}, music=lambda _: score), MELODIES)
    assert score_of(facts_of(question).melody) == score


def test_what_is_missing_is_named_with_what_it_wants() -> None:
    """All fields that are missing are told together."""
    with pytest.raises(BadTyping, match=r"write-the-scale also needs tonic \(a note name.*form \(one of major"):
        put(typed("write-the-scale", ["treble"]), MELODIES)


def test_a_word_that_fits_nothing_is_refused_with_what_is_open() -> None:
    """A word for which no field is left is named, with the fields that are open."""
    with pytest.raises(BadTyping, match="'banana' fits no field of write-the-signature: still open: clef"):
        put(typed("write-the-signature", ["banana"]), MELODIES)
    with pytest.raises(BadTyping, match="key: G sharp major would need 8 signs: use A flat major"):
        put(typed("write-the-signature", ["treble", "G sharp major"]), MELODIES)


def test_words_may_be_typed_together() -> None:
    """One run of words is taken apart where only its parts fit."""
    question = put(typed("write-the-scale", ["treble E harmonic minor"]), MELODIES)
    assert full(question).answers[0].text.startswith("E F sharp G A B C D sharp E")
    music = "treble D: F#4 A4 D5"
    facts = facts_of(put(typed("transpose-the-melody", [music, "down a minor third"]), MELODIES))
    assert (facts.interval, facts.up) == ("m3", False)


@pytest.mark.parametrize(
    ("kind", "line", "message"),
    [
        ("name-the-interval", ["treble F#4 D5"], "no heading ends in a colon"),
        ("key-of-a-melody", ["G4 A4 B4"], "'G4 A4 B4' has no clef: begin with it, as in `treble: G4 A4 B4`"),
        ("complete-the-bar", ["treble 3/4: C5 r:2"], "gaps: at least 1 needed"),
        ("which-clef", ["line 2", "step=9"], "step is not right"),
    ],
)
def test_common_mistakes_are_named(kind: str, line: list[str], message: str) -> None:
    """A forgotten colon, a forgotten clef, nothing to fill, a letter that is none."""
    with pytest.raises(BadTyping) as refused:
        put(typed(kind, line), MELODIES)
    assert message in str(refused.value)


def test_words_music_and_fields_go_together() -> None:
    """Music fills what it can; a named field wins over it."""
    facts = read_question(kind_of("name-the-interval"), ["treble: F#4 D5"], {"together": "yes"}, Typing(), {})
    assert (facts.clef, facts.first, facts.second, facts.together) == ("treble", "F#4", "D5", True)


def test_an_octave_left_out_is_the_lowest_on_the_stave() -> None:
    """A scale without an octave begins on the stave or just below it."""
    question = put(typed("write-the-scale", ["bass", "D", "major", "up"]), MELODIES)
    assert facts_of(question).octave == 3
    assert full(question).answers[0].text.startswith("D E F sharp")


def test_methods_are_checked() -> None:
    """A method that the kind does not know is refused with those it knows."""
    check_method("relative-key", "by signature")
    with pytest.raises(BadTyping, match="use usual or by signature"):
        check_method("relative-key", "by ear")


def test_a_worked_question_is_a_paper_of_its_own() -> None:
    """It can be printed as a paper with one question."""
    paper = as_paper(full(put(typed("relative-key", ["D major", "ask=key"]), MELODIES)))
    assert [question.kind for question in paper.questions()] == ["relative-key"]
    assert paper.total == 1

"""Short score and open score: a hand-worked passage both ways, stems, the tenor's octave, faults, the slips."""

from __future__ import annotations

from dataclasses import replace

import pytest

from questions.asking_many import drafts
from questions.hand_written import event
from questions.rules_of_kinds import keeps_the_rules, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask as put
from stavewright.questions.asking import slips_of
from stavewright.questions.documents import ScoreForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.short_and_open_score import KIND, ShortAndOpenScore
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.score_layouts import laid_out, parts_of
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.metre import TimeSignature
from stavewright.theory.part_writing import check_parts

# One bar of A minor, worked by hand. The open tenor stands in the treble clef an octave higher than it sounds (common
# practice).
SHORT = (("treble", "C5/2 B4/2", "E4/2 E4/2"), ("bass", "A3/2 G#3/2", "A2/2 E3/2"))
OPEN = (("treble", "C5/2 B4/2"), ("treble", "E4/2 E4/2"), ("treble", "A4/2 G#4/2"), ("bass", "A2/2 E3/2"))


def score(*staves: tuple[str, ...]) -> Score:
    made = []
    for clef, *voices in staves:
        rows = tuple(tuple(event(one) for one in voice.split()) for voice in voices)
        if len(rows) == 2:
            rows = tuple(
                tuple(replace(e, stem=stem) for e in row) for row, stem in zip(rows, ("up", "down"), strict=True)
            )
        made.append(Stave(clef, (Bar(rows, line="final"),), 0, TimeSignature(4, 4)))
    return with_ids(with_accidentals(Score(tuple(made), join="bracket")))


def written(made: Score) -> list[list[str]]:
    return [
        [e.pitch.short for bar in stave.bars for e in bar.voices[voice]]
        for stave in made.staves
        for voice in range(len(stave.bars[0].voices))
    ]


def facts(to: str) -> ShortAndOpenScore:
    return ShortAndOpenScore(document_of(score(*(SHORT if to == "open" else OPEN))), to)


@pytest.mark.parametrize("to, other", [("open", OPEN), ("short", SHORT)])
def test_a_passage_worked_by_hand_both_ways(to: str, other: tuple) -> None:
    made = score_of(KIND.solve(facts(to))[0].value[0].score)
    assert written(made) == written(score(*other))
    assert [stave.clef for stave in made.staves] == [clef for clef, *_ in other]
    assert faults(made) == []
    said = texts("short-and-open-score", facts(to))[0]
    tenor = "tenor A 4, G sharp 4" if to == "open" else "tenor A 3, G sharp 3"
    assert tenor in said


def test_stems_tell_the_voices_apart_in_short_score() -> None:
    """Soprano and tenor stems up, alto and bass down (common practice)."""
    made = score_of(KIND.solve(facts("short"))[0].value[0].score)
    stems = [[e.stem for e in voice] for stave in made.staves for voice in stave.bars[0].voices]
    assert stems == [["up"] * 2, ["down"] * 2, ["up"] * 2, ["down"] * 2]
    assert {note.stem for note in score_of(KIND.solve(facts("open"))[0].value[0].score).notes()} == {None}


def marks(to: str, made: Score) -> int:
    one = facts(to)
    question = put(KIND, Draft(one, texts("short-and-open-score", one)[0]), id="q1", grade=5, edition="written", seed=1)
    return mark_question(question, (Value(score=document_of(made)),)).marks


def test_marks_go_by_notes_and_stems() -> None:
    """One mark off for each wrong note; a voice with a wrong stem is one fault; ids do not matter."""
    assert marks("open", score(*OPEN)) == 4
    assert marks("short", score(*SHORT)) == 4
    assert marks("open", score(OPEN[0], ("treble", "E4/2 F4/2"), *OPEN[2:])) == 3
    assert marks("open", score(OPEN[0], OPEN[1], ("treble", "A4/2 G4/2"), OPEN[3])) == 3, "the sign was forgotten"
    assert marks("open", score(OPEN[0], OPEN[1], ("treble", "A4/4"), OPEN[3])) == 2
    assert marks("open", score(*SHORT)) == 0, "not the layout that was asked for"
    same = score(*SHORT)
    stave = same.staves[1]
    rows = tuple(tuple(replace(e, stem="down") for e in row) for row in stave.bars[0].voices)
    assert (
        marks(
            "short", replace(same, staves=(same.staves[0], replace(stave, bars=(replace(stave.bars[0], voices=rows),))))
        )
        == 3
    )


def test_each_slip_writes_by_its_wrong_rule() -> None:
    found = {one.name: score_of(one.value[0].score) for one in KIND.slips(facts("open"))}
    assert written(found["tenor at the wrong octave"])[2] == ["A3", "G#3"]
    assert written(found["tenor kept on its lines"])[2] == ["F5", "E5"]
    assert written(found["alto and tenor changed over"])[1:3] == [["A3", "G#3"], ["E5", "E5"]]
    short = {one.name: score_of(one.value[0].score) for one in KIND.slips(facts("short"))}
    assert written(short["tenor at the wrong octave"])[2] == ["A4", "G#4"]
    assert {e.stem for e in short["stems the wrong way"].staves[0].bars[0].voices[0]} == {"down"}
    assert {note.stem for note in short["all stems up"].notes()} == {"up"}
    for one in (*found.values(), *short.values()):
        assert faults(one) == []
    question = put(
        KIND,
        Draft(facts("open"), texts("short-and-open-score", facts("open"))[0]),
        id="q1",
        grade=5,
        edition="written",
        seed=1,
    )
    for wrong in slips_of(question):
        marked = mark_question(question, wrong.value)
        assert marked.slip == wrong.name
        assert marked.marks <= 2


def test_there_and_back_is_the_same_music() -> None:
    """What is laid out in the other way and back again sounds and stands as before; the writing keeps the rules."""
    for _, draft in drafts("short-and-open-score", 80):
        first = score_of(draft.facts.passage)
        other = score_of(KIND.solve(draft.facts)[0].value[0].score)
        back = laid_out(parts_of(other), "short" if draft.facts.to == "open" else "open", first)
        assert written(back) == written(first)
        assert parts_of(back) == parts_of(other)
        firsts = [[bar[0].pitch for bar in part] for part in parts_of(first)]
        assert check_parts([list(chord) for chord in zip(*firsts, strict=True)][:1]) == ()


def test_the_empty_staves_have_room_for_every_note() -> None:
    for _, draft in drafts("short-and-open-score", 20):
        question = put(KIND, draft, id="q1", grade=5, edition="written", seed=1)
        form = question.response[0]
        assert isinstance(form, ScoreForm)
        gaps = list(score_of(form.given).events())
        answer = list(score_of(KIND.solve(draft.facts)[0].value[0].score).events())
        assert all(isinstance(gap, Gap) for gap in gaps)
        assert [gap.id for gap in gaps] == [note.id for note in answer if isinstance(note, Note)]


def test_other_layouts_are_refused() -> None:
    with pytest.raises(BadDocument, match="cannot be written in short score"):
        ShortAndOpenScore(document_of(score(*SHORT)), "short")
    with pytest.raises(BadDocument, match="two staves of two voices"):
        KIND.solve(ShortAndOpenScore(document_of(score(("treble", "C5/4"), ("bass", "C3/4"))), "open"))


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("short-and-open-score")

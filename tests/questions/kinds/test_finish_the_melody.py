"""Finish the melody: the report worked by hand, other good tunes, every slip, the examples, what is refused."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import music21
import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.criterion import lost
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.finish_the_melody import KIND, FinishTheMelody
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.finished import examples
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import scope_for

ID = "finish-the-melody"
OPENING = "G4/1 A4/1 B4/1 | A4/2 F#4/1"
REST = "B4/1 C5/1 D5/1 | A4/2. | G4/1 A4/1 B4/1 | C5/2 E5/1 | D5/1 B4/1 A4/1 | G4/2."
SIGNS = {0: (("tempo", 0, "Andante"), ("dynamic", 0, "mf"))}
FACTS = FinishTheMelody(document_of(extract(OPENING, "3/4", 1)), "G major", "flute")
IN_MINOR = FinishTheMelody(document_of(extract("E4/1 F#4/1 G4/1 | F#4/2 D#4/1", "3/4", 1)), "E minor", "violin")


def slurred(score: Score) -> Score:
    """The first two notes of the first bar that is not given under a slur."""
    bars = list(score.staves[0].bars)
    here = 2 if len(bars) > 6 else 0
    first, second, *others = bars[here].events
    assert isinstance(first, Note)
    assert isinstance(second, Note)
    bars[here] = replace(bars[here], voices=((replace(first, slur="start"), replace(second, slur="stop"), *others),))
    return replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),))


def tune(rest: str = REST, opening: str = OPENING, *, signs=SIGNS, fifths: int = 1, clef: str = "treble") -> Value:
    text = f"{opening} | {rest}" if opening else rest
    return Value(score=document_of(slurred(extract(text, "3/4", fifths, clef=clef, signs=signs))))


def losses(value: Value, facts: FinishTheMelody = FACTS) -> dict[str, int]:
    return {one.name: one.lost for one in KIND.report(facts, value) if one.lost}


def bar(number: int, text: str) -> str:
    """The good ending with another bar of that number (3 to 8)."""
    bars = REST.split(" | ")
    bars[number - 3] = text
    return " | ".join(bars)


# Worked by hand in G major, three crotchets in a bar (Gehrkens, Music Notation and Terminology, 1914, §96; leading
# note and tonic §91); one climax, mostly steps, a cadence on the tonic: common practice for a tune of eight bars.
@pytest.mark.parametrize(
    ("rest", "wrong"),
    [
        (REST, {}),
        (bar(3, "B4/1 C#5/1 D5/1"), {}),
        (bar(8, "G4/2 r/1"), {}),
        (bar(8, "G#4/2."), {"key": 1, "cadence": 1}),
        ("B4/1 C5/1 D5/1 | A4/2. | F#5/1 G5/1 E5/1 | C5/2 B4/1 | C5/1 B4/1 A4/1 | G4/2.", {}),
        ("B4/1 C5/1 A4/1 | F#5/1 G5/1 E5/1 | C5/2. | C5/2 B4/1 | C5/1 B4/1 A4/1 | G4/2.", {"shape": 1}),
        ("G4/1 B4/1 D5/1 | B4/2. | G4/1 B4/1 D5/1 | E5/2 C5/1 | A4/1 F#4/1 A4/1 | G4/2.", {"shape": 1}),
        (bar(8, "B4/1 G4/2"), {"cadence": 1}),
        (bar(4, "A4/2"), {"bars": 1}),
        (bar(4, "A4/2. G4/1"), {"bars": 1}),
        (bar(6, "C5/2 Eb5/1"), {"key": 1}),
        (bar(8, "B4/2."), {"cadence": 1}),
        (bar(7, "D5/1 C5/1 B4/1"), {"cadence": 1}),
        (bar(8, "A4/2 G4/1"), {"cadence": 1}),
        (bar(7, "D5/1 C5/1 B4/1").replace("G4/2.", "D5/2."), {"cadence": 2}),
        (bar(8, "G4/q r/q r/2"), {"cadence": 1}),
        (bar(3, "B4/1 C5/1 E5/1"), {"shape": 1}),
        (bar(6, "G4/2 E5/1").replace("D5/1 B4/1 A4/1", "F#5/1 B4/1 A4/1"), {"shape": 1}),
        (bar(4, "G5/2."), {}),
        (bar(4, "A5/2."), {"shape": 1}),
        (bar(6, "C5/2 F#5/1"), {"shape": 1}),
        (
            "B4/1. C5/q D5/1 | A4/2. | G4/1. A4/q B4/1 | C5/1. C5/q E5/1 | D5/1. B4/q A4/1 | G4/2.",
            {"balance": 1},
        ),
        (" | ".join([OPENING] * 3), {"cadence": 1, "shape": 1, "balance": 1}),
        (" | ".join(REST.split(" | ")[:5]), {"bars": 1, "cadence": 2}),
        (f"{REST} | G4/2.", {"bars": 1}),
    ],
)
def test_the_report_worked_by_hand(rest, wrong):
    assert losses(tune(rest)) == wrong


def test_each_finding_points_at_its_bar():
    whys = {one.name: one.why for one in KIND.report(FACTS, tune(bar(4, "A4/2").replace("E5", "Eb5")))}
    assert whys["bars"] == "bar 4 does not add up"
    assert whys["key"] == "bar 6: E flat does not belong to G major"
    assert whys["balance"] == "bar 3 takes up the rhythm of bar 1"
    assert whys["cadence"] == "A leads to the closing G"
    climax = {one.name: one.why for one in KIND.report(FACTS, tune(bar(3, "B4/1 C5/1 E5/1")))}
    assert climax["shape"] == "the highest note comes 2 times, in bars 3 and 6"


def test_six_bars_alone_follow_the_opening():
    assert losses(tune(opening="")) == {}


def test_the_opening_must_stay():
    assert losses(tune(opening="G4/1 A4/1 C5/1 | A4/2 F#4/1")) == {"bars": 1}


def test_signature_and_clef_must_stay():
    assert losses(tune(fifths=2))["key"] == 1
    alto = tune(clef="alto")
    assert losses(alto)["range"] == 1


def test_what_the_player_cannot_play():
    low = bar(4, "D4/2.")
    recorder = FinishTheMelody(FACTS.opening, "G major", "treble recorder")  # E4 to C7: instrument table
    assert losses(tune(low)) == {}
    assert losses(tune(low), recorder) == {"range": 1}
    found = next(one.why for one in KIND.report(recorder, tune(low)) if one.name == "range")
    assert found == "bar 4: D is too low for the treble recorder"


def test_what_is_too_high():
    """The trumpet in B flat is written up to D sharp 6 (it sounds C sharp 6: instrument table)."""
    trumpet = FinishTheMelody(FACTS.opening, "G major", "trumpet in B flat")
    high = [KIND.report(trumpet, tune(bar(4, f"{name}/2.")))[1] for name in ("D6", "E6")]
    assert [one.lost for one in high] == [0, 1]
    assert high[1].why == "bar 4: E is too high for the trumpet in B flat"


def test_what_the_opening_does_is_not_the_pupil_s_fault():
    """A foreign note in the bars given costs nothing."""
    start = "G4/1 E4/1 C#5/1 | A4/2 F#4/1"
    given = FinishTheMelody(document_of(extract(start, "3/4", 1)), "G major", "flute")
    assert "key" not in losses(tune(opening=start), given)


def test_without_a_signature_the_one_given_holds():
    """Six bars written on a stave that prints no signature are read under the one of the opening."""
    score = score_of(tune(bar(7, "D5/1 A4/1 F#4/1"), opening="").score)
    bare = replace(score, staves=(replace(score.staves[0], fifths=None),))
    assert losses(Value(score=document_of(bare))) == {}


def test_a_transposing_player_is_judged_by_what_sounds():
    """Written E3 sounds D3 on the clarinet in B flat, its lowest note (instrument table); written E flat is too low."""
    opening = document_of(extract("G3/1 A3/1 B3/1 | A3/2 F#3/1", "3/4", 1))
    clarinet = FinishTheMelody(opening, "G major", "clarinet in B flat")
    rest = "G3/1 A3/1 B3/1 | {}/2. | G3/1 A3/1 B3/1 | C4/2 E4/1 | D4/1 B3/1 A3/1 | G3/2."
    start = "G3/1 A3/1 B3/1 | A3/2 F#3/1"
    assert "range" not in losses(tune(rest.format("E3"), start), clarinet)
    assert losses(tune(rest.format("Eb3"), start), clarinet)["range"] == 1


@pytest.mark.parametrize(
    ("signs", "missing"),
    [
        ({}, "no tempo and no dynamics"),
        ({0: (("dynamic", 0, "p"),)}, "no tempo"),
        ({5: (("tempo", 0, "Allegro"),)}, "no dynamics"),
    ],
)
def test_signs_for_the_player(signs, missing):
    found = tune(signs=signs)
    assert losses(found) == {"signs": 1}
    assert next(one.why for one in KIND.report(FACTS, found) if one.name == "signs") == f"it has {missing}"


def test_slurs_are_asked_for():
    plain = Value(score=document_of(extract(f"{OPENING} | {REST}", "3/4", 1, signs=SIGNS)))
    assert losses(plain) == {"signs": 1}


def test_the_leading_note_of_a_minor_key():
    """In E minor D sharp leads to the tonic (Gehrkens 1914, §86)."""
    start = "E4/1 F#4/1 G4/1 | F#4/2 D#4/1"
    rest = "G4/1 A4/1 B4/1 | F#4/2. | E4/1 F#4/1 G4/1 | A4/2 C5/1 | B4/1 F#4/1 {}/1 | E4/2."
    assert losses(tune(rest.format("D#4"), start), IN_MINOR) == {}
    assert losses(tune(rest.format("D4"), start), IN_MINOR) == {"key": 1}


def beamed(groups: list[int | None]) -> Value:
    """Bar 7 in quavers under the beams given, the rest as before."""
    score = slurred(
        extract(f"{OPENING} | {bar(7, 'D5/q C5/q B4/q A4/q B4/q A4/q')}", "3/4", 1, signs=SIGNS)
    )
    bars = list(score.staves[0].bars)
    row = tuple(replace(event, beam=group) for event, group in zip(bars[6].events, groups, strict=True))
    bars[6] = replace(bars[6], voices=(row,))
    return Value(score=document_of(replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),))))


def test_beams():
    """Pairs or all six in 3/4, never threes (measured in printed music: pairs 13 %, six 61 %)."""
    assert losses(beamed([1, 1, 2, 2, 3, 3])) == {}
    assert losses(beamed([1] * 6)) == {}
    assert losses(beamed([None] * 6)) == {}
    assert losses(beamed([1, 1, 1, 2, 2, 2])) == {"grouping": 1}


def test_grace_notes_take_no_time():
    """A grace note is no part of the bar's sum, its beams or its rhythm."""
    score = score_of(beamed([1, 1, 2, 2, 3, 3]).score)
    bars = list(score.staves[0].bars)
    for at in (2, 6):
        first = bars[at].events[0]
        grace = replace(first, id="", grace="acciaccatura", slur=None, beam=None)
        bars[at] = replace(bars[at], voices=((grace, *bars[at].events),))
    ornate = replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),))
    assert losses(Value(score=document_of(ornate))) == {}


def test_signs_are_read_as_printed():
    """A note whose sharp was not written is natural, whatever was meant."""
    good = tune(bar(3, "B4/1 C#5/1 D5/1"))
    score = score_of(good.score)
    bars = list(score.staves[0].bars)
    row = tuple(replace(event, accidental=None) for event in bars[2].events)
    bars[2] = replace(bars[2], voices=(row,))
    bare = Value(score=document_of(replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),))))
    read = KIND.report(FACTS, bare)
    assert lost(read) == 0
    assert losses(tune(bar(6, "C5/2 Eb5/1"))) == {"key": 1}
    flat = tune(bar(6, "C5/2 Eb5/1"))
    natural = Value(score=document_of(_without_signs(score_of(flat.score))))
    assert losses(natural) == {}


def _without_signs(score: Score) -> Score:
    bars = [
        replace(one, voices=(tuple(replace(event, accidental=None) for event in one.events),))
        for one in score.staves[0].bars
    ]
    return replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),))


def test_marks():
    question = ask(KIND, Draft(FACTS, KIND.solve(FACTS)[0].value), id="q", grade=5, edition="written", seed=1)
    assert mark_question(question, (tune(),)).marks == 10
    assert mark_question(question, (tune(bar(8, "B4/2.")),)).marks == 9
    assert mark_question(question, (tune(" | ".join(REST.split(" | ")[:5])),)).marks == 7
    assert mark_question(question, (Value(score=FACTS.opening),)).marks == 0
    assert mark_question(question, (tune(" | ".join(REST.split(" | ")[:2])),)).marks == 0
    assert mark_question(question, ()).marks == 0


def test_the_examples_are_two_and_differ():
    """One begins its second half with the opening again, the other only with its rhythm."""
    first, second = examples(FACTS.opening, FACTS.key, FACTS.player)
    one, other = ([event.pitch for event in score_of(x).staves[0].bars[4].events] for x in (first, second))
    assert [pitch.short for pitch in one] == ["G4", "A4", "B4"]
    assert one != other
    for whole in (first, second):
        assert faults(score_of(whole)) == []
        assert losses(Value(score=whole)) == {}


def test_every_slip_loses_marks():
    question = ask(KIND, Draft(IN_MINOR, KIND.solve(IN_MINOR)[0].value), id="q", grade=5, edition="written", seed=1)
    assert list(slip_texts(ID, FACTS)) == [
        "not ended on the tonic",
        "last bar left out",
        "opening copied all through",
        "signs left out",
        "a bar too long",
        "range forgotten",
    ]
    upbeat = FinishTheMelody(document_of(extract(UPBEAT, "3/4", 1, anacrusis=True)), "G major", "flute")
    assert "upbeat not taken off" in slip_texts(ID, upbeat)
    assert any("leave out of bar 8 what the upbeat took" in step.text for step in KIND.work(upbeat, "usual"))
    for one in KIND.slips(IN_MINOR):
        got = mark_question(question, one.value)
        assert got.slip == one.name
        assert got.marks < 10


def test_examples_over_many_openings_and_what_music21_thinks_of_them():
    """Every example keeps all rules; music21's bars are full and its last pitch is the tonic."""
    two = 0
    for seed in range(25):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        found = KIND.solve(draft.facts)
        two += len(found) == 2
        for one in found:
            score = score_of(one.value[0].score)
            assert lost(KIND.report(draft.facts, one.value[0])) == 0
            last = list(score.notes())[-1].pitch
            tonic = music21.pitch.Pitch(draft.facts.key.split()[0] + ("#" if "sharp" in draft.facts.key else ""))
            assert last.step == tonic.step
            bar_length = music21.meter.TimeSignature(score.staves[0].time.figures).barDuration.quarterLength
            lengths = [sum(event.ticks for event in bar_.events) / 161280 for bar_ in score.staves[0].bars]
            if score.anacrusis:
                lengths = [*lengths[1:-1], lengths[0] + lengths[-1]]
            assert lengths == [bar_length] * 8
    assert two >= 23


def test_an_opening_with_rests():
    """Rests come back with the rhythm; every example is full, and keeps all rules."""
    facts = FinishTheMelody(document_of(extract("G4/1 r/q A4/q B4/1 | A4/1 F#4/1 r/1", "3/4", 1)), "G major", "oboe")
    found = KIND.solve(facts)
    assert len(found) == 2
    for one in found:
        score = score_of(one.value[0].score)
        assert faults(score) == []
        assert [type(event).__name__ for event in score.staves[0].bars[4].events] == ["Note", "Rest", "Note", "Note"]
        assert lost(KIND.report(facts, one.value[0])) == 0


UPBEAT = "D4/1 | G4/1 A4/1 B4/1 | A4/2 F#4/1"
AFTER = "B4/1 C5/1 D5/1 | A4/2 D4/1 | G4/1 A4/1 B4/1 | C5/2 E5/1 | D5/1 B4/1 A4/1 | G4/2"


def led(text: str) -> Value:
    """A melody with an upbeat."""
    return Value(score=document_of(slurred(extract(text, "3/4", 1, anacrusis=True, signs=SIGNS))))


@pytest.mark.parametrize(
    ("text", "wrong", "why"),
    [
        (f"{UPBEAT} | {AFTER}", {}, "all eight bars add up"),
        (f"{UPBEAT} | {AFTER}.", {"bars": 1}, "bar 8 does not leave out the upbeat"),
        (f"E4/1{UPBEAT[4:]} | {AFTER}", {"bars": 1}, "the upbeat is not as it was given"),
        (AFTER, {}, "all eight bars add up"),
        (f"{UPBEAT} | {AFTER.replace('A4/2 D4/1', 'A4/2')}", {"bars": 1}, "bar 4 does not add up"),
    ],
)
def test_an_upbeat_is_repaid(text, wrong, why):
    """The last bar is short by the upbeat (common practice), and bar 1 is the first whole bar."""
    facts = FinishTheMelody(document_of(extract(UPBEAT, "3/4", 1, anacrusis=True)), "G major", "flute")
    assert losses(led(text), facts) == wrong
    assert KIND.report(facts, led(text))[0].why == why


def test_examples_after_an_upbeat():
    """The upbeat comes again before bar 5, and the last bar leaves it out."""
    facts = FinishTheMelody(document_of(extract(UPBEAT, "3/4", 1, anacrusis=True)), "G major", "flute")
    for one in KIND.solve(facts):
        score = score_of(one.value[0].score)
        assert faults(score) == []
        assert score.anacrusis
        lengths = [sum(event.ticks for event in bar.events) for bar in score.staves[0].bars]
        assert lengths == [161280, *[3 * 161280] * 7, 2 * 161280]
        assert score.staves[0].bars[4].events[-1].duration.text == "crotchet"
        assert one.text.startswith("bar 3: ")
        assert lost(KIND.report(facts, one.value[0])) == 0


def test_what_cannot_be_finished_is_refused():
    for text, time, key, player in (
        ("G4/1 A4/1 B4/1", "3/4", "G major", "flute"),
        ("G4/2. | A4/2 r/1", "3/4", "G major", "flute"),
        ("G4/1 A4/1 B4/1 | A4/2", "3/4", "G major", "flute"),
        (OPENING, "3/4", "G major", "side drum"),
    ):
        with pytest.raises(BadDocument):
            FinishTheMelody(document_of(extract(text, time, 1)), key, player)


def test_an_opening_that_was_typed_with_a_final_bar_line_goes_on():
    """Whatever line the opening ends with, the melody goes on after it; its words name the notes as they sound."""
    score = score_of(FACTS.opening)
    bars = (score.staves[0].bars[0], replace(score.staves[0].bars[1], line="final"))
    closed = document_of(replace(score, staves=(replace(score.staves[0], bars=bars),)))
    first = KIND.solve(FinishTheMelody(closed, "G major", "flute"))[0]
    lines = [one.line for one in first.value[0].score.staves[0].bars]
    assert lines == ["single"] * 7 + ["final"]
    assert first.text.startswith("bar 3: ")
    assert "F sharp 4" in first.text
    assert "F 4" not in first.text

"""Copy out bars exactly, clef and signature included."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from random import Random

from msgspec.structs import replace as changed

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.rewritable import meant, plain_melody, sign_over_a_bar_line
from stavewright.questions.showing.extract import own_blocks
from stavewright.questions.showing.rewritten import written_melody
from stavewright.questions.solving.transposing import Version, bar_lines, notes_of, signature_of, written
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import WrittenNote as Read
from stavewright.theory.accidental import sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.key import signature_text
from stavewright.theory.pitch import Pitch

_TRIES = 6
_BARS = 2
_ROOM_BEFORE, _MOST_ROOM = 4, 11
"""Empty places for what begins the stave, and how many fill one line."""


class CopyTheBars(Facts, frozen=True, forbid_unknown_fields=True):
    """The bars as they are printed."""

    melody: ScoreDocument
    credit: Line = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None:
        return None
    for _ in range(_TRIES):
        found = plain_melody(melodies, scope, rng, bars=_BARS)
        if found is not None and not sign_over_a_bar_line(found.score, found.score.staves[0].fifths or 0):
            return Draft(CopyTheBars(document_of(found.score), found.credit), meant(found.score))
    return None


def _score(facts: CopyTheBars) -> Score:
    return score_of(facts.melody)


def _pose(facts: CopyTheBars, wording: Wording) -> Posed:
    score = _score(facts)
    places = range(1, min(_MOST_ROOM, len(notes_of(score)) + _ROOM_BEFORE) + 1)
    room = Bar((tuple(Gap(Duration("semibreve"), f"g{place}") for place in places),), line="none", free=True)
    empty = Score((Stave(score.staves[0].clef, (room,), show_clef=False),))
    ask = "Copy out these bars exactly as they are on the empty stave. Leave nothing out."
    alt = "An empty stave without a clef."
    form = NotesForm(document_of(empty), len(notes_of(score)), free=True, alt=wording.say(alt))
    return Posed((TextBlock(wording.say(ask)), *own_blocks(facts.melody, wording, credit=facts.credit)), form)


def _copied(facts: CopyTheBars) -> Value:
    score = _score(facts)
    return written(score, Version("", signature_of(score), notes_of(score)))


def _solve(facts: CopyTheBars) -> tuple[Answer, ...]:
    value = _copied(facts)
    return (answer(value, _text(value), "Every sign is where it was: clef, signature, notes, values and bar lines."),)


def _text(value: Value) -> str:
    """What was copied, in words: clef, signature and the notes as they are read there."""
    clef = f"{value.clef} clef" if value.clef else "no clef"
    signature = f", {signature_text(value.signature)}" if value.signature else ""
    notes = [Read(Pitch(note.step, 0, note.octave).diatonic, note.accidental) for note in value.notes or ()]
    ends = (0, *(value.bar_lines or ()), len(notes))
    bars = [notes[begin:end] for begin, end in pairwise(ends)]
    named = ", ".join(pitch.text for bar in sounding(bars, value.signature or 0) for pitch in bar)
    return f"{clef}{signature}: {named}"


def _slips(facts: CopyTheBars) -> tuple[Slip, ...]:
    return tuple(
        slip(name, value, _text(value), remedy, steady=steady) for name, value, remedy, steady in _wrong(facts)
    )


def _wrong(facts: CopyTheBars) -> Iterator[tuple[str, Value, str, bool]]:
    right = _copied(facts)
    notes = right.notes or ()
    hint = "A new line begins with its clef and its key signature."
    yield "clef missing", changed(right, clef=None), hint, True
    if right.signature:
        yield "signature missing", changed(right, signature=None), hint, True
        yield "clef and signature missing", changed(right, clef=None, signature=None), hint, True
    off = tuple(_a_place_higher(note) for note in notes)
    line = "Look at the first note: on which line or in which space does it stand?"
    yield "all a place too high", changed(right, notes=off), line, True
    for name, remedy, of in (
        ("signs left out", "Copy the sign before the note too.", _unsigned),
        ("dots left out", "A dot is a part of its note: without it the bar is too short.", _undotted),
    ):
        copied = tuple(of(note) for note in notes)
        if copied != notes:
            yield name, changed(right, notes=copied), remedy, False


def _a_place_higher(note: WrittenNote) -> WrittenNote:
    up = Pitch.from_diatonic(Pitch(note.step, 0, note.octave).diatonic + 1)
    return changed(note, step=up.step, octave=up.octave)


def _unsigned(note: WrittenNote) -> WrittenNote:
    return changed(note, accidental=None)


def _undotted(note: WrittenNote) -> WrittenNote:
    return changed(note, dots=0)


def _work(facts: CopyTheBars, method: str) -> tuple[Step, ...]:
    score = _score(facts)
    stave = score.staves[0]
    notes = notes_of(score)
    first, last = notes[0], notes[-1]
    line = CLEFS[stave.clef].line
    signature = f", then {signature_text(stave.fifths)}" if stave.fifths else ""
    time = f", then the time signature {stave.time.text}" if stave.time else ""
    bars = len(bar_lines(score)) + 1
    return (
        Step(f"Draw the {stave.clef} clef on line {line} first{signature}{time}.", (), "clef, signature, time"),
        Step(
            "Copy bar by bar: first the note heads, each on its line or in its space.", (first.id,) if first.id else ()
        ),
        Step("Then stems and beams, dots, rests, ties, and every sign before a note.", (), "heads, stems, dots, signs"),
        Step("Close each bar with its bar line, where it stands in the music.", (), f"{bars} bars"),
        Step(
            f"Check: count the notes, {len(notes)} in all, and compare the last one.", (last.id,) if last.id else (), ""
        ),
    )


def _draw(facts: CopyTheBars, value: Value) -> Score:
    """What was copied; a missing clef leaves the stave without one."""
    drawn = written_melody(_score(facts), value, None)
    if value.clef in CLEFS:
        return drawn
    return replace(drawn, staves=(replace(drawn.staves[0], show_clef=False),))


def _difficulty(facts: CopyTheBars) -> float:
    """More notes and signs to copy (common practice)."""
    notes = notes_of(_score(facts))
    signs = sum(note.accidental is not None for note in notes)
    return -2.2 + 0.05 * min(len(notes), 16) + 0.1 * signs


KIND = Kind(
    id="copy-the-bars",
    topic="notes",
    since=1,
    title="Copy the bars",
    facts=CopyTheBars,
    forms={"written": "notes"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"copy-the-bars/{facts.melody.staves[0].clef}",
    pool=lambda scope: None,
    seconds=120,
    marking=Marking("minus-one-per-fault", values=True, heading=True),
    marks=4,
    draw=_draw,
)

"""Write a tune to a given rhythm from the notes of a tonic triad, ending on the tonic; any good tune is right.

Five marks by criterion: the rhythm kept (1), only notes of the triad (2), the tonic at the end (1), the shape (1).
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from msgspec.structs import replace as changed

from stavewright.composing.rhythm import compose_rhythm
from stavewright.questions.criterion import Criterion, lost, said
from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.bars import beamed
from stavewright.questions.setting.picking import pick, pick_clef
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.showing.rewritten import empty_melody, written_melody
from stavewright.questions.solving.tune_report import triad_of, tune_report
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

_BARS = 4
_MOST = 18
_TRIES = 20
_FEWEST = 7
_MIDDLE = 4
_TIMES = ("2/4", "3/4", "4/4", "C", "2/2", "cut C", "3/2", "3/8", "6/8", "12/8")
"""A tune is composed in the common metres of a grade: in a rare one the metre is what would be asked."""
_MARKS = 5


class TuneOnARhythm(Facts, frozen=True, forbid_unknown_fields=True):
    """The rhythm as it is printed on the middle line, and the key of the tune.

    Raises:
        BadDocument: the rhythm is not on one stave, or has fewer than four notes.
    """

    rhythm: ScoreDocument
    key: KeyText

    def __post_init__(self) -> None:
        if len(self.rhythm.staves) != 1 or len(_rhythm(self)) < _BARS:
            raise BadDocument("a tune is written to a rhythm of four notes or more on one stave")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick(rng, scope.keys, [one for one in scope.keys if one.tonic.short in scope.fresh.get("majors", ())])
    clef = pick_clef(scope, rng)
    known = [text for text in _TIMES if text in scope.times]
    time = TimeSignature.parse(pick(rng, known, [text for text in scope.fresh.get("times", ()) if text in known]))
    bottom = CLEFS[clef].bottom_line.diatonic
    home = next(d for d in range(bottom - 1, bottom + 6) if Pitch.from_diatonic(d).step == key.tonic.step)
    for _ in range(_TRIES):
        made = compose_rhythm(rng, time=time, bars=_BARS, values=scope.values, dots=min(scope.dots, 1))
        rows = [tuple(value.duration for value in bar) for bar in made.bars]
        count = sum(len(row) for row in rows)
        plain = not any(value.tie or value.rest for bar in made.bars for value in bar)
        if count > _MOST or count < _FEWEST or not plain:
            continue
        bars, number = [], 0
        middle = CLEFS[clef].pitch_at(_MIDDLE)
        for row in rows:
            written = beamed(row, time)
            notes = [Note(middle, v.duration, f"r{number + at}", beam=v.beam) for at, v in enumerate(written, 1)]
            number += len(row)
            bars.append(Bar((tuple(notes),)))
        bars[-1] = replace(bars[-1], line="final")
        steps = [(0, 2, 4, 2)[at % 4] for at in range(count - 1)] + [0]
        meant = []
        for step, value in zip(steps, [one for row in rows for one in row], strict=True):
            pitch = Pitch.from_diatonic(home + step)
            meant.append(WrittenNote(pitch.step, key.alter_of(pitch.step), pitch.octave, value.type, value.dots))
        facts = TuneOnARhythm(document_of(Score((Stave(clef, tuple(bars), time=time),))), key.text)
        return Draft(facts, Value(notes=tuple(meant), clef=clef, signature=key.fifths))
    return None


def _score(facts: TuneOnARhythm) -> Score:
    return score_of(facts.rhythm)


def _rhythm(facts: TuneOnARhythm) -> list[Duration]:
    return [note.duration for note in _score(facts).notes()]


def _key(facts: TuneOnARhythm) -> Key:
    return Key.parse(facts.key)


def _pose(facts: TuneOnARhythm, wording: Wording) -> Posed:
    key = _key(facts)
    ask = (
        f"Write a tune in {key.text} to this rhythm. Use only the notes of the tonic triad, all three of them, and end "
        "on the tonic. Leap no further than an octave."
    )
    score = _score(facts)
    empty = empty_melody(score, key.fifths)
    stave = score.staves[0]
    form = NotesForm(
        document_of(empty), len(_rhythm(facts)), alt=wording.say(f"An empty stave, {stave.clef} clef, to write on.")
    )
    return Posed((TextBlock(wording.say(ask)), StaveBlock(facts.rhythm, wording.say(spoken_extract(score)))), form)


def _written(facts: TuneOnARhythm, row: list[Pitch]) -> Value:
    notes = tuple(
        WrittenNote(pitch.step, pitch.alter, pitch.octave, value.type, value.dots)
        for pitch, value in zip(row, _rhythm(facts), strict=True)
    )
    return Value(notes=notes, clef=_score(facts).staves[0].clef, signature=_key(facts).fifths)


def _triad(facts: TuneOnARhythm) -> list[Pitch]:
    """The tonic triad in close position, its tonic on or about the lower lines of the stave."""
    key = _key(facts)
    steps = [name[0] for name in triad_of(key)]
    home = next(pitch.diatonic for pitch in _homes(facts) if pitch.step == steps[0])
    return [Pitch(p.step, key.alter_of(p.step), p.octave) for p in (Pitch.from_diatonic(home + s) for s in (0, 2, 4))]


def _homes(facts: TuneOnARhythm) -> list[Pitch]:
    """Every letter once, from the space below the stave up."""
    clef = CLEFS[_score(facts).staves[0].clef]
    return [clef.pitch_at(place) for place in range(-1, 6)]


def _model(facts: TuneOnARhythm, way: int = 0) -> list[Pitch]:
    """A tune of the triad bar by bar, up and down between the tonic and its octave, and home at the end.

    The first way begins at the lower tonic, rises in its third bar to the upper one and ends below; the second begins
    on the fifth and ends above.
    """
    low, mid, high = _triad(facts)
    ladder = (low, mid, high, Pitch(low.step, low.alter, low.octave + 1))
    starts, ends = _WAYS[way]
    row: list[Pitch] = []
    bars = [len(bar.events) for bar in _score(facts).staves[0].bars]
    for number, count in enumerate(bars):
        place, step = starts[number % len(starts)]
        for _ in range(count):
            row.append(ladder[place])
            step = -step if not 0 <= place + step < len(ladder) else step
            place += step
    return [*row[:-1], ladder[ends]]


_WAYS = ((((0, 1), (2, -1), (1, 1), (0, 1)), 0), (((2, -1), (0, 1), (3, -1), (3, -1)), 3))
"""Where each bar begins on the ladder of triad notes and whether it sets out up or down, and where the tune ends."""


def _text(facts: TuneOnARhythm, row: list[Pitch]) -> str:
    return ", ".join(pitch.name.text for pitch in row)


def _solve(facts: TuneOnARhythm) -> tuple[Answer, ...]:
    found = []
    for way in range(len(_WAYS)):
        row = _model(facts, way)
        value = _written(facts, row)
        report = _report(facts, value)
        if not lost(report):
            found.append(answer(value, _text(facts, row), f"{said(report)} Any other tune that does so is right."))
    return tuple(found)


def _report(facts: TuneOnARhythm, value: Value) -> tuple[Criterion, ...]:
    return tune_report(value.notes or (), _rhythm(facts), _key(facts))


def _slips(facts: TuneOnARhythm) -> tuple[Slip, ...]:
    row, key = _model(facts), _key(facts)
    low, mid, high = _triad(facts)
    home = f"End on {key.tonic.text}, the tonic."
    names = f"The triad has only {', '.join(triad_of(key))}."
    up = [Pitch.from_diatonic(pitch.diatonic - 1) for pitch in (mid,)]
    second = Pitch(up[0].step, key.alter_of(up[0].step), up[0].octave)
    stepped = [second if pitch == mid else pitch for pitch in row]
    found = [
        slip("not ended on the tonic", _written(facts, [*row[:-1], high]), _text(facts, [*row[:-1], high]), home),
        slip("notes outside the triad", _written(facts, stepped), _text(facts, stepped), names),
        slip("one note all through", _written(facts, [low] * len(row)), _text(facts, [low] * len(row)), names),
    ]
    even = tuple(changed(note, type="crotchet", dots=0) for note in _written(facts, row).notes or ())
    plain = changed(_written(facts, row), notes=even)
    if even != _written(facts, row).notes:
        kept = "Write under each value of the rhythm one note of the same value."
        found.append(slip("rhythm not kept", plain, f"{_text(facts, row)}, all in crotchets", kept))
    return tuple(found)


def _work(facts: TuneOnARhythm, method: str) -> tuple[Step, ...]:
    key = _key(facts)
    triad = triad_of(key)
    return (
        Step(f"Find the tonic triad of {key.text}: {', '.join(triad)}.", (), ", ".join(triad)),
        Step(f"Write {triad[0]} under the last value: a tune comes home.", (), triad[0]),
        Step("Fill the rest with the three notes: up and down, with a leap here and there.", (), ""),
        Step("Copy every value, stem and beam as in the rhythm.", (), ""),
        Step("Check: sing it; look that all three notes come and no leap is wider than an octave.", (), ""),
    )


def _draw(facts: TuneOnARhythm, value: Value) -> Score:
    return written_melody(_score(facts), value, _key(facts).fifths)


KIND = Kind(
    id="tune-on-a-rhythm",
    topic="composing",
    since=2,
    title="A tune to a rhythm",
    facts=TuneOnARhythm,
    forms={"written": "notes"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=lambda facts: -0.6 + 0.05 * len(_rhythm(facts)),
    skill=lambda facts: f"tune-on-a-rhythm/{_key(facts).mode}",
    pool=lambda scope: None,
    seconds=240,
    marking=Marking("minus-one-per-fault", values=True),
    marks=_MARKS,
    report=_report,
    draw=_draw,
    asks=lambda facts: frozenset({f"triad:{facts.key}"}),
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

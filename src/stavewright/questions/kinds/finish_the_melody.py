"""Finish a melody of eight bars for a named instrument from its first two; any good melody is right.

Ten marks by criterion: bars (2), range (1), key (1), cadence (2), grouping (1), shape (1), balance (1), signs (1).
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random

from stavewright.composing.errors import CannotCompose
from stavewright.composing.melody import compose_melody
from stavewright.composing.performance import perform
from stavewright.questions.criterion import Criterion, said
from stavewright.questions.documents import Answer, ScoreForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument, Word
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.bars import gaps_of
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.finished import examples, spoilt
from stavewright.questions.solving.melody_report import melody_report
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.degree import note_of_degree
from stavewright.theory.instrument import Instrument, instrument
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

BARS, GIVEN = 8, 2
_MARKS = 10
_FEWEST = 3
_TRIES = 12
_UPBEATS = 0.3
_SIGNS = 4
"""A tune is asked in keys of so many sharps or flats at most: beyond, the signs are what is asked, not the tune."""
_PLAYERS = (
    "violin", "viola", "cello", "flute", "oboe", "clarinet in B flat", "bassoon", "trumpet in B flat", "horn in F",
    "trombone",
)  # fmt: skip
_TIMES = ("2/4", "3/4", "4/4", "6/8", "9/8", "3/8", "2/2", "cut C", "C")
_VALUES = ("semibreve", "minim", "crotchet", "quaver", "semiquaver")
_TEMPI = ("Andante", "Moderato", "Allegretto", "Allegro", "Adagio")
_LEDGERS = (-4, 12)
"""The places on the stave, counted from its bottom line, that a tune for pupils keeps to: two ledger lines away."""


class FinishTheMelody(Facts, frozen=True, forbid_unknown_fields=True):
    """The opening as it is printed, with an upbeat or without, the key it is in, and the player it is for.

    Raises:
        BadDocument: not two full bars of notes and rests on one stave, or a player whose range is not known.
    """

    opening: ScoreDocument
    key: KeyText
    player: Word

    def __post_init__(self) -> None:
        score = score_of(self.opening)
        stave = score.staves[0]
        whole = stave.bars[1:] if score.anacrusis else stave.bars
        time = stave.time
        full = time is not None and all(sum(event.ticks for event in bar.events) == time.ticks for bar in whole)
        if len(score.staves) != 1 or len(whole) != GIVEN or not full:
            raise BadDocument("a melody to finish has two full bars on one stave, under a time signature")
        if any(not isinstance(event, Note | Rest) for event in score.events()):
            raise BadDocument("the opening of a melody to finish is notes one by one, and rests")
        if sum(isinstance(event, Note) for bar in whole for event in bar.events) < _FEWEST:
            raise BadDocument(f"the opening of a melody to finish has {_FEWEST} notes or more")
        if instrument(self.player).limits is None:
            raise BadDocument(f"no range of the {self.player} is known, so no melody can be finished for it")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    fresh = [*scope.fresh.get("majors", ()), *scope.fresh.get("minors", ())]
    keys = [key for key in scope.keys if abs(key.fifths) <= _SIGNS]
    for _ in range(_TRIES):
        player = instrument(rng.choice(_PLAYERS))
        clefs = [clef for clef in player.clefs if clef in scope.clefs]
        if not clefs or player.usual is None:
            continue
        clef = clefs[0] if rng.random() < 0.7 else rng.choice(clefs)
        stave = CLEFS[clef]
        low, high = scope.range_of(clef)
        lowest = max((stave.pitch_at(_LEDGERS[0]), player.written(player.usual.low), low), key=lambda p: p.diatonic)
        highest = min((stave.pitch_at(_LEDGERS[1]), player.written(player.usual.high), high), key=lambda p: p.diatonic)
        key = pick(rng, keys, [one for one in keys if one.tonic.short in fresh])
        time = TimeSignature.parse(rng.choice([text for text in _TIMES if text in scope.times]))
        made = _composed(rng, key, time, clef, (lowest, highest), [v for v in _VALUES if v in scope.values])
        if made is not None:
            bars = made.staves[0].bars[: GIVEN + made.anacrusis]
            opening = replace(made, staves=(replace(made.staves[0], bars=tuple(map(_bare, bars))),))
            facts = FinishTheMelody(document_of(opening), key.text, player.name)
            return Draft(facts, Value(score=document_of(made)))
    return None


def _composed(
    rng: Random, key: Key, time: TimeSignature, clef: str, span: tuple[Pitch, Pitch], values: list[str]
) -> Score | None:
    """A whole melody whose one highest note comes after the opening, mostly by step, with signs for the player."""
    upbeat = rng.random() < _UPBEATS
    try:
        made = compose_melody(
            rng, key=key, time=time, clef=clef, low=span[0], high=span[1], bars=BARS, values=values, anacrusis=upbeat
        ).score
    except CannotCompose:
        return None
    rows = [[event for event in bar.events if isinstance(event, Note)] for bar in made.staves[0].bars]
    bars = [[*rows[0], *rows[1]], *rows[2:]] if upbeat else rows
    tops = [max((note.pitch.diatonic for note in bar), default=0) for bar in bars]
    held = any(bar and bar[-1].tie for bar in bars[:GIVEN])
    if held or max(tops[:GIVEN]) >= max(tops[GIVEN:]) or min(len(bar) for bar in bars[:GIVEN]) < 2:
        return None
    tune = [bars[GIVEN - 1][-2], bars[GIVEN - 1][-1], *(note for bar in bars[GIVEN:] for note in bar)]
    struck = [b.pitch.diatonic for a, b in pairwise(tune) if not a.tie]
    moves = [abs(b - a) for a, b in pairwise(struck)]
    if 2 * sum(move > 1 for move in moves) > len(moves) or struck.count(max(struck)) > 1:
        return None
    signed = perform(made, rng, tempo=rng.choice(_TEMPI))
    return signed if any(note.slur for note in signed.notes()) else None


def _bare(bar: Bar) -> Bar:
    """A bar without its signs for the player."""
    row = tuple(replace(event, slur=None, marks=()) if isinstance(event, Note) else event for event in bar.events)
    return replace(bar, voices=(row,), directions=(), line="single")


def _key(facts: FinishTheMelody) -> Key:
    return Key.parse(facts.key)


def _player(facts: FinishTheMelody) -> Instrument:
    return instrument(facts.player)


def _opening(facts: FinishTheMelody) -> Score:
    return score_of(facts.opening)


def _time(facts: FinishTheMelody) -> TimeSignature:
    return _opening(facts).staves[0].time or TimeSignature(4, 4)


def _pose(facts: FinishTheMelody, wording: Wording) -> Posed:
    player, score = _player(facts), _opening(facts)
    read = " Write the notes as the player reads them." if player.transposes is not None else ""
    ask = (
        f"Finish this melody for {player.name}. It is in {facts.key}. Write six more bars, so that it has eight. "
        f"End on the tonic. Add a tempo, dynamics and slurs.{read}"
    )
    stave = score.staves[0]
    upbeat = sum(event.ticks for event in stave.bars[0].events) if score.anacrusis else 0
    room = [Bar((gaps_of(_time(facts).ticks, f"g{number}"),)) for number in range(GIVEN + 1, BARS)]
    last = gaps_of(_time(facts).ticks - upbeat, f"g{BARS}")
    room.append(Bar((last,), line="final", free=upbeat > 0))
    begun = [replace(bar, line="single") for bar in stave.bars]
    whole = document_of(replace(score, staves=(replace(stave, bars=(*begun, *room)),), numbered=False))
    alt = f"{spoken_extract(score)} Six empty bars follow."
    return Posed((TextBlock(wording.say(ask)),), ScoreForm(whole, wording.say(alt)))


def _report(facts: FinishTheMelody, value: Value) -> tuple[Criterion, ...]:
    whole = facts.opening if value.score is None else value.score
    return melody_report(whole, facts.opening, _key(facts), _player(facts))


def _solve(facts: FinishTheMelody) -> tuple[Answer, ...]:
    found = []
    for whole in examples(facts.opening, facts.key, facts.player):
        value = Value(score=whole)
        reason = f"{said(_report(facts, value))} Any other melody that does so is right."
        found.append(answer(value, _text(whole), reason))
    return tuple(found)


def _text(whole: ScoreDocument) -> str:
    """The bars that were written, as words: notes by name and octave, a value when it changes."""
    said: list[str] = []
    score = score_of(whole)
    for number, bar in enumerate(score.staves[0].bars[GIVEN + score.anacrusis :], GIVEN + 1):
        row: list[str] = []
        length = ""
        for note in bar.events:
            value = note.duration.name(rest=not isinstance(note, Note))
            name = f" {note.pitch.name.text} {note.pitch.octave}" if isinstance(note, Note) else ""
            row.append(f"{value}{name}" if value != length else name.strip() or value)
            length = value
        said.append(f"bar {number}: {', '.join(row)}")
    return "; ".join(said)


def _slips(facts: FinishTheMelody) -> tuple[Slip, ...]:
    whole = examples(facts.opening, facts.key, facts.player)[0]
    found = []
    for name, wrong, remedy in spoilt(whole, facts.opening, _key(facts), _player(facts)):
        if any(one.lost for one in _report(facts, Value(score=wrong))):
            found.append(slip(name, Value(score=wrong), name.capitalize(), remedy))
    return tuple(found)


def _work(facts: FinishTheMelody, method: str) -> tuple[Step, ...]:
    key, player, time = _key(facts), _player(facts), _time(facts)
    notes = list(_opening(facts).notes())
    dominant = note_of_degree(key, 5).text
    low = high = ""
    if player.usual is not None:
        low, high = player.written(player.usual.low).name.text, player.written(player.usual.high).name.text
    bars = _opening(facts).staves[0].bars
    first = tuple(event.id for event in bars[len(bars) - GIVEN].events)
    start = notes[0].pitch.name.text
    short = ", and leave out of bar 8 what the upbeat took" if _opening(facts).anacrusis else ""
    return (
        Step(f"Sing the opening: {facts.key}, {time.text}, beginning on {start}.", first, start),
        Step(f"Keep to easy notes of the {player.name}: its part goes from a low {low} to a high {high}.", (), ""),
        Step(f"Bars 3 and 4: go on, and rest in bar 4 on a long note of the chord on {dominant}.", (), dominant),
        Step("Bars 5 and 6: answer with the rhythm of bars 1 and 2. Rise to one climax.", first, "rhythm"),
        Step(f"Bars 7 and 8: come down by step to a long {key.tonic.text}{short}.", (), key.tonic.text),
        Step("Add a tempo, dynamics and slurs. Check: count every bar, then sing all eight.", (), ""),
    )


def _draw(facts: FinishTheMelody, value: Value) -> Score:
    return _opening(facts) if value.score is None else score_of(value.score)


def _difficulty(facts: FinishTheMelody) -> float:
    key = _key(facts)
    return 0.7 + 0.1 * abs(key.fifths) + 0.3 * key.is_minor + (0.3 if _time(facts).kind == "compound" else 0.0)


KIND = Kind(
    id="finish-the-melody",
    topic="composing",
    since=5,
    title="Finish the melody",
    facts=FinishTheMelody,
    forms={"written": "score"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"finish-the-melody/{_key(facts).mode}",
    pool=lambda scope: None,
    seconds=900,
    marking=Marking("minus-one-per-fault"),
    marks=_MARKS,
    report=_report,
    draw=_draw,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

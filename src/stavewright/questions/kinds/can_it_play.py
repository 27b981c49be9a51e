"""Whether an instrument can play some notes: its range, its clef, and what it sounds against what is written."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.score.stave import single
from stavewright.score.writing import row_of, with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.instrument import instrument
from stavewright.theory.pitch import Pitch

_YES = "yes"
_LOW = "no, it goes too low"
_HIGH = "no, it goes too high"
_CLEF = "no, the clef is not its own"
_COUNT = 5
_TRIES = 40
# Semitones past the widest range any source gives, so that no player could disagree; lips set no such firm limits as
# strings and tubes, and a trombone has pedal notes far below (common knowledge).
_BEYOND = {"brass": 7}
_USUALLY_BEYOND = 3
_NO_LOW_END = ("trombone",)
# Old horn parts in the bass clef sound a 4th higher, new ones a 5th lower: which is meant, the clef does not say.
_IN_DOUBT = {"horn in F": ("bass",)}
_ROOM = 7  # places on the stave that a row of notes needs
# The instruments that are asked, and the clefs that their parts are never written in (common practice).
_STRANGE_CLEFS = {
    "violin": ("bass", "alto", "tenor"), "viola": ("bass", "tenor"), "cello": ("alto",), "double bass": ("alto",),
    "flute": ("bass", "alto", "tenor"), "oboe": ("bass", "alto", "tenor"), "cor anglais": ("bass", "tenor"),
    "clarinet in B flat": ("alto", "tenor"), "bassoon": ("alto",), "alto saxophone": ("alto", "tenor"),
    "trumpet in B flat": ("alto", "tenor", "bass"), "horn in F": ("alto", "tenor"), "trombone": (), "tuba": (),
}  # fmt: skip


class CanItPlay(Facts, frozen=True, forbid_unknown_fields=True):
    """An instrument and the notes it is to play, as they stand under a clef.

    `sounding` True shows them at the pitch that is to be heard; otherwise they are its part as it is written.

    Raises:
        BadDocument: no range of the instrument is known, or there is no note.
    """

    name: Word
    clef: ClefName
    notes: Annotated[tuple[PitchText, ...], Meta(min_length=1, max_length=12)]
    sounding: bool = False

    def __post_init__(self) -> None:
        if instrument(self.name).limits is None:
            raise BadDocument(f"no range of the {self.name} is known, so it cannot be asked what it can play")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    case = rng.choice((_YES, _LOW, _HIGH, _CLEF))
    for _ in range(_TRIES):
        found = _try(scope, rng, case)
        if found is not None:
            return found
    return None


def _try(scope: Scope, rng: Random, case: str) -> Draft | None:
    """One instrument drawn and its notes, if the clef leaves room for what the case needs."""
    name = rng.choice(tuple(_STRANGE_CLEFS))
    one = instrument(name)
    if one.usual is None or one.limits is None:
        return None
    sounding = case != _CLEF and rng.random() < (0.6 if case == _HIGH else 0.4)
    own = ("treble", "bass") if sounding else tuple(c for c in one.clefs if c not in _IN_DOUBT.get(name, ()))
    beyond = _BEYOND.get(one.family, _USUALLY_BEYOND)
    clefs = [clef for clef in (_STRANGE_CLEFS[name] if case == _CLEF else own) if clef in scope.clefs]
    if not clefs:
        return None
    clef = rng.choice(clefs)
    low, high = (pitch.diatonic for pitch in scope.range_of(clef))

    def shown(pitch: Pitch) -> Pitch:
        return pitch if sounding else one.written(pitch)

    bottom, top = max(low, shown(one.usual.low).diatonic + 1), min(high, shown(one.usual.high).diatonic - 1)
    if top - bottom < _ROOM:
        return None
    notes = _row(rng, bottom, top)
    outside = []
    if case == _LOW:
        edge = shown(one.limits.low).midi - beyond
        outside = [place for place in range(low, bottom) if Pitch.from_diatonic(place).midi <= edge]
        notes = _row(rng, bottom, min(top, bottom + _ROOM))
    elif case == _HIGH:
        edge = shown(one.limits.high).midi + beyond
        outside = [place for place in range(top, high + 1) if Pitch.from_diatonic(place).midi >= edge]
        notes = _row(rng, max(bottom, top - _ROOM), top)
    if case in (_LOW, _HIGH):
        if not outside or (case == _LOW and name in _NO_LOW_END):
            return None
        notes[rng.randint(1, _COUNT - 1)] = Pitch.from_diatonic(rng.choice(outside))
    return Draft(CanItPlay(name, clef, tuple(note.short for note in notes), sounding), case)


def _row(rng: Random, bottom: int, top: int) -> list[Pitch]:
    """Notes that move by step and small leap between two places."""
    place = rng.randint(bottom, top)
    row = [place]
    while len(row) < _COUNT:
        place = min(top, max(bottom, place + rng.choice((-3, -2, -1, -1, 1, 1, 2, 3))))
        row.append(place)
    return [Pitch.from_diatonic(one) for one in row]


def _pose(facts: CanItPlay, wording: Wording) -> Posed:
    score = with_accidentals(single(facts.clef, row_of([Pitch.parse(note) for note in facts.notes])))
    if facts.sounding:
        text = f"These notes are at concert pitch: they sound just as they stand. Can the {facts.name} play them?"
    else:
        text = f"This is written in a part for the {facts.name}. Can it be played?"
    return Posed((TextBlock(wording.say(text)), StaveBlock(document_of(score), wording.say(picture(score)))))


def _heard(facts: CanItPlay, *, sounding: bool | None = None) -> list[Pitch]:
    """The notes as they are heard; `sounding` puts another reading in the place of the printed one."""
    one = instrument(facts.name)
    as_is = facts.sounding if sounding is None else sounding
    return [Pitch.parse(note) if as_is else one.sounding(Pitch.parse(note)) for note in facts.notes]


def _verdict(facts: CanItPlay, heard: Sequence[Pitch]) -> str:
    limits = instrument(facts.name).limits
    if not facts.sounding and facts.clef not in instrument(facts.name).clefs:
        return _CLEF
    if limits is not None and min(heard, key=_midi).midi < limits.low.midi:
        return _LOW
    if limits is not None and max(heard, key=_midi).midi > limits.high.midi:
        return _HIGH
    return _YES


def _midi(pitch: Pitch) -> int:
    return pitch.midi


def _note(pitch: Pitch) -> str:
    return f"{pitch.name.text} {pitch.octave}"


def _solve(facts: CanItPlay) -> tuple[Answer, ...]:
    one, heard = instrument(facts.name), _heard(facts)
    verdict = _verdict(facts, heard)
    low, high = min(heard, key=_midi), max(heard, key=_midi)
    reasons = {
        _CLEF: f"Parts for the {facts.name} are written in the {' or the '.join(one.clefs)} clef.",
        _LOW: f"The lowest note sounds {_note(low)}; the {facts.name} goes down to {_limit(facts.name, 0)} or so.",
        _HIGH: f"The highest note sounds {_note(high)}; the {facts.name} goes up to {_limit(facts.name, 1)} or so.",
        _YES: f"They sound from {_note(low)} to {_note(high)}, which the {facts.name} has.",
    }
    return (answer(Value(words=verdict), verdict, reasons[verdict]),)


def _limit(name: str, end: int) -> str:
    limits = instrument(name).limits
    return "" if limits is None else _note((limits.low, limits.high)[end])


def _slips(facts: CanItPlay) -> tuple[Slip, ...]:
    right = _verdict(facts, _heard(facts))
    one = instrument(facts.name)
    found: list[Slip] = []

    def add(name: str, said: str, remedy: str) -> None:
        if said != right and said in _said(facts) and all(said != known.text for known in found):
            found.append(slip(name, Value(words=said), said, remedy))

    if one.transposes is not None:
        remedy = f"The {facts.name} {one.transposition_text}."
        add("took written for sounding", _verdict(facts, _heard(facts, sounding=not facts.sounding)), remedy)
    places = [CLEFS[facts.clef].place(Pitch.parse(note)) for note in facts.notes]
    look = "Ledger lines are no trouble in themselves: compare with the lowest and highest note of the instrument."
    add("took ledger lines above for too high", _HIGH if max(places) > 9 else right, look)
    add("took ledger lines below for too low", _LOW if min(places) < -1 else right, look)
    add("looked at the clef alone", _YES, "Look at the lowest and the highest note as well.")
    add("took the clef for a strange one", _CLEF, f"The {facts.name} reads the {' or the '.join(one.clefs)} clef.")
    add("guessed that it is too low", _LOW, f"The lowest note of the {facts.name} is about {_limit(facts.name, 0)}.")
    return tuple(found)


def _work(facts: CanItPlay, method: str) -> tuple[Step, ...]:
    one, heard = instrument(facts.name), _heard(facts)
    low, high = heard.index(min(heard, key=_midi)), heard.index(max(heard, key=_midi))
    steps = []
    if not facts.sounding:
        fits = "is one of its own" if facts.clef in one.clefs else "is not its own"
        steps.append(Step(f"The clef: the {facts.clef} clef {fits}.", (), facts.clef))
    read = [Pitch.parse(facts.notes[at]) for at in (low, high)]
    steps.append(
        Step(
            f"The lowest note is {_note(read[0])}, the highest {_note(read[1])}.",
            tuple(dict.fromkeys((f"n{low + 1}", f"n{high + 1}"))),
            f"{read[0].short} to {read[1].short}",
        )
    )
    if one.transposes is not None and not facts.sounding:
        text = f"The {facts.name} {one.transposition_text}: you hear {_note(heard[low])} to {_note(heard[high])}."
        steps.append(Step(text, (), f"{heard[low].short} to {heard[high].short}"))
    lowest, highest = _limit(facts.name, 0), _limit(facts.name, 1)
    reach = f"The {facts.name} reaches from about {lowest} to about {highest}, as it sounds."
    steps.append(Step(reach))
    right = _solve(facts)[0]
    steps.append(Step(f"So: {right.text}. {right.reason}", (), right.text))
    steps.append(Step("Check: clef first, then the lowest note, then the highest."))
    return tuple(steps)


def _said(facts: CanItPlay) -> tuple[str, ...]:
    return (_YES, _LOW, _HIGH) if facts.sounding else (_YES, _LOW, _HIGH, _CLEF)


def _difficulty(facts: CanItPlay) -> float:
    """Transposing instruments and C clefs are harder; a strange clef is soon seen (common practice)."""
    moved = 0.5 if instrument(facts.name).transposes is not None and not facts.sounding else 0.0
    strange = -0.4 if not facts.sounding and facts.clef not in instrument(facts.name).clefs else 0.0
    return 0.3 + moved + strange + (0.2 if facts.clef in ("alto", "tenor") else 0.0)


def _tokens(facts: CanItPlay) -> frozenset[str]:
    return frozenset({f"instrument:{facts.name}", f"transposing:{facts.name}"})


KIND = Kind(
    id="can-it-play",
    topic="instruments",
    since=5,
    title="What an instrument can play",
    facts=CanItPlay,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"can-it-play/{'sounding' if facts.sounding else 'written'}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("all-or-nothing"),
    options=lambda facts: tuple(Value(words=one) for one in _said(facts)),
    asks=_tokens,
    shows=_tokens,
)

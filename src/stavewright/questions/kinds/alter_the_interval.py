"""One accidental that makes an interval the named one. Training: papers do not ask it unless the teacher says so."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.interval_pairs import anywhere
from stavewright.questions.showing.rows import note_row
from stavewright.questions.showing.two_notes import notes_block, two_notes
from stavewright.questions.solving.intervals import METHODS, semitones_text
from stavewright.questions.solving.written_interval import written_text
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Score, single
from stavewright.score.writing import SIGN, with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_text
from stavewright.theory.duration import Duration
from stavewright.theory.enharmonic import twin_pitches
from stavewright.theory.errors import UnknownIntervalError
from stavewright.theory.interval import Interval, between
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

_TRIES = 30
_MOVES = (-2, -1, -1, -1, 1, 1, 1, 2)
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
_QUALITY = {"P": "perfect", "M": "major", "m": "minor", "A": "augmented", "d": "diminished"}


class AlterTheInterval(Facts, frozen=True, forbid_unknown_fields=True):
    """Two notes under a clef, the first to be kept, the second to be given another sign; the quality that is wanted.

    Raises:
        BadDocument: both notes stand on one line or space.
    """

    clef: ClefName
    kept: PitchText
    changed: PitchText
    quality: Annotated[str, Meta(pattern=r"^[PMmAd]\Z", max_length=1)]

    def __post_init__(self) -> None:
        if Pitch.parse(self.kept).diatonic == Pitch.parse(self.changed).diatonic:
            raise BadDocument(f"{self.kept} and {self.changed} are on one line or space: give two different ones")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        found = anywhere(scope, rng)
        if found is None:
            return None
        clef, interval, low = found
        high = transpose(low, interval)
        kept, meant = (low, high) if rng.random() < 0.6 else (high, low)
        printed = meant.altered(rng.choice(_MOVES))
        if interval.number == 1 or printed.alter not in (0, *scope.alters) or (printed.step, printed.alter) in _RARE:
            continue
        if between(kept, printed).quality not in _QUALITY:
            continue
        written = WrittenNote(meant.step, meant.alter, meant.octave, "semibreve", 0, SIGN[meant.alter])
        facts = AlterTheInterval(clef, kept.short, printed.short, interval.quality)
        return Draft(facts, Value(notes=(written,), clef=clef))
    return None


def _notes(facts: AlterTheInterval) -> tuple[Pitch, Pitch]:
    return Pitch.parse(facts.kept), Pitch.parse(facts.changed)


def _wanted(facts: AlterTheInterval) -> Interval:
    """The interval to be made: the number stays, the quality is the one asked for.

    Raises:
        BadDocument: the number has no such quality.
    """
    try:
        return Interval(facts.quality, between(*_notes(facts)).number)
    except UnknownIntervalError as fault:
        raise BadDocument(f"{facts.kept} and {facts.changed}: {fault}") from fault


def _pose(facts: AlterTheInterval, wording: Wording) -> Posed:
    kept, changed = _notes(facts)
    shown = notes_block(two_notes(facts.clef, kept, changed, together=False))
    number = between(kept, changed).number_text
    article = "an" if _QUALITY[facts.quality][0] == "a" else "a"
    named = f"{article} {_QUALITY[facts.quality]} {number}"
    if wording.choosing:
        ask = f"One accidental before the second note is to make this {named}. Which answer is right?"
        return Posed((TextBlock(ask), shown))
    given = with_accidentals(
        single(facts.clef, (Note(kept, Duration("semibreve"), id="n1"), Gap(Duration("semibreve"), id="g1")))
    )
    ask = wording.say(
        f"Make this {named} with one accidental before the second note: write that note again on the stave below."
    )
    alt = wording.say(notes_block(given).alt)
    return Posed((TextBlock(ask), shown), NotesForm(document_of(given), 1, ("semibreve",), alt=alt))


def _right(facts: AlterTheInterval) -> Pitch:
    kept, changed = _notes(facts)
    wanted = _wanted(facts)
    for alter in SIGN:
        pitch = changed.altered(alter - changed.alter)
        if between(kept, pitch) == wanted and pitch != changed:
            return pitch
    raise BadDocument(f"no single sign makes {facts.kept} and {facts.changed} {wanted.text}: ask for another quality")


def _value(facts: AlterTheInterval, pitch: Pitch) -> Value:
    written = WrittenNote(pitch.step, pitch.alter, pitch.octave, "semibreve", 0, SIGN[pitch.alter])
    return Value(notes=(written,), clef=facts.clef)


def _solve(facts: AlterTheInterval) -> tuple[Answer, ...]:
    right, wanted = _right(facts), _wanted(facts)
    low, high = sorted((Pitch.parse(facts.kept), right), key=lambda pitch: pitch.diatonic)
    count = semitones_text(wanted.semitones)
    reason = f"Count {count} from {low.name.text} up to {high.name.text}: the {wanted.text}."
    return (answer(_value(facts, right), written_text(right, facts.clef), reason),)


def _slips(facts: AlterTheInterval) -> tuple[Slip, ...]:
    kept, changed = _notes(facts)
    right = _right(facts)
    moved = right.alter - changed.alter
    found: list[Slip] = []

    def add(name: str, pitch: Pitch, remedy: str) -> None:
        if abs(pitch.alter) <= 2:
            found.append(slip(name, _value(facts, pitch), written_text(pitch, facts.clef), remedy))

    wider = "up" if changed.diatonic > kept.diatonic else "down"
    hint = f"To make this interval wider the second note goes {wider}; to make it narrower, the other way."
    add("moves the wrong way", changed.altered(-moved), hint)
    way = 1 if moved > 0 else -1
    add("a semitone too far", right.altered(way), "Count the semitones once more: you have gone past it.")
    if abs(moved) > 1:
        add("a semitone too little", right.altered(-way), "Count the semitones once more: one is still missing.")
    add("left as it was", changed, "Name the interval first. Is it too wide or too narrow?")
    for twin in twin_pitches(right, 1)[:1]:
        add("another letter, same sound", twin, "Keep the letter: another letter makes another number.")
    return tuple(found)


def _work(facts: AlterTheInterval, method: str) -> tuple[Step, ...]:
    kept, changed = _notes(facts)
    right, wanted, shown = _right(facts), _wanted(facts), between(*_notes(facts))
    low, high = sorted((kept, changed), key=lambda pitch: pitch.diatonic)
    apart = wanted.semitones - shown.semitones
    size = f"{semitones_text(abs(apart))} {'wider' if apart > 0 else 'narrower'}"
    side = "up" if right.alter > changed.alter else "down"
    sign = sign_text(SIGN[right.alter])
    if method == "by semitones":
        first = f"Count from {low.name.text} up to {high.name.text}: {semitones_text(shown.semitones)}."
        second = f"The {wanted.text} has {wanted.semitones}, so it must be {size}."
    else:
        first = f"From {low.name.text} up to {high.name.text} is the {shown.text}."
        second = f"The {wanted.text} is {size}."
    steps = [
        Step(first, ("n1", "n2"), shown.short),
        Step(second, (), f"{apart:+d}"),
        Step(f"So {changed.name.text} must go {side}, on the same letter: {right.name.full_text}.", ("n2",), side),
        Step(f"Write {right.step} with a {sign} before it.", (), right.name.symbol),
        Step(f"Check: name it afresh, {kept.name.text} with {right.name.full_text}: the {wanted.text}.", ("n1",)),
    ]
    return tuple(steps)


def _neighbours(facts: AlterTheInterval) -> tuple[Value, ...]:
    changed = Pitch.parse(facts.changed)
    return tuple(_value(facts, changed.altered(alter - changed.alter)) for alter in (-1, 0, 1, 2, -2))


def _draw(facts: AlterTheInterval, value: Value) -> Score:
    """The first note and the answer behind it."""
    given = two_notes(facts.clef, *_notes(facts), together=False)
    first = next(given.notes())
    kept = WrittenNote(first.pitch.step, octave=first.pitch.octave, type="semibreve", accidental=first.accidental)
    return note_row(Value(notes=(kept, *(value.notes or ()))), facts.clef)


def _difficulty(facts: AlterTheInterval) -> float:
    """Augmented and diminished kinds, two semitones, changing the lower note, C clefs add up (common practice)."""
    kept, changed = _notes(facts)
    return (
        -0.4
        + 0.5 * (facts.quality in "Ad")
        + 0.4 * (abs(_right(facts).alter - changed.alter) > 1)
        + 0.3 * (changed.diatonic < kept.diatonic)
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="alter-the-interval",
    topic="intervals",
    since=4,
    title="Alter the interval",
    facts=AlterTheInterval,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"alter-the-interval/{_wanted(facts).short}",
    pool=lambda scope: None,
    seconds=35,
    marking=Marking("all-or-nothing"),
    draw=_draw,
    neighbours=_neighbours,
    methods=METHODS,
)

"""Write the note that makes a named interval with a given one."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths, Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.interval_pairs import above_tonic, anywhere, number_count, pair_count
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.showing.rows import note_row
from stavewright.questions.showing.two_notes import notes_block
from stavewright.questions.solving.written_interval import (
    METHODS,
    Wanted,
    by_letters,
    mistaken,
    split_note,
    targets,
    written_text,
    written_work,
)
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Score, single
from stavewright.score.writing import SIGN, with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key, signature_alter
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

_WORDS = {"P": "perfect", "M": "major", "m": "minor", "A": "augmented", "d": "diminished"}
_TRIES = 12


class WriteTheInterval(Facts, frozen=True, forbid_unknown_fields=True):
    """A given note under a clef, and the interval to make: its number, its quality ("" where the number is all).

    `below` puts the new note below. `key` where the given note is its tonic; `fifths` where a signature is printed.
    """

    clef: ClefName
    given: PitchText
    number: Annotated[int, Meta(ge=2, le=15)]
    quality: Annotated[str, Meta(pattern="^[PMmAd]?$", max_length=1)]
    key: Word | None = None
    fifths: Fifths | None = None
    below: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        key = pick_key(scope, rng) if scope.intervals.above_tonic else None
        found = anywhere(scope, rng) if key is None else above_tonic(scope, rng, key)
        if found is None:
            return None
        clef, interval, low = found
        two_heights = key is not None and key.is_minor and interval.number in (6, 7)
        if interval.number > 1 and (scope.intervals.quality or not two_heights):
            break
    else:
        return None
    fifths = key.fifths if key is not None and rng.random() < 0.5 else None
    high = transpose(low, interval)
    below = scope.intervals.below and rng.random() < 0.5
    given, meant = (high, low) if below else (low, high)
    quality = interval.quality if scope.intervals.quality else ""
    facts = WriteTheInterval(
        clef, given.short, interval.number, quality, key.text if key else None, fifths, below
    )
    sign = None if meant.alter == signature_alter(fifths or 0, meant.step) else SIGN[meant.alter]
    written = WrittenNote(meant.step, meant.alter, meant.octave, "semibreve", 0, sign)
    return Draft(facts, Value(notes=(written,), clef=clef, signature=fifths))


def _pose(facts: WriteTheInterval, wording: Wording) -> Posed:
    given = Note(Pitch.parse(facts.given), Duration("semibreve"), id="n1")
    side = "below" if facts.below else "above"
    number = {8: "octave"}.get(facts.number, ordinal(facts.number))
    named = f"{_WORDS[facts.quality]} {number}" if facts.quality else number
    article = "an" if named[0] in "ao1" and not named.startswith(("10", "12", "13", "14", "15")) else "a"
    said = f"The given note is the tonic of {facts.key}. " if facts.key else ""
    home = " Keep to the notes of that key." if facts.key and not facts.quality else ""
    if wording.choosing:
        shown = notes_block(with_accidentals(single(facts.clef, (given,), facts.fifths)))
        ask = f"{said}Which answer shows the note {article} {named} {side} the given note?{home}"
        return Posed((TextBlock(ask), shown))
    row = with_accidentals(single(facts.clef, (given, Gap(Duration("semibreve"), id="g1")), facts.fifths))
    block: StaveBlock = notes_block(row)
    ask = wording.say(f"{said}After the given note, write the note {article} {named} {side} it as a semibreve.{home}")
    form = NotesForm(document_of(row), count=1, values=("semibreve",), alt=wording.say(block.alt))
    return Posed((TextBlock(ask),), form)


def _wanted(facts: WriteTheInterval) -> Wanted:
    key = Key.parse(facts.key) if facts.key else None
    given = Pitch.parse(facts.given)
    return Wanted(facts.clef, given, facts.number, facts.quality, facts.below, key, facts.fifths or 0)


def _value(facts: WriteTheInterval, pitch: Pitch) -> Value:
    sign = None if pitch.alter == signature_alter(facts.fifths or 0, pitch.step) else SIGN[pitch.alter]
    written = WrittenNote(pitch.step, pitch.alter, pitch.octave, "semibreve", 0, sign)
    return Value(notes=(written,), clef=facts.clef, signature=facts.fifths)


def _solve(facts: WriteTheInterval) -> tuple[Answer, ...]:
    wanted = _wanted(facts)
    return tuple(
        answer(_value(facts, pitch), written_text(pitch, facts.clef), reason) for pitch, reason in targets(wanted)
    )


def _slips(facts: WriteTheInterval) -> tuple[Slip, ...]:
    return tuple(
        slip(one.name, _value(facts, one.pitch), written_text(one.pitch, facts.clef), one.remedy, steady=one.steady)
        for one in mistaken(_wanted(facts))
    )


def _work(facts: WriteTheInterval, method: str) -> tuple[Step, ...]:
    return written_work(_wanted(facts), method)


def _neighbours(facts: WriteTheInterval) -> tuple[Value, ...]:
    wanted = _wanted(facts)
    home = by_letters(wanted)
    alters = (-1, 0, 1)
    near = [Pitch.from_diatonic(home.diatonic + away, alter) for away in (0, 1, -1) for alter in alters]
    return tuple(_value(facts, pitch) for pitch in near)


def _draw(facts: WriteTheInterval, value: Value) -> Score:
    """The given note and the answer behind it."""
    given = _value(facts, Pitch.parse(facts.given)).notes or ()
    row = Value(notes=(*given, *(value.notes or ())), signature=facts.fifths)
    return note_row(row, facts.clef, facts.fifths)


def _difficulty(facts: WriteTheInterval) -> float:
    """Altered and wide intervals, the given note's sign, C clefs, writing below make it harder (common practice)."""
    return (
        -1.2
        + 0.5 * bool(facts.quality)
        - 0.3 * (facts.key is not None)
        + 0.6 * (facts.quality in ("A", "d"))
        + 0.4 * (facts.number > 8)
        + 0.2 * abs(Pitch.parse(facts.given).alter)
        + 0.2 * (facts.clef in ("alto", "tenor"))
        + 0.4 * facts.below
    )


def _pool(scope: Scope) -> int:
    """With or without a signature above a tonic, above or below elsewhere; a number alone counts one place once."""
    if scope.intervals.above_tonic:
        return 2 * (pair_count(scope) if scope.intervals.quality else number_count(scope))
    return (1 + scope.intervals.below) * (pair_count(scope) - pair_count(scope, unisons=True))


def _skill(facts: WriteTheInterval) -> str:
    simple = facts.number if facts.number <= 8 else (facts.number - 2) % 7 + 2
    wide = "compound " if facts.number > 8 else ""
    return f"write-the-interval/{wide}{facts.quality}{simple}"


def _shows(facts: WriteTheInterval) -> frozenset[str]:
    return frozenset({f"signature:{facts.key}"}) if facts.key and facts.fifths is not None else frozenset()


KIND = Kind(
    id="write-the-interval",
    topic="intervals",
    since=1,
    title="Write the interval",
    facts=WriteTheInterval,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=_pool,
    seconds=30,
    marking=Marking("gated", split=split_note),
    marks=2,
    draw=_draw,
    neighbours=_neighbours,
    shows=_shows,
    methods=METHODS,
)

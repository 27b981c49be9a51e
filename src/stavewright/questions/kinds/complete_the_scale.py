"""Complete a scale: the notes that are missing, or the accidentals that bare notes need."""

from __future__ import annotations

from math import comb
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.scales import (
    fitting_clefs,
    placed_scale,
    signs_to_add,
    spelled_notes,
)
from stavewright.questions.showing.rows import note_row, with_gaps
from stavewright.questions.solving.scales import as_written, names_of, scale_fifths, scale_row, wrong_scales
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, LowOctave, NameText, ScaleForm
from stavewright.score.event import Event, Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_text
from stavewright.theory.clef import CLEFS
from stavewright.theory.interval import ordinal
from stavewright.theory.key import key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch

_WORDS = {"up": "ascending", "down": "descending"}
_INNER = range(1, 7)
_OF_THE_SIGNATURE = ("accidentals forgotten", "one sign too many", "one sign too few")
_VALUE = "semibreve"


class CompleteTheScale(Facts, frozen=True, forbid_unknown_fields=True):
    """A scale of eight notes, up or down, the octave of its lower tonic, and what is left out.

    `missing` are the places (from 0) of notes left out; where it is empty all notes are there without their
    accidentals. `signature` says whether the key signature is printed.
    """

    clef: ClefName
    tonic: NameText
    octave: LowOctave
    form: ScaleForm
    direction: Annotated[str, Meta(pattern=r"^(up|down)\Z", max_length=4)]
    signature: bool
    missing: Annotated[tuple[Annotated[int, Meta(ge=0, le=7)], ...], Meta(max_length=8)] = ()


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    placed = placed_scale(scope, rng)
    if placed is None:
        return None
    key, form, clef, octave = placed
    direction = rng.choice(("up", "down"))
    signature = bool(key.fifths) and rng.random() < 0.5
    names = spelled_notes(key.tonic, form, direction)
    if rng.random() < 0.4 and signs_to_add(key, form, direction, "printed" if signature else "none"):
        facts = CompleteTheScale(clef, key.tonic.text, octave, form, direction, signature)
        return Draft(facts, " ".join(names))
    missing = tuple(sorted(rng.sample(_INNER, rng.choice((2, 3)))))
    facts = CompleteTheScale(clef, key.tonic.text, octave, form, direction, signature, missing)
    return Draft(facts, " ".join(names[place] for place in missing))


def _tonic(facts: CompleteTheScale) -> NoteName:
    return NoteName.parse(facts.tonic)


def _fifths(facts: CompleteTheScale) -> int | None:
    return scale_fifths(_tonic(facts), facts.form) if facts.signature else None


def _row(facts: CompleteTheScale) -> tuple[Pitch, ...]:
    return scale_row(_tonic(facts), facts.form, facts.direction, facts.octave)


def _given(facts: CompleteTheScale) -> Score:
    """The row as it is printed: gaps for missing notes, or every note without its accidental."""
    row = scale_row(_tonic(facts), facts.form, facts.direction, facts.octave)
    fifths = scale_fifths(_tonic(facts), facts.form) if facts.signature else None
    written = as_written(row, facts.clef, fifths, _VALUE)
    if not facts.missing:
        bare = tuple(WrittenNote(note.step, octave=note.octave, type=_VALUE) for note in written)
        return note_row(Value(notes=bare), facts.clef, fifths)
    return with_gaps(note_row(Value(notes=written), facts.clef, fifths), facts.missing)


def _pose(facts: CompleteTheScale, wording: Wording) -> Posed:
    name = f"{facts.tonic} {facts.form}, {_WORDS[facts.direction]}"
    given = _given(facts)
    alt = wording.say(_alt(facts, given))
    if wording.choosing:
        shown = StaveBlock(document_of(given), alt)
        what = f"Some notes of this scale of {name}, are missing. Which answer is the whole scale?"
        if not facts.missing:
            what = f"These notes need accidentals to be the scale of {name}. Which answer is right?"
        return Posed((TextBlock(wording.say(what)), shown))
    if facts.missing:
        ask = f"Write the {len(facts.missing)} missing notes of the scale of {name}."
        count = len(facts.missing)
    else:
        ask = f"Add the accidentals that make this the scale of {name}."
        count = len(_INNER) + 2
    return Posed((TextBlock(wording.say(ask)),), NotesForm(document_of(given), count, (_VALUE,), alt=alt))


def _alt(facts: CompleteTheScale, given: Score) -> str:
    fifths = given.staves[0].fifths
    signature = f" and a key signature of {signature_text(fifths)}" if fifths is not None else ""
    said = [_say(event) for event in given.events()]
    return f"A stave with the {facts.clef} clef{signature}: {', '.join(said)}."


def _say(event: Event) -> str:
    if not isinstance(event, Note):
        return "a gap"
    sign = f" {sign_text(event.accidental)}" if event.accidental else ""
    return f"{event.pitch.step}{sign} {event.pitch.octave}"


def _asked(facts: CompleteTheScale, pitches: tuple[Pitch, ...]) -> tuple[Value, str]:
    """What the pupil writes of a row of eight pitches, and its words."""
    fifths = scale_fifths(_tonic(facts), facts.form) if facts.signature else None
    written = as_written(pitches, facts.clef, fifths, _VALUE)
    places = facts.missing or range(len(written))
    value = Value(notes=tuple(written[place] for place in places), clef=facts.clef, signature=fifths)
    return value, names_of([pitches[place] for place in places])


def _solve(facts: CompleteTheScale) -> tuple[Answer, ...]:
    value, text = _asked(facts, _row(facts))
    return (answer(value, text, f"{facts.tonic} {facts.form} {_WORDS[facts.direction]} is {names_of(_row(facts))}."),)


def _slips(facts: CompleteTheScale) -> tuple[Slip, ...]:
    found: list[Slip] = []
    tonic = _tonic(facts)
    for wrong in wrong_scales(tonic, facts.form, facts.direction, facts.octave, facts.clef):
        if wrong.name == "wrong direction" or wrong.name.startswith("placed as"):
            continue
        if facts.signature and wrong.name in _OF_THE_SIGNATURE:
            continue
        value, text = _asked(facts, wrong.pitches)
        found.append(slip(wrong.name, value, text, wrong.remedy, steady=wrong.steady))
    if facts.missing:
        for name, step in (("a place too high", 1), ("a place too low", -1)):
            key = key_of(scale_fifths(tonic, facts.form), "major")
            moved = tuple(Pitch.from_diatonic(p.diatonic + step) for p in _row(facts))
            value, text = _asked(facts, tuple(Pitch(p.step, key.alter_of(p.step), p.octave) for p in moved))
            found.append(slip(name, value, text, "Each letter comes once: follow the lines and spaces in turn."))
    return tuple(found)


def _neighbours(facts: CompleteTheScale) -> tuple[Value, ...]:
    """The right notes but for one or two, which a sign has moved by a semitone."""
    row = _row(facts)
    moved = [
        (place, row[place].altered(by))
        for place in facts.missing or range(1, 7)
        for by in (1, -1)
        if abs(row[place].alter + by) <= 1
    ]
    found: list[Value] = []
    for at, (place, pitch) in enumerate(moved):
        one = (*row[:place], pitch, *row[place + 1 :])
        found.append(_asked(facts, one)[0])
        other, beside = moved[at - 1]
        if other != place:
            found.append(_asked(facts, (*one[:other], beside, *one[other + 1 :]))[0])
    return tuple(found)


def _work(facts: CompleteTheScale, method: str) -> tuple[Step, ...]:
    fifths = scale_fifths(_tonic(facts), facts.form)
    key = key_of(fifths, "major" if facts.form == "major" else "minor")
    signs = ", ".join(sign.text for sign in key.signature)
    count = signature_text(fifths)
    steps = [
        Step(f"{key.text} has {count}{': ' + signs if signs else ''}.", (), " ".join(s.short for s in key.signature))
    ]
    if facts.form != "major":
        steps.append(Step(_minor(facts, key.leading_note.full_text), (), ""))
    if facts.missing:
        top = facts.direction == "up"
        degrees = [place + 1 if top else 8 - place for place in facts.missing]
        which = ", ".join(ordinal(degree) for degree in degrees)
        _, text = _asked(facts, _row(facts))
        steps.append(Step(f"The missing degrees are {which}: {text}.", (), which))
    else:
        steps.append(Step(f"So the scale must read {names_of(_row(facts))}.", (), ""))
    steps.append(Step("Check: play or sing it in your head from tonic to tonic; each letter comes once.", (), ""))
    return tuple(steps)


def _minor(facts: CompleteTheScale, leading: str) -> str:
    sixth = NoteName.from_fifths(_tonic(facts).fifths + 3).full_text
    if facts.form == "harmonic minor":
        return f"The harmonic form raises the 7th both ways, to {leading}."
    if facts.form == "melodic minor" and facts.direction == "up":
        return f"Going up, the melodic form raises the 6th and 7th, to {sixth} and {leading}."
    return "This form, in this direction, keeps to the key signature."


def _draw(facts: CompleteTheScale, value: Value) -> Score:
    fifths = _fifths(facts)
    if not facts.missing:
        return note_row(value, facts.clef, fifths)
    row = list(as_written(_row(facts), facts.clef, fifths, _VALUE))
    filled = list(value.notes or ())
    for place in facts.missing:
        row[place] = filled.pop(0) if filled else WrittenNote("B", octave=CLEFS[facts.clef].pitch_at(4).octave)
    if len(value.notes or ()) < len(facts.missing):
        return with_gaps(note_row(Value(notes=tuple(row)), facts.clef, fifths), facts.missing)
    return note_row(Value(notes=tuple(row)), facts.clef, fifths)


def _difficulty(facts: CompleteTheScale) -> float:
    """More signs, the minor forms, coming down and the C clefs make it harder (common practice)."""
    form = {"major": 0.0, "natural minor": 0.3, "harmonic minor": 0.5, "melodic minor": 0.8}[facts.form]
    fifths = abs(scale_fifths(_tonic(facts), facts.form))
    down = 0.1 if facts.direction == "down" else 0.0
    return -1.1 + 0.15 * fifths + form + down + (0.3 if facts.clef in ("alto", "tenor") else 0.0)


def _pool(scope: Scope) -> int:
    gaps = comb(len(_INNER), 2) + comb(len(_INNER), 3)
    total = 0
    for key in scope.keys:
        for form in scope.minor_forms if key.is_minor else ("major",):
            for direction in ("up", "down"):
                for signature in ("none", "printed") if key.fifths else ("none",):
                    ways = gaps + signs_to_add(key, form, direction, signature)
                    total += ways * len(fitting_clefs(key.tonic, scope))
    return total


KIND = Kind(
    id="complete-the-scale",
    topic="scales",
    since=1,
    title="Complete a scale",
    facts=CompleteTheScale,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    neighbours=_neighbours,
    difficulty=_difficulty,
    skill=lambda facts: f"complete-the-scale/{facts.form}",
    pool=_pool,
    seconds=50,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    asks=lambda facts: frozenset({f"scale:{facts.tonic} {facts.form}"}),
)

"""Write or complete a chord for soprano, alto, tenor and bass on two staves."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.setting.voicing import meant_spacing, meant_value
from stavewright.questions.showing.filled import filled
from stavewright.questions.showing.two_notes import spoken_signature
from stavewright.questions.solving.four_voices import bad_spacings, faults_of, good_spacings, nearest, part_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText, PitchText
from stavewright.score.event import Event, Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_text
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch, pitch_at
from stavewright.theory.voice import SATB

_LONG = Duration("semibreve")
_TRIES = 20
_WAYS = ((True, False, False, True), (True, False, False, True), (False, False, False, True), (False,) * 4)
_ALSO = 8
"""How many good spacings are written out; every other one without a fault is right as well."""


class FourPartChord(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, a chord by its label, and the voices that are printed, from soprano to bass (None: to be written).

    Raises:
        BadDocument: no voice is left to write, or no spacing without a fault keeps the printed voices.
    """

    key: KeyText
    label: Annotated[str, Meta(pattern=r"^(I|II|III|IV|V|VI|VII)[bc]?\Z", max_length=4)]
    given: tuple[PitchText | None, PitchText | None, PitchText | None, PitchText | None] = (None, None, None, None)

    def __post_init__(self) -> None:
        if None not in self.given:
            raise BadDocument("all four voices are printed: leave at least one to write")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if not scope.inversions or not scope.triads:
        return None
    for _ in range(_TRIES):
        key = pick_key(scope, rng)
        if key is None:
            return None
        label = ChordLabel(ROMANS.index(rng.choice(scope.triads)) + 1, rng.choice((0, 0, 1, 1, 2)))
        names = chord_notes(key, label)
        if any(name.alter and name.alter not in scope.alters for name in names):
            continue
        top, low = rng.choice(names), names[0]
        soprano = pitch_at(7 * rng.choice((4, 5)) + top.index, top.alter)
        bass = pitch_at(7 * rng.choice((2, 3)) + low.index, low.alter)
        way = rng.choice(_WAYS)
        held = tuple(pitch if shown else None for pitch, shown in zip((soprano, None, None, bass), way, strict=True))
        if (way[0] and not 62 <= soprano.midi <= 79) or (way[3] and not 41 <= bass.midi <= 60):
            continue
        meant = meant_spacing(key, label, held)
        if meant is None:
            continue
        s, a, t, b = (None if pitch is None else pitch.short for pitch in held)
        return Draft(FourPartChord(key.text, label.text, (s, a, t, b)), meant_value(meant, held, key))
    return None


def _key(facts: FourPartChord) -> Key:
    return Key.parse(facts.key)


def _label(facts: FourPartChord) -> ChordLabel:
    return ChordLabel.parse(facts.label)


def _held(facts: FourPartChord) -> tuple[Pitch | None, ...]:
    return tuple(None if note is None else Pitch.parse(note) for note in facts.given)


def _empty(facts: FourPartChord) -> list[str]:
    return [part for part, note in zip(SATB, facts.given, strict=True) if note is None]


def _score(facts: FourPartChord, spacing: Sequence[Pitch | None]) -> Score:
    """Two staves, two voices each: the notes there are, and gaps g1, g2 ... for the others."""
    events: list[Event] = []
    gaps = 0
    for number, pitch in enumerate(spacing, 1):
        if pitch is None:
            gaps += 1
            events.append(Gap(_LONG, f"g{gaps}"))
        else:
            events.append(Note(pitch, _LONG, f"n{number}"))
    fifths = _key(facts).fifths
    staves = tuple(
        Stave(clef, (Bar(((one,), (other,)), line="none", free=True),), fifths)
        for clef, one, other in (("treble", events[0], events[1]), ("bass", events[2], events[3]))
    )
    return with_accidentals(Score(staves, join="bracket"))


def _value(facts: FourPartChord, spacing: Sequence[Pitch]) -> Value:
    """What the pupil writes of a spacing."""
    written = [event for event in _score(facts, spacing).events() if isinstance(event, Note)]
    notes = tuple(
        WrittenNote(note.pitch.step, octave=note.pitch.octave, type="semibreve", accidental=note.accidental)
        for note, printed in zip(written, facts.given, strict=True)
        if printed is None
    )
    upper = sum(printed is None for printed in facts.given[:2])
    return Value(notes=notes, signature=_key(facts).fifths, bar_lines=(upper,))


def _text(facts: FourPartChord, spacing: Sequence[Pitch]) -> str:
    rows = zip(SATB, spacing, facts.given, strict=True)
    return ", ".join(f"{part} {pitch.name.text}" for part, pitch, printed in rows if printed is None)


def _pose(facts: FourPartChord, wording: Wording) -> Posed:
    given = _score(facts, _held(facts))
    printed = [
        f"{part} {event.pitch.step}{f' {sign_text(event.accidental)}' if event.accidental else ''} {event.pitch.octave}"
        for part, event in zip(SATB, given.events(), strict=True)
        if isinstance(event, Note)
    ]
    notes = f" Printed: {', '.join(printed)}." if printed else ""
    alt = f"Two staves, treble and bass, with {spoken_signature(_key(facts).fifths)}.{notes}"
    named = f"chord {facts.label} of {facts.key}"
    if wording.choosing:
        ask = f"Which answer is {named}, well spaced for soprano, alto, tenor and bass?"
        shown = (StaveBlock(document_of(given), wording.say(alt)),) if printed else ()
        return Posed((TextBlock(wording.say(ask)), *shown))
    parts = _empty(facts)
    which = f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]
    verb = "Complete" if printed else "Write"
    ask = f"{verb} {named} for four voices: write the {which}. Use all three notes of the chord, as semibreves."
    form = NotesForm(document_of(given), len(parts), ("semibreve",), alt=wording.say(alt))
    return Posed((TextBlock(wording.say(ask)),), form)


def _solve(facts: FourPartChord) -> tuple[Answer, ...]:
    key, label = _key(facts), _label(facts)
    found = []
    for spacing in good_spacings(key, label, _held(facts))[:_ALSO]:
        held = [pitch.name for pitch in spacing]
        twice = next((name for name in held if held.count(name) > 1), held[0])
        why = (
            f"All notes of {facts.label} are there, {twice.text}, the {part_of(twice, key, label)}, twice; the voices "
            "are in range, do not cross, and the upper three stand within an octave of their neighbours. Any such "
            "spacing is right."
        )
        found.append(answer(_value(facts, spacing), _text(facts, spacing), why))
    return tuple(found)


def _model(facts: FourPartChord) -> tuple[Pitch, ...]:
    found = good_spacings(_key(facts), _label(facts), _held(facts))
    if not found:
        raise BadDocument(f"no spacing of {facts.label} in {facts.key} without a fault keeps the printed voices")
    return found[0]


def _slips(facts: FourPartChord) -> tuple[Slip, ...]:
    key, label = _key(facts), _label(facts)
    model = _model(facts)
    s, a, t, b = model
    found: list[Slip] = []

    def add(name: str, wrong: Sequence[Pitch], remedy: str) -> None:
        whole = tuple(pitch if held is None else held for pitch, held in zip(wrong, _held(facts), strict=True))
        if faults_of(whole, key, label) and all(abs(pitch.alter) <= 2 for pitch in whole):
            found.append(slip(name, _value(facts, whole), _text(facts, whole), remedy))

    for name, spacing, remedy in bad_spacings(key, label, _held(facts), (s, a, t, b)):
        add(name, spacing, remedy)
    natural = chord_notes(key, label, "natural")
    if natural != chord_notes(key, label):
        bare = [
            pitch.altered(key.alter_of(pitch.step) - pitch.alter) if pitch.name == key.leading_note else pitch
            for pitch in model
        ]
        add("leading note not raised", bare, "In a minor key chord V has the raised 7th: write its sign.")
    low = "The bass decides: root position, first or second inversion?"
    for degree in ((label.degree + 1) % 7 + 1,):
        mixed = chord_notes(key, ChordLabel(degree))
        moved = [nearest(pitch, mixed) for pitch in model]
        add("chord a third away", moved, f"Spell chord {label.numeral} first: {_names(facts)}.")
    if facts.given[3] is None:
        root = chord_notes(key, ChordLabel(label.degree, (label.inversion + 1) % 3))[0]
        add("another note in the bass", (s, a, t, nearest(b, (root,))), low)
    return tuple(found)


def _names(facts: FourPartChord) -> str:
    return ", ".join(name.text for name in chord_notes(_key(facts), ChordLabel(_label(facts).degree)))


def _written_voices(facts: FourPartChord, value: Value) -> tuple[Pitch, ...]:
    """The pitches of all voices as they are printed and written, as far as there are any."""
    return tuple(pitch for event in _draw(facts, value).sounding() for pitch in event.pitches)


def _faults(facts: FourPartChord, value: Value) -> int | None:
    """Every fault of the spacing that was written; a voice that is missing or one too many is a fault too."""
    if value.notes is None:
        return None
    wanted = len(_empty(facts))
    if len(value.notes) != wanted:
        return 2 * abs(wanted - len(value.notes))
    whole = _written_voices(facts, value)
    return len(faults_of(whole, _key(facts), _label(facts)))


def _work(facts: FourPartChord, method: str) -> tuple[Step, ...]:
    key, label = _key(facts), _label(facts)
    model = _model(facts)
    names = chord_notes(key, label)
    held = [pitch.name for pitch in model]
    twice = next((name for name in held if held.count(name) > 1), held[0])
    ids = tuple(f"n{number}" for number, note in enumerate(facts.given, 1) if note is not None)
    own = [name.text for name in names if name.alter != key.alter_of(name.step)]
    sign = f" {own[0]}, the raised 7th, needs its sign." if own else ""
    steps = [
        Step(f"Spell chord {label.numeral} of {facts.key}: {_names(facts)}.{sign}", (), _names(facts)),
        Step(
            f"{label.position.capitalize()} has {names[0].text} in the bass; {twice.text}, the "
            f"{part_of(twice, key, label)}, may come twice, the leading note never.",
            ids,
            names[0].short,
        ),
        Step(
            f"Write the voices from the bass up, soprano to alto and alto to tenor within an octave: "
            f"{_text(facts, model)}.",
            (),
            "",
        ),
        Step("Check: are all three notes there? Is every voice in its range, and below the one above it?"),
    ]
    return tuple(steps)


def _draw(facts: FourPartChord, value: Value) -> Score:
    return filled(_score(facts, _held(facts)), value.notes or ())


def _difficulty(facts: FourPartChord) -> float:
    """More voices to write, inversions, minor and more signs make it harder (common practice)."""
    key = _key(facts)
    return (
        -0.2
        + 0.2 * (len(_empty(facts)) - 2)
        + 0.3 * bool(_label(facts).inversion)
        + 0.2 * key.is_minor
        + 0.06 * abs(key.fifths)
    )


KIND = Kind(
    id="four-part-chord",
    topic="chords",
    since=5,
    title="A chord for four voices",
    facts=FourPartChord,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"four-part-chord/{facts.label} {_key(facts).mode}",
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("minus-one-per-fault"),
    marks=3,
    draw=_draw,
    faults=_faults,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

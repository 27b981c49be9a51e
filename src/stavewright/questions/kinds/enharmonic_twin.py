"""Another spelling of the same sound: the enharmonic twin of a note."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_pitch
from stavewright.questions.showing.describing import where, with_sign
from stavewright.questions.showing.rows import empty_row, note_row
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Sign, StavePlace
from stavewright.score.event import Note
from stavewright.score.stave import Score, single
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_alter, sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.enharmonic import twin_pitches
from stavewright.theory.pitch import NoteName, Pitch

# The setter's own list: the simplest other spelling of every name up to two signs, on the nearest letter.
# Source: Gehrkens, Music Notation and Terminology (1914) §27, for the pairs; the rest follow (common practice).
_SIMPLEST = {
    "Cbb": "Bb", "Cb": "B", "C": "B#", "C#": "Db", "C##": "D",
    "Dbb": "C", "Db": "C#", "D": "Ebb", "D#": "Eb", "D##": "E",
    "Ebb": "D", "Eb": "D#", "E": "Fb", "E#": "F", "E##": "F#",
    "Fbb": "Eb", "Fb": "E", "F": "E#", "F#": "Gb", "F##": "G",
    "Gbb": "F", "Gb": "F#", "G": "Abb", "G#": "Ab", "G##": "A",
    "Abb": "G", "Ab": "G#", "A": "Bbb", "A#": "Bb", "A##": "B",
    "Bbb": "A", "Bb": "A#", "B": "Cb", "B#": "C", "B##": "C#",
}  # fmt: skip


class EnharmonicTwin(Facts, frozen=True, forbid_unknown_fields=True):
    """A note as it is written: clef, place (0 is the bottom line, 1 the space above it), printed sign."""

    clef: ClefName
    place: StavePlace
    accidental: Sign | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    pitch = pick_pitch(scope, rng, clef, margin=1)
    twin = NoteName.parse(_SIMPLEST[pitch.name.short])
    octave = pitch.octave + {"CB": -1, "BC": 1}.get(pitch.step + twin.step, 0)
    facts = EnharmonicTwin(
        clef,
        pitch.diatonic - CLEFS[clef].bottom_line.diatonic,
        sign_name(pitch.alter) if pitch.alter else None,
    )
    sign = sign_name(twin.alter) if twin.alter else None
    return Draft(facts, Value(notes=(WrittenNote(twin.step, twin.alter, octave, "semibreve", 0, sign),), clef=clef))


def _shown(facts: EnharmonicTwin) -> Pitch:
    return CLEFS[facts.clef].pitch_at(facts.place, sign_alter(facts.accidental) if facts.accidental else 0)


def _value(facts: EnharmonicTwin, pitch: Pitch) -> Value:
    alter = max(-2, min(2, pitch.alter))
    sign = sign_name(alter) if alter else None
    return Value(notes=(WrittenNote(pitch.step, alter, pitch.octave, "semibreve", 0, sign),), clef=facts.clef)


def _text(facts: EnharmonicTwin, pitch: Pitch) -> str:
    return f"{pitch.name.text}, {where(CLEFS[facts.clef].place(pitch))}"


def _pose(facts: EnharmonicTwin, wording: Wording) -> Posed:
    note = Note(_shown(facts), Duration("semibreve"), id="n1", accidental=facts.accidental)
    alt = f"A stave with the {facts.clef} clef and one note, {with_sign(facts.place, facts.accidental)}."
    shown = StaveBlock(document_of(single(facts.clef, (note,))), wording.say(alt))
    if wording.choosing:
        return Posed((TextBlock("Which of the answers sounds the same as this note?"), shown))
    ask = wording.say("Write a note that sounds the same as this one but has another letter name. Use a semibreve.")
    room = wording.say(f"An empty stave with the {facts.clef} clef.")
    given = document_of(empty_row(facts.clef, 1))
    return Posed((TextBlock(ask), shown), NotesForm(given, count=1, values=("semibreve",), alt=room))


def _twins(facts: EnharmonicTwin) -> list[Pitch]:
    """Every other spelling with no more than a double sign, the fewest signs and the nearest letter first."""
    shown = _shown(facts)
    return sorted(twin_pitches(shown), key=lambda twin: (abs(twin.alter), abs(twin.diatonic - shown.diatonic)))


def _solve(facts: EnharmonicTwin) -> tuple[Answer, ...]:
    shown = _shown(facts).name.text
    found = []
    for twin in _twins(facts):
        reason = f"{twin.name.text} and {shown} are two names for one key of the keyboard."
        found.append(answer(_value(facts, twin), _text(facts, twin), reason))
    return tuple(found)


def _slips(facts: EnharmonicTwin) -> tuple[Slip, ...]:
    shown, twin = _shown(facts), _twins(facts)[0]
    found: list[Slip] = []

    def add(name: str, wrong: Pitch, remedy: str) -> None:
        found.append(slip(name, _value(facts, wrong), _text(facts, wrong), remedy))

    same = Pitch(shown.step, -shown.alter or 1, shown.octave)
    add("same letter", same, "The new name needs another letter: look at the letters next door.")
    if twin.octave != shown.octave:
        add(
            "wrong octave at B and C",
            Pitch(twin.step, twin.alter, shown.octave),
            "B and C are neighbours: stay beside your note.",
        )
    keyboard = "Find the key on a keyboard, then ask what else it is called."
    if twin.alter:
        add("sign left out", twin.altered(-twin.alter), keyboard)
        add("sign the wrong way", twin.altered(-2 * twin.alter), "A sharp goes up to the key, a flat comes down to it.")
    else:
        add("sign kept on the new letter", twin.altered(1 if shown.alter >= 0 else -1), keyboard)
        step = 1 if twin.diatonic > shown.diatonic else -1
        add("one letter too far", Pitch.from_diatonic(twin.diatonic + step), keyboard)
    way = twin.octave - shown.octave or (1 if CLEFS[facts.clef].place(twin) <= 4 else -1)
    add(f"an octave too {'high' if way > 0 else 'low'}", twin.shifted(way), "The twin stands right beside your note.")
    return tuple(found)


def _work(facts: EnharmonicTwin, method: str) -> tuple[Step, ...]:
    shown, twin, *others = (_shown(facts), *_twins(facts))
    side = "up" if twin.diatonic > shown.diatonic else "down"
    away = abs(twin.diatonic - shown.diatonic)
    bare = Pitch.from_diatonic(twin.diatonic)
    gap = shown.midi - bare.midi
    steps = [
        Step(f"The note is {shown.name.text}.", ("n1",), shown.name.symbol),
        Step(f"Go {'one letter' if away == 1 else 'two letters'} {side}: {bare.step}.", ("n1",), bare.step),
    ]
    if gap:
        size = "a semitone" if abs(gap) == 1 else "two semitones"
        moved = f"The note is {size} {'higher' if gap > 0 else 'lower'} than {bare.step}, so write {twin.name.text}."
        steps.append(Step(moved, ("n1",), twin.name.symbol))
    else:
        steps.append(Step(f"{bare.step} with no sign is the very same key, so write {bare.step}.", ("n1",), bare.step))
    if {shown.step, twin.step} == {"B", "C"}:
        steps.append(Step("B and C are neighbours, so the twin stands on the very next line or space.", ("n1",)))
    if others:
        also = " or ".join(one.name.text for one in others)
        steps.append(Step(f"Also right: {also}."))
    steps.append(Step("Check: find both names on a keyboard. Do they share one key?", ("n1",)))
    return tuple(steps)


def _draw(facts: EnharmonicTwin, value: Value) -> Score:
    return note_row(value, facts.clef)


def _difficulty(facts: EnharmonicTwin) -> float:
    """A single sign to swap is easy; white keys and double signs are not (common practice)."""
    shown, twin = _shown(facts), _twins(facts)[0]
    clef = {"treble": 0.0, "bass": 0.1, "alto": 0.3, "tenor": 0.4}[facts.clef]
    octave = 0.2 * (twin.octave != shown.octave)
    return -0.9 + clef + 0.4 * max(abs(twin.alter), abs(shown.alter)) + 0.3 * (shown.alter == 0) + octave


def _skill(facts: EnharmonicTwin) -> str:
    most = max(abs(_shown(facts).alter), abs(_twins(facts)[0].alter))
    return f"enharmonic-twin/{'double' if most > 1 else 'single'}"


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        for diatonic in range(low.diatonic + 1, high.diatonic):
            step = Pitch.from_diatonic(diatonic).step
            rare = 0 if 2 in scope.alters else (step in "EB") + (step in "CF")
            total += len(set(scope.alters)) - rare
    return total


KIND = Kind(
    id="enharmonic-twin",
    topic="notes",
    since=4,
    title="Enharmonic twin",
    facts=EnharmonicTwin,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=_pool,
    seconds=25,
    marking=Marking("all-or-nothing"),
    draw=_draw,
)

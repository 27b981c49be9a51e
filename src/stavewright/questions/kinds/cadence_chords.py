"""Choose chords for the marked notes at the end of a melody so that they make a cadence."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, ChordsForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.cadence_lines import cadence_line
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.workable import fault_of, holding, workable
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.event import Note
from stavewright.syllabus.scope import Scope
from stavewright.theory.cadence import cadence, cadence_reason, cadence_text
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName

_TRIES = 20
_PLAIN = ("I", "IV", "V", "II")
Numeral = Annotated[str, Meta(pattern=r"^(I|II|III|IV|V|VI|VII)\Z", max_length=3)]


class CadenceChords(Facts, frozen=True, forbid_unknown_fields=True):
    """A melody whose marked notes bear the letters A, B ..., its key, and the chords that may be chosen.

    Raises:
        BadDocument: fewer than two notes are marked, or more than four.
    """

    melody: ScoreDocument
    key: KeyText
    numerals: Annotated[tuple[Numeral, ...], Meta(min_length=2, max_length=7)] = ("I", "II", "IV", "V")
    credit: Line = ""

    def __post_init__(self) -> None:
        count = len(_marked(self))
        if not 2 <= count <= 4:
            raise BadDocument(f"{count} notes of the melody are marked with letters: mark two to four")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    numerals = tuple(numeral for numeral in ROMANS if numeral in scope.triads)
    if len(scope.cadences) < 2 or len(numerals) < 3:
        return None
    for _ in range(_TRIES):
        line = cadence_line(scope, rng, melodies)
        if line is not None:
            facts = CadenceChords(document_of(line.score), line.key.text, numerals, line.credit)
            return Draft(facts, Value(chords=line.meant))
    return None


def _marked(facts: CadenceChords) -> tuple[Note, ...]:
    return tuple(event for event in score_of(facts.melody).events() if isinstance(event, Note) and event.label)


def _names(facts: CadenceChords) -> tuple[NoteName, ...]:
    return tuple(note.pitch.name for note in _marked(facts))


def _letters(facts: CadenceChords) -> str:
    letters = [note.label or "" for note in _marked(facts)]
    return f"{', '.join(letters[:-1])} and {letters[-1]}"


def _pose(facts: CadenceChords, wording: Wording) -> Posed:
    choices = f"{', '.join(facts.numerals[:-1])} or {facts.numerals[-1]}"
    ask = (
        f"The key is {facts.key}. Choose a chord for each note that is marked with a letter ({_letters(facts)}), so "
        f"that the last two chords make a cadence: {choices}. You may add b or c for an inversion."
    )
    score = score_of(facts.melody)
    places = []
    for index, bar in enumerate(score.staves[0].bars):
        notes = [event for event in bar.events if isinstance(event, Note)]
        for number, note in enumerate(notes, 1):
            if note.label:
                places.append(f"{note.label} is the {ordinal(number)} note of bar {score.bar_number(index)}")
    alt = wording.say(f"{spoken_extract(score)} {', '.join(places)}.")
    credit = (TextBlock(facts.credit),) if facts.credit else ()
    blocks = (TextBlock(wording.say(ask)), StaveBlock(facts.melody, alt), *credit)
    return Posed(blocks, ChordsForm(len(_marked(facts))))


def _rows(facts: CadenceChords) -> tuple[tuple[ChordLabel, ...], ...]:
    return workable(_names(facts), Key.parse(facts.key), facts.numerals)


def _value(row: tuple[ChordLabel, ...]) -> Value:
    return Value(chords=tuple(label.text for label in row))


def _text(row: tuple[ChordLabel, ...]) -> str:
    return ", ".join(label.text for label in row)


def _solve(facts: CadenceChords) -> tuple[Answer, ...]:
    found: list[Answer] = []
    for row in _rows(facts):
        if found:
            close = cadence_text(cadence(row[-2], row[-1]) or "perfect")
            why = f"Each chord has its note and leads on well, and the last two make the {close}."
        else:
            held = [f"{name.text} is in {label.text}" for name, label in zip(_names(facts), row, strict=True)]
            why = f"{'; '.join(held)}. {cadence_reason(row[-2], row[-1])}."
        found.append(answer(_value(row), _text(row), why))
    return tuple(found)


def _slips(facts: CadenceChords) -> tuple[Slip, ...]:
    key, names, rows = Key.parse(facts.key), _names(facts), _rows(facts)
    found: list[Slip] = []
    if not rows:
        return ()
    model = rows[0]

    def add(name: str, row: tuple[ChordLabel, ...], remedy: str) -> None:
        said = fault_of(row)
        found.append(slip(name, _value(row), _text(row), remedy if said is None else f"{said}. {remedy}"))

    plain = [[one for one in holding(name, key, facts.numerals) if not one.inversion] for name in names]
    order = {ROMANS.index(numeral) + 1: place for place, numeral in enumerate(_PLAIN)}
    if all(plain):
        each = tuple(min(row, key=lambda one: order.get(one.degree, 9)) for row in plain)
        add("each note by itself, the approach not heard", each, "Choose the last two together: they make the cadence.")
    goal = model[-1]
    before = holding(names[-2], key, (goal.numeral,))
    if before:
        add("a chord that merely stays", (*model[:-2], before[0], goal), "A cadence needs two different chords.")
    if ChordLabel(1, 2) in holding(names[-2], key, facts.numerals) and goal.degree == 1:
        add("Ic not before V", (*model[:-2], ChordLabel(1, 2), goal), "Keep Ic for just before V.")
    if len(model) > 2:
        for degree in (5, 2):
            row = (ChordLabel(degree), *model[1:])
            if names[0] in chord_notes(key, row[0]) and fault_of(row) is not None:
                hint = "Hear the chord before the cadence as well: which way does it lead?"
                add(f"{row[0].text} led the wrong way", row, hint)
    roots = tuple(ChordLabel((name.index - key.tonic.index) % 7 + 1) for name in names)
    add("each note taken for the root", roots, "The note may be root, third or fifth: try each chord that has it.")
    relative = key.relative
    away = workable(names, relative, facts.numerals)
    if away:
        add("thought in the relative key", away[0], f"The key is {key.text}: chord I stands on {key.tonic.text}.")
    return tuple(found)


def _work(facts: CadenceChords, method: str) -> tuple[Step, ...]:
    key, names, notes = Key.parse(facts.key), _names(facts), _marked(facts)
    rows = _rows(facts)
    if not rows:
        return ()
    model, fits, short = rows[0], [], []
    for note, name in zip(notes, names, strict=True):
        numerals = dict.fromkeys(one.numeral for one in holding(name, key, facts.numerals))
        fits.append(f"{name.text}, marked {note.label}: {' or '.join(numerals)}")
        short.append(f"{name.short}: {' '.join(numerals)}")
    ids = tuple(note.id for note in notes if note.id)
    close = cadence(model[-2], model[-1]) or "perfect"
    steps = [
        Step(f"Which chords of {key.text} have each note? {'; '.join(fits)}.", ids, "; ".join(short)),
        Step(
            f"Begin at the end: {cadence_reason(model[-2], model[-1])}.",
            ids[-2:],
            f"{model[-2].text} - {model[-1].text}",
        ),
    ]
    if len(model) > 2:
        said = f"Before that, {' - '.join(label.text for label in model[:-2])} leads to {model[-2].text}."
        steps.append(Step(said, ids[:-2], model[0].text))
    more = f" {len(rows) - 1} other ways work too." if len(rows) > 2 else ""
    named = cadence_text(close)
    article = "an" if named[0] in "aeiou" else "a"
    steps.append(Step(f"Together: {_text(model)}, {article} {named}.{more}", (), _text(model)))
    steps.append(
        Step("Check: does each chord have its note? No V to IV, V to II or II to I, no chord twice, Ic only before V?")
    )
    return tuple(steps)


def _difficulty(facts: CadenceChords) -> float:
    """Three chords, minor, more signs, and few workable ways make it harder (common practice)."""
    key = Key.parse(facts.key)
    return (
        -0.1
        + 0.3 * (len(_marked(facts)) > 2)
        + 0.2 * key.is_minor
        + 0.08 * abs(key.fifths)
        + 0.3 / max(len(_rows(facts)), 1)
    )


def _skill(facts: CadenceChords) -> str:
    rows = _rows(facts)
    close = cadence(rows[0][-2], rows[0][-1]) if rows else None
    return f"cadence-chords/{close} {Key.parse(facts.key).mode}"


KIND = Kind(
    id="cadence-chords",
    topic="chords",
    since=5,
    title="Chords for a cadence",
    facts=CadenceChords,
    forms={"written": "chords", "on-screen": "chords"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("per-item"),
    marks=3,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

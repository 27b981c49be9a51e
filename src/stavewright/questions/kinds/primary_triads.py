"""Tell the primary triads of a key: is the printed chord I, IV or V?"""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, ChordsForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.setting.chord_places import chord_count, close_chords
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.chords import chord_block, chord_stave
from stavewright.questions.solving.chords import chord_work, label_of, label_reason, mislabelled
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import PRIMARY, ROMANS, ChordLabel
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

_LABELS = tuple(ChordLabel(degree) for degree in PRIMARY)
_TRIES = 20


class PrimaryTriads(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, whose signature is printed, and a triad of it in root position, lowest note first."""

    clef: ClefName
    key: Word
    notes: Annotated[tuple[PitchText, ...], Meta(min_length=3, max_length=3)]


def _labels(scope: Scope) -> tuple[ChordLabel, ...]:
    return tuple(label for label in _LABELS if label.numeral in scope.triads)


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    labels = _labels(scope)
    if len(labels) < len(_LABELS):
        return None
    for _ in range(_TRIES):
        clef, key, label = pick_clef(scope, rng), pick_key(scope, rng), rng.choice(labels)
        places = close_chords(scope, clef, key, label) if key is not None else ()
        if key is not None and places:
            notes = tuple(pitch.short for pitch in rng.choice(places))
            return Draft(PrimaryTriads(clef, key.text, notes), label.text)
    return None


def _pose(facts: PrimaryTriads, wording: Wording) -> Posed:
    shown = chord_block(chord_stave(facts.clef, _notes(facts), Key.parse(facts.key).fifths))
    if wording.choosing:
        return Posed((TextBlock(f"The key is {facts.key}. Which of its primary triads is this?"), shown))
    ask = f"The key is {facts.key}. Which of its primary triads is this? Write I, IV or V."
    return Posed((TextBlock(ask), shown), ChordsForm(1, tuple(ROMANS[degree - 1] for degree in PRIMARY)))


def _notes(facts: PrimaryTriads) -> tuple[Pitch, ...]:
    return tuple(Pitch.parse(note) for note in facts.notes)


def _label(facts: PrimaryTriads) -> ChordLabel:
    return label_of(_notes(facts), Key.parse(facts.key))


def _solve(facts: PrimaryTriads) -> tuple[Answer, ...]:
    label = _label(facts)
    return (answer(Value(chords=(label.text,)), label.text, label_reason(label, Key.parse(facts.key))),)


def _slips(facts: PrimaryTriads) -> tuple[Slip, ...]:
    return tuple(
        slip(one.name, Value(chords=(one.label.text,)), one.label.text, one.remedy, steady=one.steady)
        for one in mislabelled(_notes(facts), Key.parse(facts.key), inversions=False)
    )


def _work(facts: PrimaryTriads, method: str) -> tuple[Step, ...]:
    return chord_work(_notes(facts), Key.parse(facts.key), ("n1",), inversions=False)


def _difficulty(facts: PrimaryTriads) -> float:
    """More signs, minor, chords away from the tonic and C clefs make it harder (common practice)."""
    key = Key.parse(facts.key)
    away = _label(facts).degree > 1
    return -1.2 + 0.1 * abs(key.fifths) + 0.3 * key.is_minor + 0.4 * away + 0.2 * (facts.clef in ("alto", "tenor"))


KIND = Kind(
    id="primary-triads",
    topic="chords",
    since=4,
    title="Primary triads",
    facts=PrimaryTriads,
    forms={"written": "chords", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"primary-triads/{_label(facts).text} {Key.parse(facts.key).mode}",
    pool=lambda scope: chord_count(scope, _labels(scope)),
    seconds=25,
    options=lambda facts: tuple(Value(chords=(label.text,)) for label in _LABELS),
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

"""Transpose a short melody by a named interval, with its key signature or with accidentals only."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.transposable import Moved, moved_melodies
from stavewright.questions.showing.extract import own_blocks
from stavewright.questions.showing.rewritten import empty_melody, written_melody
from stavewright.questions.solving.transposing import (
    Version,
    mistaken_versions,
    notes_of,
    signature_of,
    signed_notes,
    transposed,
    version_text,
    written,
)
from stavewright.questions.solving.transposing_work import near_versions, transposing_work
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval
from stavewright.theory.key import signature_text

METHODS = ("usual", "by degree")
_TRIES = 6
_BARS = (2, 4, 4)
_SIGNATURE_SHARE = 0.6
_PLAIN_FROM, _PLAIN_TO = 2, 4
"""Without a signature, a melody is printed in keys of at most two signs and moved to keys of at most four: else nearly
every note would need a sign of its own, which is copying and not transposing (common practice)."""


class TransposeTheMelody(Facts, frozen=True, forbid_unknown_fields=True):
    """The melody as it is printed (its signature or none), the interval and the direction."""

    melody: ScoreDocument
    interval: Annotated[str, Meta(pattern="^(P[145]|[Mm][2367])$", max_length=2)]
    up: bool
    credit: Line = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None or not scope.transpositions:
        return None
    for _ in range(_TRIES):
        extract = melodies.melody(scope, rng, bars=rng.choice(_BARS), provable=False)
        if extract is None:
            continue
        score = replace(extract.score, brackets=())
        fifths = score.staves[0].fifths or 0
        plain = rng.random() > _SIGNATURE_SHARE and abs(fifths) <= _PLAIN_FROM
        if plain:
            score = with_accidentals(replace(score, staves=(replace(score.staves[0], fifths=None),)))
        found = [one for one in moved_melodies(score, scope) if not plain or abs(_new(fifths, one)) <= _PLAIN_TO]
        if found:
            chosen: Moved = rng.choice(found)
            facts = TransposeTheMelody(document_of(score), chosen.interval, chosen.up, extract.credit)
            return Draft(facts, chosen.value)
    return None


def _new(fifths: int, moved: Moved) -> int:
    step = Interval.parse(moved.interval).fifths
    return fifths + (step if moved.up else -step)


def _score(facts: TransposeTheMelody) -> Score:
    return score_of(facts.melody)


def _interval(facts: TransposeTheMelody) -> Interval:
    return Interval.parse(facts.interval)


def _pose(facts: TransposeTheMelody, wording: Wording) -> Posed:
    score = _score(facts)
    way = "up" if facts.up else "down"
    signed = signature_of(score) is not None
    blocks = own_blocks(facts.melody, wording, credit=facts.credit)
    by = f"{way} by a {_interval(facts).text}"
    if wording.choosing:
        return Posed((TextBlock(f"Which answer is this melody transposed {by}?"), *blocks))
    how = "Write the new key signature first." if signed else "Do not use a key signature: write the accidentals."
    values = tuple(dict.fromkeys(note.duration.type for note in notes_of(score)))
    given = document_of(empty_melody(score))
    alt = wording.say("An empty stave with the clef, time signature, bar lines and rests of the melody.")
    form = NotesForm(given, count=len(notes_of(score)), values=values, alt=alt)
    return Posed((TextBlock(wording.say(f"Transpose this melody {by}. {how}")), *blocks), form)


def _versions(facts: TransposeTheMelody) -> tuple[Version, ...]:
    return transposed(_score(facts), _interval(facts), up=facts.up)


def _solve(facts: TransposeTheMelody) -> tuple[Answer, ...]:
    score = _score(facts)
    way = "up" if facts.up else "down"
    right, *others = _versions(facts)
    size = _interval(facts).text
    key = "" if right.fifths is None else f" The new key signature has {signature_text(right.fifths)}."
    found = [answer(written(score, right), version_text(right), f"Every note is moved {way} by a {size}.{key}")]
    for other in others:
        why = f"The same sounds, written with {signature_text(other.fifths or 0)} instead."
        found.append(answer(written(score, other), version_text(other), why))
    return tuple(found)


def _slips(facts: TransposeTheMelody) -> tuple[Slip, ...]:
    score = _score(facts)
    found = []
    for one in mistaken_versions(score, _interval(facts), up=facts.up):
        if all(abs(note.pitch.alter) <= 2 for note in one.notes):
            found.append(slip(one.name, written(score, one), version_text(one), one.remedy, steady=one.steady))
    return tuple(found)


def _neighbours(facts: TransposeTheMelody) -> tuple[Value, ...]:
    return near_versions(_score(facts), _versions(facts)[0])


def _work(facts: TransposeTheMelody, method: str) -> tuple[Step, ...]:
    return transposing_work(
        _score(facts), _versions(facts)[0], _interval(facts), up=facts.up, by_degree=method == "by degree"
    )


def _draw(facts: TransposeTheMelody, value: Value) -> Score:
    return written_melody(_score(facts), value, None)


def _difficulty(facts: TransposeTheMelody) -> float:
    """No signature, notes with own signs, far keys, wide intervals and C clefs make it harder (common practice)."""
    score = _score(facts)
    right = _versions(facts)[0]
    return (
        0.2
        + 0.3 * (right.fifths is None)
        + 0.15 * min(len(signed_notes(score)), 5)
        + 0.06 * abs(right.fifths or 0)
        + 0.05 * _interval(facts).number
        + 0.2 * (score.staves[0].clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="transpose-the-melody",
    topic="transposition",
    since=5,
    title="Transpose the melody",
    facts=TransposeTheMelody,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"transpose-the-melody/{facts.interval} {'up' if facts.up else 'down'}",
    pool=lambda scope: None,
    seconds=240,
    marking=Marking("minus-one-per-fault", values=True, signed=True),
    marks=5,
    draw=_draw,
    neighbours=_neighbours,
    methods=METHODS,
)

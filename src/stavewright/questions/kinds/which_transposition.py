"""Pick the version of a melody that is transposed rightly, or find the one wrong note of a transposed version."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.spoilt_version import spoilt_version
from stavewright.questions.setting.transposable import moved_melodies
from stavewright.questions.showing.extract import own_blocks, spoken_extract
from stavewright.questions.showing.rewritten import written_melody
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
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval, between, ordinal
from stavewright.theory.pitch import Pitch

_TRIES = 8
_SIGNATURE_SHARE = 0.7
_FAULT_SHARE = 0.5
_MOST_SIGNS = 4  # notes with signs that are named as wrong places, those nearest to the fault


class WhichTransposition(Facts, frozen=True, forbid_unknown_fields=True):
    """A melody as it is printed, the interval and the direction; `shown` is a version with one wrong note.

    Without `shown` the right version is to be picked from several.
    """

    melody: ScoreDocument
    interval: Annotated[str, Meta(pattern=r"^(P[145]|[Mm][2367])\Z", max_length=2)]
    up: bool
    shown: ScoreDocument | None = None
    credit: Line = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None or not scope.transpositions:
        return None
    picking = rng.random() > _FAULT_SHARE
    for _ in range(_TRIES):
        extract = melodies.melody(scope, rng, bars=2 if picking else rng.choice((2, 4)), provable=False)
        if extract is None:
            continue
        score = replace(extract.score, brackets=())
        if rng.random() > _SIGNATURE_SHARE:
            score = with_accidentals(replace(score, staves=(replace(score.staves[0], fifths=None),)))
        found = moved_melodies(score, scope)
        if not found:
            continue
        chosen = rng.choice(found)
        facts = WhichTransposition(document_of(score), chosen.interval, chosen.up, credit=extract.credit)
        if picking:
            return Draft(facts, chosen.value)
        spoilt = spoilt_version(score, chosen.value, scope, rng)
        if spoilt is not None:
            shown, place = spoilt
            facts = WhichTransposition(
                facts.melody, facts.interval, facts.up, document_of(shown), credit=extract.credit
            )
            return Draft(facts, Value(places=(place,)))
    return None


def _score(facts: WhichTransposition) -> Score:
    return score_of(facts.melody)


def _interval(facts: WhichTransposition) -> Interval:
    return Interval.parse(facts.interval)


def _by(facts: WhichTransposition) -> str:
    return f"{'up' if facts.up else 'down'} by a {_interval(facts).text}"


def _pose(facts: WhichTransposition, wording: Wording) -> Posed:
    blocks = own_blocks(facts.melody, wording, credit=facts.credit)
    if facts.shown is None:
        return Posed((TextBlock(f"Which answer is this melody transposed {_by(facts)}?"), *blocks))
    ask = (
        f"This melody was transposed {_by(facts)}, but one note of the second version is wrong. "
        "In which bar is it, and which note of that bar is it?"
    )
    version = StaveBlock(facts.shown, wording.say(spoken_extract(score_of(facts.shown))))
    return Posed((TextBlock(wording.say(ask)), *blocks, version), PlacesForm("notes", 1))


def _versions(facts: WhichTransposition) -> tuple[Version, ...]:
    return transposed(_score(facts), _interval(facts), up=facts.up)


def _places(score: Score) -> list[Place]:
    """The bar, and the number in it, of every note of a melody."""
    found: list[Place] = []
    for index, bar in enumerate(score.staves[0].bars):
        notes = [event for event in bar.events if isinstance(event, Note) and event.grace is None]
        found += [Place(score.bar_number(index), number) for number in range(1, len(notes) + 1)]
    return found


def _fault(facts: WhichTransposition, shown: ScoreDocument) -> tuple[int, Version]:
    """Which note of the shown version is wrong, and the right version under the same signature.

    Raises:
        BadDocument: not exactly one note is wrong.
    """
    version = score_of(shown)
    notes = notes_of(version)
    right = next((one for one in _versions(facts) if one.fifths == signature_of(version)), None)
    if right is None or len(right.notes) != len(notes):
        raise BadDocument("the shown version has not the signature and the notes of the melody transposed")
    wrong = [at for at, (a, b) in enumerate(zip(notes, right.notes, strict=True)) if a.pitch != b.pitch]
    if len(wrong) != 1:
        raise BadDocument(f"{len(wrong)} notes of the shown version are wrong, where the question says one is")
    return wrong[0], right


def _sized(old: Pitch, new: Pitch) -> str:
    size = between(old, new).text
    return f"{'an' if size[0] in 'aeiou' else 'a'} {size} {'up' if new.diatonic >= old.diatonic else 'down'}"


def _place_text(place: Place) -> str:
    return f"bar {place.bar}, {ordinal(place.note or 1)} note"


def _solve(facts: WhichTransposition) -> tuple[Answer, ...]:
    score = _score(facts)
    if facts.shown is None:
        why = f"Every note is moved {_by(facts)}."
        return tuple(answer(written(score, one), version_text(one), why) for one in _versions(facts))
    at, right = _fault(facts, facts.shown)
    old, new = notes_of(score)[at].pitch, notes_of(score_of(facts.shown))[at].pitch
    place = _places(score)[at]
    why = (
        f"From {old.name.text} to {new.name.text} is {_sized(old, new)}; moved {_by(facts)} it is "
        f"{right.notes[at].pitch.name.text}."
    )
    return (answer(Value(places=(place,)), _place_text(place), why),)


def _slips(facts: WhichTransposition) -> tuple[Slip, ...]:
    if facts.shown is not None:
        return _wrong_places(facts, facts.shown)
    score = _score(facts)
    return tuple(
        slip(one.name, written(score, one), version_text(one), one.remedy, steady=one.steady)
        for one in mistaken_versions(score, _interval(facts), up=facts.up)
        if all(abs(note.pitch.alter) <= 2 for note in one.notes)
    )


def _wrong_places(facts: WhichTransposition, shown: ScoreDocument) -> tuple[Slip, ...]:
    score, version = _score(facts), score_of(shown)
    at, _ = _fault(facts, shown)
    places = _places(score)
    found: list[Slip] = []

    def add(name: str, place: Place, remedy: str) -> None:
        found.append(slip(name, Value(places=(place,)), _place_text(place), remedy))

    signed = [index for index, note in enumerate(notes_of(version)) if note.accidental is not None and index != at]
    for index in sorted(sorted(signed, key=lambda index: abs(index - at))[:_MOST_SIGNS]):
        hint = "A sign may be right: measure the interval from the first version to the second."
        add("any sign taken for a fault", places[index], hint)
    for index in (at - 1, at + 1):
        if 0 <= index < len(places):
            hint = "Count the notes of the bar again; the first note of each bar is 1."
            add("counted one note off", places[index], hint)
    if score.anacrusis and places[at].bar:
        hint = "The upbeat is not counted: bar 1 is the first whole bar."
        add("upbeat counted as a bar", Place(places[at].bar + 1, places[at].note), hint)
    return tuple(found)


def _neighbours(facts: WhichTransposition) -> tuple[Value, ...]:
    return near_versions(_score(facts), _versions(facts)[0]) if facts.shown is None else ()


def _work(facts: WhichTransposition, method: str) -> tuple[Step, ...]:
    if facts.shown is None:
        steps = transposing_work(_score(facts), _versions(facts)[0], _interval(facts), up=facts.up)
        return (
            *steps[:-1],
            Step("Cross off every answer that has another signature or another first note."),
            steps[-1],
        )
    at, right = _fault(facts, facts.shown)
    old, new = notes_of(_score(facts))[at], notes_of(score_of(facts.shown))[at]
    size, way = _interval(facts), "up" if facts.up else "down"
    first, moved = notes_of(_score(facts))[0].pitch.name, right.notes[0].pitch.name
    return (
        Step(f"The first note, {first.text}, goes {way} by a {size.text} to {moved.text}.", (), size.short),
        Step("Compare note by note: the lines must run alike, and each pair must be the same interval.", (), ""),
        Step(
            f"In {_place_text(_places(_score(facts))[at])} {old.pitch.name.text} has become {new.pitch.name.text}: "
            f"{_sized(old.pitch, new.pitch)}.",
            tuple(one.id for one in (old, new) if one.id),
            between(old.pitch, new.pitch).short,
        ),
        Step(f"It should be {right.notes[at].pitch.name.text}.", (), right.notes[at].pitch.name.short),
        Step(_check(facts, right, size)),
    )


def _check(facts: WhichTransposition, right: Version, size: Interval) -> str:
    """What to look at once more: notes with signs of their own, where there are any, or the last pair."""
    score = _score(facts)
    if signed_notes(score):
        return "Check the notes with signs of their own once more: a raised note must stay a raised note."
    last, end = notes_of(score)[-1].pitch.name.text, right.notes[-1].pitch.name.text
    return f"Check the last pair as well: {last} to {end} must be a {size.text}."


def _draw(facts: WhichTransposition, value: Value) -> Score:
    if facts.shown is not None and value.notes is None:
        return score_of(facts.shown)
    return written_melody(_score(facts), value, None)


def _difficulty(facts: WhichTransposition) -> float:
    """Finding a fault, no signature, notes with own signs, C clefs and wide intervals (common practice)."""
    score = _score(facts)
    return (
        -0.4
        + 0.3 * (facts.shown is not None)
        + 0.2 * (signature_of(score) is None)
        + 0.1 * min(len(signed_notes(score)), 5)
        + 0.05 * _interval(facts).number
        + 0.2 * (score.staves[0].clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="which-transposition",
    topic="transposition",
    since=5,
    title="Which version is transposed rightly?",
    facts=WhichTransposition,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"which-transposition/{'fault' if facts.shown is not None else 'version'} {facts.interval}",
    pool=lambda scope: None,
    seconds=90,
    marks=2,
    draw=_draw,
    neighbours=_neighbours,
)

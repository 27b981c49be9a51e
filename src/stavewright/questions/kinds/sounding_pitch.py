"""Write a part at the pitch that sounds, or the part that a transposing player must read."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument, Word
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.players import players
from stavewright.questions.setting.transposable import moved_melody
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
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.instrument import INSTRUMENTS, Instrument
from stavewright.theory.interval import Interval
from stavewright.theory.key import signature_text

_TRIES = 8
_SIGNATURE_SHARE = 0.6
_OCTAVE_SHARE = 0.2
# Horn parts are often printed without a signature (common practice).
_UNSIGNED = frozenset({"horn in F"})


class SoundingPitch(Facts, frozen=True, forbid_unknown_fields=True):
    """A melody as it is printed, for a transposing instrument; `to` says which is to be written.

    `to` is "sounding" (the printed part is to be written as it sounds) or "part" (the printed sounds are to be written
    as the player's part).

    Raises:
        BadDocument: the instrument is unknown or does not transpose.
    """

    melody: ScoreDocument
    instrument: Word
    to: Annotated[str, Meta(pattern=r"^(sounding|part)\Z", max_length=8)]
    credit: Line = ""

    def __post_init__(self) -> None:
        one = INSTRUMENTS.get(self.instrument)
        if one is None or one.transposes is None:
            raise BadDocument(f"{self.instrument!r} is no transposing instrument")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    everyone = [one for one in players(scope, octaves=True) if one.transposes is not None]
    if melodies is None or not everyone:
        return None
    moving = [one for one in everyone if one.transposes is not None and one.transposes.number != 8]
    octave = [one for one in everyone if one not in moving and one.limits is not None]
    for _ in range(_TRIES):
        player = rng.choice(octave if octave and rng.random() < _OCTAVE_SHARE else moving)
        to = rng.choice(("sounding", "part"))
        clef = next((clef for clef in player.clefs if clef in scope.clefs), None)
        extract = None if clef is None else melodies.melody(scope, rng, bars=2, clef=clef, provable=False)
        if extract is None or player.transposes is None:
            continue
        score = replace(extract.score, brackets=())
        if player.name in _UNSIGNED or rng.random() > _SIGNATURE_SHARE:
            score = with_accidentals(replace(score, staves=(replace(score.staves[0], fifths=None),)))
        up = player.sounds_higher if to == "sounding" else not player.sounds_higher
        value = moved_melody(score, scope, player.transposes, up=up)
        if value is not None and _playable(player, score, to):
            return Draft(SoundingPitch(document_of(score), player.name, to, extract.credit), value)
    return None


def _playable(player: Instrument, score: Score, to: str) -> bool:
    """Whether every note that sounds lies within the instrument's limits, where they are known."""
    printed = [event.pitch for event in score.events() if isinstance(event, Note)]
    heard = [player.sounding(pitch) for pitch in printed] if to == "sounding" else printed
    return all(player.can_play(pitch) is not False for pitch in heard)


def _score(facts: SoundingPitch) -> Score:
    return score_of(facts.melody)


def _player(facts: SoundingPitch) -> Instrument:
    return INSTRUMENTS[facts.instrument]


def _interval(facts: SoundingPitch) -> Interval:
    found = _player(facts).transposes
    if found is None:
        raise BadDocument(f"the {facts.instrument} does not transpose")
    return found


def _up(facts: SoundingPitch) -> bool:
    return _player(facts).sounds_higher is (facts.to == "sounding")


def _pose(facts: SoundingPitch, wording: Wording) -> Posed:
    score, player = _score(facts), _player(facts)
    blocks = own_blocks(facts.melody, wording, credit=facts.credit)
    rule = f"The {player.name} {player.transposition_text}."
    if facts.to == "sounding":
        head, what = f"This is a part for the {player.name}. {rule}", "as it sounds (at concert pitch)"
    else:
        head, what = f"These notes are to sound on the {player.name}. {rule}", f"as the part for the {player.name}"
    if wording.choosing:
        return Posed((TextBlock(wording.say(f"{head} Which answer has the music {what}?")), *blocks))
    signed = signature_of(score) is not None
    how = "Write the key signature first." if signed else "Do not use a key signature: write the accidentals."
    values = tuple(dict.fromkeys(note.duration.type for note in notes_of(score)))
    alt = wording.say("An empty stave with the clef, time signature, bar lines and rests of the music.")
    form = NotesForm(document_of(empty_melody(score)), count=len(notes_of(score)), values=values, alt=alt)
    return Posed((TextBlock(wording.say(f"{head} Write the music {what}. {how}")), *blocks), form)


def _versions(facts: SoundingPitch) -> tuple[Version, ...]:
    found = transposed(_score(facts), _interval(facts), up=_up(facts))
    return found if _interval(facts).fifths else found[:1]


def _solve(facts: SoundingPitch) -> tuple[Answer, ...]:
    score, player = _score(facts), _player(facts)
    right, *others = _versions(facts)
    way = "up" if _up(facts) else "down"
    key = "" if right.fifths is None else f" The key signature has {signature_text(right.fifths)}."
    why = (
        f"The {player.name} {player.transposition_text}: every note moves {way} by a {_interval(facts).text}."
        if _interval(facts).fifths
        else f"The {player.name} {player.transposition_text}: every note moves {way} by an octave."
    )
    found = [answer(written(score, right), version_text(right), why + key)]
    for other in others:
        reason = f"The same sounds, written with {signature_text(other.fifths or 0)} instead."
        found.append(answer(written(score, other), version_text(other), reason))
    return tuple(found)


def _slips(facts: SoundingPitch) -> tuple[Slip, ...]:
    score, player = _score(facts), _player(facts)
    found: list[Slip] = []
    kept = Version("left as it stands", signature_of(score), notes_of(score))
    octave = "An octave instrument moves too: by a whole octave." if not _interval(facts).fifths else ""
    hint = octave or f"The {player.name} {player.transposition_text}: every note must move."
    found.append(slip(kept.name, written(score, kept), version_text(kept), hint))
    for one in mistaken_versions(score, _interval(facts), up=_up(facts)):
        if all(abs(note.pitch.alter) <= 2 for note in one.notes):
            remedy = _direction(facts) if one.name == "wrong direction" else one.remedy
            found.append(slip(one.name, written(score, one), version_text(one), remedy, steady=one.steady))
    if _interval(facts).fifths:
        right = _versions(facts)[0]
        way = 1 if _up(facts) else -1
        moved = tuple(replace(note, pitch=note.pitch.shifted(way)) for note in right.notes)
        wide = Version("an octave too far", right.fifths, moved)
        hint = f"Move by a {_interval(facts).text} only."
        found.append(slip(wide.name, written(score, wide), version_text(wide), hint, steady=True))
    return tuple(found)


def _direction(facts: SoundingPitch) -> str:
    """The remedy for the wrong direction."""
    sounds = "higher" if _player(facts).sounds_higher else "lower"
    other = "lower" if _player(facts).sounds_higher else "higher"
    if facts.to == "sounding":
        return f"It sounds {sounds} than written: the notes you write must be {sounds} than the part."
    return f"It sounds {sounds} than written, so the part must be written {other} than it sounds."


def _neighbours(facts: SoundingPitch) -> tuple[Value, ...]:
    return near_versions(_score(facts), _versions(facts)[0])


def _work(facts: SoundingPitch, method: str) -> tuple[Step, ...]:
    player = _player(facts)
    way = "up" if _up(facts) else "down"
    what = "To write what sounds" if facts.to == "sounding" else "To write the part"
    first = Step(
        f"The {player.name} {player.transposition_text}. {what}, move every note {way}.",
        (),
        f"{_interval(facts).short} {way}",
    )
    steps = transposing_work(_score(facts), _versions(facts)[0], _interval(facts), up=_up(facts))
    return (first, *steps)


def _draw(facts: SoundingPitch, value: Value) -> Score:
    return written_melody(_score(facts), value, None)


def _difficulty(facts: SoundingPitch) -> float:
    """Writing the part, no signature, notes with own signs, far keys and wide intervals (common practice)."""
    right = _versions(facts)[0]
    wide = 0.05 * _interval(facts).number if _interval(facts).fifths else 0.0
    return (
        0.0
        + 0.2 * (facts.to == "part")
        + 0.2 * (right.fifths is None)
        + 0.15 * min(len(signed_notes(_score(facts))), 5)
        + 0.06 * abs(right.fifths or 0)
        + wide
    )


KIND = Kind(
    id="sounding-pitch",
    topic="transposition",
    since=5,
    title="Written and sounding pitch",
    facts=SoundingPitch,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"sounding-pitch/{_interval(facts).short} to {facts.to}",
    pool=lambda scope: None,
    seconds=150,
    marking=Marking("minus-one-per-fault", values=True, signed=True),
    marks=4,
    draw=_draw,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"instrument:{facts.instrument}"}),
)

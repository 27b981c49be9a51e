"""Name an interval by number and quality: above the tonic, then between any two notes, then compound."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths, Word
from stavewright.questions.setting.interval_pairs import above_tonic, anywhere, pair_count
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.showing.two_notes import notes_block, two_notes
from stavewright.questions.solving.intervals import (
    METHODS,
    Misread,
    interval_answers,
    interval_neighbours,
    interval_slips,
    interval_work,
    split_name,
)
from stavewright.questions.solving.scale_rows import OTHER_CLEFS
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.interval import between
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose


class NameTheInterval(Facts, frozen=True, forbid_unknown_fields=True):
    """Two notes as they sound, in the order they are printed, under a clef and perhaps a signature.

    `key` is named when the lower note is a tonic; `wide` says that compound intervals may be asked.
    """

    clef: ClefName
    first: PitchText
    second: PitchText
    together: bool
    key: Word | None = None
    fifths: Fifths | None = None
    wide: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng) if scope.intervals.above_tonic else None
    found = anywhere(scope, rng) if key is None else above_tonic(scope, rng, key)
    if found is None:
        return None
    clef, interval, low = found
    high = transpose(low, interval)
    together = interval.number > 1 and rng.random() < 0.5
    fifths = key.fifths if key is not None and rng.random() < 0.5 else None
    notes = [low.short, high.short]
    if key is None and not together and rng.random() < 0.4:
        notes.reverse()
    facts = NameTheInterval(
        clef, notes[0], notes[1], together, key.text if key else None, fifths, scope.intervals.compound
    )
    return Draft(facts, interval.text)


def _pose(facts: NameTheInterval, wording: Wording) -> Posed:
    score = two_notes(
        facts.clef, Pitch.parse(facts.first), Pitch.parse(facts.second), together=facts.together, fifths=facts.fifths
    )
    said = f"The key is {facts.key}, and the lower note is its tonic. " if facts.key else ""
    wide = " If it is wider than an octave, your answer must show that." if facts.wide else ""
    if wording.choosing:
        return Posed((TextBlock(f"{said}Which interval is this?{wide}"), notes_block(score)))
    ask = f"{said}Name this interval: give its number and its quality.{wide}"
    return Posed((TextBlock(ask), notes_block(score)), WordsForm("phrase"))


def _notes(facts: NameTheInterval) -> tuple[Pitch, Pitch]:
    return Pitch.parse(facts.first), Pitch.parse(facts.second)


def _bare(pitch: Pitch, fifths: int) -> Pitch:
    """The note as its line or space and a signature alone make it."""
    return pitch.altered(signature_alter(fifths, pitch.step) - pitch.alter)


def _under(pitch: Pitch, clef: str, other: str, fifths: int) -> Pitch:
    """The note that the same line or space is in another clef, the printed sign or the signature on it."""
    moved = CLEFS[other].pitch_at(CLEFS[clef].place(pitch))
    plain = pitch.alter == signature_alter(fifths, pitch.step)
    return moved.altered(signature_alter(fifths, moved.step) if plain else pitch.alter)


def _misread(facts: NameTheInterval) -> tuple[Misread, ...]:
    first, second = _notes(facts)
    found: list[Misread] = []
    fifths = facts.fifths or 0
    if fifths:
        kept = [p if p.alter != signature_alter(fifths, p.step) else _bare(p, 0) for p in (first, second)]
        hint = "Read the key signature first: it changes notes all along the line."
        found.append(Misread("signature forgotten", kept[0], kept[1], hint, steady=True))
    found.append(
        Misread(
            "signs left out",
            _bare(first, fifths),
            _bare(second, fifths),
            "A sharp or flat changes the quality: read the signs before the notes.",
        )
    )
    for other in OTHER_CLEFS[facts.clef]:
        moved = [_under(p, facts.clef, other, fifths) for p in (first, second)]
        hint = f"This is the {facts.clef} clef: name both notes before you count."
        found.append(Misread(f"read in the {other} clef", moved[0], moved[1], hint, steady=True))
    return tuple(found)


def _work(facts: NameTheInterval, method: str) -> tuple[Step, ...]:
    return interval_work(*_notes(facts), ("n1",) if facts.together else ("n1", "n2"), method)


def _slips(facts: NameTheInterval) -> tuple[Slip, ...]:
    return interval_slips(*_notes(facts), _misread(facts))


def _solve(facts: NameTheInterval) -> tuple[Answer, ...]:
    return interval_answers(*_notes(facts))


def _neighbours(facts: NameTheInterval) -> tuple[Value, ...]:
    return interval_neighbours(*_notes(facts))


def _difficulty(facts: NameTheInterval) -> float:
    """Altered and compound intervals, signs and C clefs make it harder, a named tonic easier (common practice)."""
    first, second = _notes(facts)
    interval = between(first, second)
    signs = abs(first.alter) + abs(second.alter)
    return (
        -0.6
        - 0.4 * (facts.key is not None)
        + 0.6 * (interval.quality[0] in "Ad")
        + 0.4 * interval.is_compound
        + 0.1 * (interval.simple.number > 5)
        + 0.15 * signs
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


def _skill(facts: NameTheInterval) -> str:
    interval = between(*_notes(facts))
    return f"name-the-interval/{interval.short if not interval.is_compound else f'compound {interval.simple.short}'}"


def _pool(scope: Scope) -> int:
    """Above a tonic: together or not, signature or not; else together, rising or falling (no unison is together)."""
    if scope.intervals.above_tonic:
        return 4 * pair_count(scope)
    return 3 * pair_count(scope) - pair_count(scope, unisons=True)


def _shows(facts: NameTheInterval) -> frozenset[str]:
    return frozenset({f"signature:{facts.key}"}) if facts.key and facts.fifths is not None else frozenset()


KIND = Kind(
    id="name-the-interval",
    topic="intervals",
    since=3,
    title="Name the interval",
    facts=NameTheInterval,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=_pool,
    seconds=30,
    marking=Marking("gated", split=split_name),
    marks=2,
    neighbours=_neighbours,
    shows=_shows,
    methods=METHODS,
)

"""Name the key of a tonic triad in root position."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.setting.chord_places import chord_count, close_chords
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.chords import chord_block, chord_stave
from stavewright.questions.solving.scale_rows import OTHER_CLEFS
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ChordLabel, key_of_triad
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import UnknownChordError, UnknownKeyError
from stavewright.theory.interval import between
from stavewright.theory.key import MOST_SIGNS, Key, key_of, signature_alter
from stavewright.theory.pitch import NoteName, Pitch

_TONIC = ChordLabel(1)
_TRIES = 20


class NameTheTonicTriad(Facts, frozen=True, forbid_unknown_fields=True):
    """Three notes as they sound, lowest first, under a clef and perhaps a signature; whether minor keys are known."""

    clef: ClefName
    notes: Annotated[tuple[PitchText, ...], Meta(min_length=3, max_length=3)]
    fifths: Fifths | None = None
    minors: bool = True


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        clef, key = pick_clef(scope, rng), pick_key(scope, rng)
        places = close_chords(scope, clef, key, _TONIC) if key is not None else ()
        if key is not None and places:
            notes = tuple(pitch.short for pitch in rng.choice(places))
            fifths = key.fifths if key.fifths and rng.random() < 0.5 else None
            minors = any(one.is_minor for one in scope.keys)
            return Draft(NameTheTonicTriad(clef, notes, fifths, minors), key.text)
    return None


def _pose(facts: NameTheTonicTriad, wording: Wording) -> Posed:
    shown = chord_block(chord_stave(facts.clef, _notes(facts), facts.fifths))
    if wording.choosing:
        return Posed((TextBlock("Of which key is this the tonic triad?"), shown))
    ask = f"This is a tonic triad. Name its key{': say whether it is major or minor' if facts.minors else ''}."
    return Posed((TextBlock(ask), shown), WordsForm("word"))


def _notes(facts: NameTheTonicTriad) -> tuple[Pitch, ...]:
    return tuple(Pitch.parse(note) for note in facts.notes)


def _key(facts: NameTheTonicTriad) -> Key:
    """The key whose tonic triad the notes make.

    Raises:
        UnknownChordError: they make none.
    """
    key = key_of_triad(_notes(facts))
    if key is None:
        raise UnknownChordError(f"{', '.join(facts.notes)} is no tonic triad", right="use a major or minor triad")
    return key


def _solve(facts: NameTheTonicTriad) -> tuple[Answer, ...]:
    key = _key(facts)
    root, third, _ = _notes(facts)
    why = (
        f"The lowest note of a triad in root position is its root, {root.name.text}, and a {between(root, third).text} "
        f"above it stands {third.name.text}: {key.text}."
    )
    return (answer(Value(words=key.text), key.text, why),)


def _named(tonic: NoteName, mode: str) -> Key | None:
    try:
        return Key(tonic, mode)
    except UnknownKeyError:
        return None


def _slips(facts: NameTheTonicTriad) -> tuple[Slip, ...]:
    key = _key(facts)
    root, third, top = _notes(facts)
    third_up = "Look at the third: four semitones above the root it is major, three minor."
    other = "minor for major" if key.mode == "major" else "major for minor"
    alone = None if facts.fifths is None else key_of(facts.fifths, "major")
    wrong: list[tuple[str, Key | None, str, bool]] = [
        (other, _named(key.tonic, "minor" if key.mode == "major" else "major"), third_up, False),
        (
            "key read from the signature alone",
            alone,
            "The signature is shared by two keys: the lowest note of the chord tells which.",
            False,
        ),
        ("top note named", _named(top.name, key.mode), "In root position the lowest note names the chord.", False),
        ("middle note named", _named(third.name, key.mode), "In root position the lowest note names the chord.", False),
    ]
    signs = _named(NoteName(root.step, 0), key.mode)
    wrong.append(("sign of the root left out", signs, "The sign belongs to the name of the key.", False))
    for clef in OTHER_CLEFS[facts.clef]:
        moved = CLEFS[clef].pitch_at(CLEFS[facts.clef].place(root))
        plain = root.alter == signature_alter(facts.fifths or 0, root.step)
        alter = signature_alter(facts.fifths or 0, moved.step) if plain else root.alter
        hint = f"This is the {facts.clef} clef: name the lowest note again."
        wrong.append((f"read in the {clef} clef", _named(NoteName(moved.step, alter), key.mode), hint, True))
    return tuple(
        slip(name, Value(words=one.text), one.text, remedy, steady=steady)
        for name, one, remedy, steady in wrong
        if one is not None and (facts.minors or not one.is_minor)
    )


def _work(facts: NameTheTonicTriad, method: str) -> tuple[Step, ...]:
    key = _key(facts)
    notes = _notes(facts)
    root, third, _ = notes
    size = between(root, third)
    return (
        Step(f"Name the notes from the lowest up: {', '.join(n.name.text for n in notes)}.", ("n1",),
             " ".join(n.name.short for n in notes)),
        Step(f"They are a third and a third apart, so the lowest note, {root.name.text}, is the tonic.", ("n1",),
             root.name.short),
        Step(f"From {root.name.text} to {third.name.text} there are {size.semitones} semitones: a {size.text}, "
             f"so the key is {key.mode}.", (), size.short),
        Step(f"The key is {key.text}. Check: do all three notes belong to that key?", (), key.short),
    )  # fmt: skip


def _neighbours(facts: NameTheTonicTriad) -> tuple[Value, ...]:
    """Keys a fifth or two away in either mode, and the keys of the other mode on the upper notes."""
    key = _key(facts)
    other = "minor" if key.mode == "major" else "major"
    near = [key.fifths + step for step in (-1, 1, -2, 2) if abs(key.fifths + step) <= MOST_SIGNS]
    found = [key_of(fifths, mode) for mode in (other, key.mode) for fifths in near]
    upper = [_named(pitch.name, other) for pitch in _notes(facts)[1:]]
    every = [*(one for one in upper if one is not None), *found]
    return tuple(Value(words=one.text) for one in every if facts.minors or not one.is_minor)


def _pool(scope: Scope) -> int:
    """Every place of every triad, with its signature or without where there is one."""
    signed = tuple(key for key in scope.keys if key.fifths)
    return chord_count(scope, (_TONIC,)) + chord_count(scope, (_TONIC,), signed)


def _difficulty(facts: NameTheTonicTriad) -> float:
    """More signs, a minor key and C clefs make it harder (common practice)."""
    key = _key(facts)
    return -1.5 + 0.15 * abs(key.fifths) + 0.4 * key.is_minor + 0.2 * (facts.clef in ("alto", "tenor"))


KIND = Kind(
    id="name-the-tonic-triad",
    topic="chords",
    since=1,
    title="Name the key of a tonic triad",
    facts=NameTheTonicTriad,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"name-the-tonic-triad/{_key(facts).text}",
    pool=_pool,
    seconds=20,
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"signature:{_key(facts).text}"} if facts.fifths is not None else ()),
)

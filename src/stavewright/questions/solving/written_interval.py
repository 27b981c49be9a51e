"""Finding the note that makes a wanted interval: the right ones, the mistaken ones, and the working."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stavewright.questions.documents import Step
from stavewright.questions.solving.intervals import METHODS, semitones_text
from stavewright.questions.solving.scale_rows import OTHER_CLEFS
from stavewright.questions.values import Value
from stavewright.theory.clef import CLEFS, place_text
from stavewright.theory.enharmonic import twin_pitches
from stavewright.theory.errors import StavewrightError
from stavewright.theory.interval import Interval, between, ordinal
from stavewright.theory.key import Key, signature_alter
from stavewright.theory.pitch import STEPS, Pitch
from stavewright.theory.scale import scale_names

__all__ = [
    "METHODS",
    "Mistaken",
    "Wanted",
    "by_letters",
    "mistaken",
    "split_note",
    "targets",
    "written_text",
    "written_work",
]

_OTHER = {"M": "m", "m": "M", "P": "d", "A": "P", "d": "P"}
_LOWEST, _HIGHEST = -8, 16
_SIGNS = {-2: "a double flat", -1: "a flat", 0: "a natural", 1: "a sharp", 2: "a double sharp"}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be written: an interval of a number and quality ("" for any of the key) from a given note."""

    clef: str
    given: Pitch
    number: int
    quality: str
    below: bool
    key: Key | None
    fifths: int


@dataclass(frozen=True, slots=True)
class Mistaken:
    """A wrong note, the wrong rule that gives it, and what to say to the pupil."""

    name: str
    pitch: Pitch
    remedy: str
    steady: bool = False


def by_letters(wanted: Wanted, extra: int = 0) -> Pitch:
    """The line or space that the number leads to, with no sign; `extra` counts so many letters too far."""
    away = wanted.number - 1 + extra
    return Pitch.from_diatonic(wanted.given.diatonic + (-away if wanted.below else away))


def targets(wanted: Wanted) -> tuple[tuple[Pitch, str], ...]:
    """Every right note with its reason, the usual one first."""
    bare = by_letters(wanted)
    if wanted.quality:
        found = _with_quality(wanted.given, bare, wanted.quality, wanted.number)
        text = Interval(wanted.quality, wanted.number).text
        name = f"{'an' if text.startswith('a') else 'a'} {text}"
        side = "below" if wanted.below else "above"
        return ((found, f"{found.name.text} is the note {name} {side} {wanted.given.name.text}."),)
    if wanted.key is None:
        return ((bare, f"{bare.step} is letter {wanted.number}."),)
    forms = ("harmonic minor", "melodic minor", "natural minor") if wanted.key.is_minor else ("major",)
    right: dict[Pitch, str] = {}
    for form in forms:
        home = scale_names(wanted.key.tonic, form)[(wanted.number - 1) % 7]
        which = f" in its {form.removesuffix(' minor')} form" if len(forms) > 1 and wanted.number in (6, 7) else ""
        why = f"The {ordinal(wanted.number)} note of {wanted.key.text}{which} is {home.text}."
        right.setdefault(bare.altered(home.alter), why)
    return tuple(right.items())


def _with_quality(given: Pitch, bare: Pitch, quality: str, number: int) -> Pitch:
    """Try each sign on the letter until the interval is the wanted one."""
    want = Interval(quality, number)
    for alter in (0, -1, 1, -2, 2, -3, 3):
        if between(given, bare.altered(alter)) == want:
            return bare.altered(alter)
    raise StavewrightError(
        f"no sign makes {bare.step} a {want.text} from {given.short}", right="use a given note with fewer signs"
    )


def mistaken(wanted: Wanted) -> tuple[Mistaken, ...]:
    """The notes that known wrong rules write; those beyond double signs or far off the stave are left out."""
    clef = CLEFS[wanted.clef]
    return tuple(
        one for one in _mistaken(wanted) if abs(one.pitch.alter) <= 2 and _LOWEST <= clef.place(one.pitch) <= _HIGHEST
    )


def _mistaken(wanted: Wanted) -> Iterator[Mistaken]:
    right = targets(wanted)[0][0]
    plain = right.altered(signature_alter(wanted.fifths, right.step) - right.alter)
    count = "Call the given note 1, then count each letter once."
    far = by_letters(wanted, 1)
    yield Mistaken("counted the gap", far.altered(_usual_alter(wanted, far)), count)
    if right != plain:
        yield Mistaken("sign left out", plain, "The letter is right: now ask whether it needs a sharp or a flat.")
    if wanted.quality:
        other = _other_quality(wanted, right)
        if other is not None:
            hint = "Check the quality by the major scale of the lower note."
            yield Mistaken("another quality", other, hint)
    if right.alter:
        yield Mistaken("sign the wrong way", right.altered(-2 * right.alter), "Is the note too high or too low?")
    for twin in twin_pitches(right, 1)[:1]:
        hint = "It sounds right, but the letter decides the number: count the letters."
        yield Mistaken("another letter, same sound", twin, hint)
    back = wanted.given.diatonic - (right.diatonic - wanted.given.diatonic)
    turned = Pitch.from_diatonic(back)
    side = "below" if wanted.below else "above"
    hint = f"The new note goes {side} the given one."
    yield Mistaken("wrong direction", turned.altered(_usual_alter(wanted, turned)), hint)
    short = by_letters(wanted, -1)
    if short.diatonic != wanted.given.diatonic:
        yield Mistaken("counted the first note twice", short.altered(_usual_alter(wanted, short)), count)
    if wanted.quality and not wanted.fifths:
        yield from _other_clefs(wanted, right)


def _usual_alter(wanted: Wanted, pitch: Pitch) -> int:
    """The sign that the key, or else the major scale of the lower note, gives to a letter."""
    if wanted.key is not None:
        return wanted.key.alter_of(pitch.step)
    low, high = (wanted.given, pitch) if pitch.diatonic > wanted.given.diatonic else (pitch, wanted.given)
    if low == pitch:
        return signature_alter(wanted.fifths, pitch.step)
    return scale_names(low.name, "major")[(high.diatonic - low.diatonic) % 7].alter


def _other_quality(wanted: Wanted, right: Pitch) -> Pitch | None:
    quality = _OTHER[wanted.quality]
    for name in (quality, "M" if quality == "P" else "m"):
        try:
            return _with_quality(wanted.given, right, name, wanted.number)
        except StavewrightError:
            continue
    return None


def _other_clefs(wanted: Wanted, right: Pitch) -> Iterator[Mistaken]:
    here = CLEFS[wanted.clef]
    for other in OTHER_CLEFS[wanted.clef]:
        clef = CLEFS[other]
        given = clef.pitch_at(here.place(wanted.given), wanted.given.alter)
        bare = clef.pitch_at(here.place(right))
        try:
            meant = _with_quality(given, bare, wanted.quality, wanted.number)
        except StavewrightError:
            continue
        hint = f"This is the {wanted.clef} clef: name the given note before you count."
        yield Mistaken(f"read in the {other} clef", right.altered(meant.alter - right.alter), hint, steady=True)


def split_note(value: Value) -> tuple[str, str]:
    """The line or space of the first written note, and the sign before it, for gated marking.

    >>> from stavewright.questions.values import WrittenNote
    >>> split_note(Value(notes=(WrittenNote("B", octave=4, accidental="flat"),)))
    ('B4', 'flat')
    """
    for note in value.notes or ():
        return f"{note.step}{note.octave}", note.accidental or ""
    return "", ""


def written_text(pitch: Pitch, clef: str) -> str:
    """A written note in words, by name and place.

    >>> written_text(Pitch("B", -1, 4), "treble")
    'B flat, on the 3rd line'
    """
    place = CLEFS[clef].place(pitch)
    return f"{pitch.name.text}, {'in' if place % 2 else 'on'} {place_text(place)}"


def written_work(wanted: Wanted, method: str) -> tuple[Step, ...]:
    """The worked note: letter first, then its sign."""
    right = targets(wanted)[0][0]
    way = -1 if wanted.below else 1
    letters = [STEPS[(wanted.given.diatonic + way * n) % 7] for n in range(wanted.number)]
    side = "down" if wanted.below else "up"
    steps = [
        Step(
            f"Call {letters[0]} 1 and count {side} to {wanted.number}: {', '.join(letters)}. "
            f"The letter is {letters[-1]}.",
            (),
            f"{letters[0]} = 1, {letters[-1]} = {wanted.number}",
        )
    ]
    if not wanted.quality:
        home = wanted.key.text if wanted.key else "the key"
        steps.append(Step(f"In {home} that letter is {right.name.text}.", (), right.name.short))
    elif method == "by semitones" or wanted.below or abs(wanted.given.name.fifths) > 7:
        steps += _by_semitones(wanted, right)
    else:
        steps += _by_scale(wanted, right)
    steps.append(Step(_sign_said(wanted, right), (), right.name.short))
    if wanted.quality:
        size = Interval(wanted.quality, wanted.number).semitones
        steps.append(Step(f"Check: count the semitones between the two notes, {size} in all.", (), str(size)))
    else:
        steps.append(Step(f"Check: the given note is 1, your note is {wanted.number}.", (), ""))
    return tuple(steps)


def _by_scale(wanted: Wanted, right: Pitch) -> Iterator[Step]:
    home = scale_names(wanted.given.name, "major")[(wanted.number - 1) % 7]
    kept = between(wanted.given, right.altered(home.alter - right.alter))
    scale = f"{wanted.given.name.text} major"
    yield Step(f"In {scale} that letter is {home.text}: a {kept.text}.", (), f"{wanted.given.name.short}: {home.short}")
    apart = right.alter - home.alter
    name = Interval(wanted.quality, wanted.number).text
    if apart:
        more = "wider" if apart > 0 else "narrower"
        said = f"A {name} is {semitones_text(abs(apart))} {more}, so the note is {right.name.text}."
        yield Step(said.replace("A a", "An a"), (), "")
    else:
        yield Step(f"That is the {name} you want, so the note is {right.name.text}.", (), "")


def _by_semitones(wanted: Wanted, right: Pitch) -> Iterator[Step]:
    want = Interval(wanted.quality, wanted.number)
    bare = right.altered(-right.alter)
    plain = abs(bare.midi - wanted.given.midi)
    yield Step(f"The {want.text} has {semitones_text(want.semitones)}.", (), str(want.semitones))
    apart = f"so change it to {right.name.text}" if right.alter else "just right"
    start = wanted.given.name.text
    yield Step(f"From {start} to {bare.step} without a sign there are {plain}: {apart}.", (), str(plain))


def _sign_said(wanted: Wanted, right: Pitch) -> str:
    if right.alter == signature_alter(wanted.fifths, right.step):
        kept = "the key signature has made it so already" if right.alter else "it needs no sign"
        return f"Write {right.name.text}: {kept}."
    return f"Write {right.step} with {_SIGNS[right.alter]} before it."

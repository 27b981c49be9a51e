"""Name a printed chord of a key by its degree and its position."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.chord_reading import read_label
from stavewright.questions.documents import Answer, ChordsForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.setting.chord_places import close_chords, stacked
from stavewright.questions.setting.picking import pick_clef, pick_near_key
from stavewright.questions.showing.chords import chord_block, chord_stave, great_stave
from stavewright.questions.solving.chords import chord_work, label_of, label_reason, mislabelled
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

_TRIES = 20
_WIDE_SHARE = 0.5
_HANDS = {"treble": (Pitch("B", 0, 3), Pitch("A", 0, 5)), "bass": (Pitch("E", 0, 2), Pitch("C", 0, 4))}


class ChordAndInversion(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, whose signature is printed, and a chord of it: all on one stave, or spread over a great stave.

    `lower` holds the bass clef's notes of a great stave (`clef` is then treble); it is empty for a single stave. Notes
    stand lowest first. `degrees` are the chords that may be asked, by numeral.
    """

    clef: ClefName
    key: Word
    upper: Annotated[tuple[PitchText, ...], Meta(min_length=1, max_length=6)]
    lower: Annotated[tuple[PitchText, ...], Meta(max_length=6)] = ()
    degrees: Annotated[tuple[Word, ...], Meta(min_length=2, max_length=7)] = ("I", "II", "IV", "V")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    degrees = tuple(numeral for numeral in ROMANS if numeral in scope.triads)
    if not scope.inversions or len(degrees) < 3:
        return None
    for _ in range(_TRIES):
        key = pick_near_key(scope, rng)
        if key is None:
            return None
        label = ChordLabel(ROMANS.index(rng.choice(degrees)) + 1, rng.randrange(3))
        if rng.random() < _WIDE_SHARE:
            spread = _spread(rng, key, label)
            if spread is not None:
                return Draft(ChordAndInversion("treble", key.text, *spread, degrees), label.text)
            continue
        clef = pick_clef(scope, rng)
        places = close_chords(scope, clef, key, label)
        if places:
            notes = tuple(pitch.short for pitch in rng.choice(places))
            return Draft(ChordAndInversion(clef, key.text, notes, (), degrees), label.text)
    return None


def _spread(rng: Random, key: Key, label: ChordLabel) -> tuple[tuple[str, ...], tuple[str, ...]] | None:
    """The bass in the left hand, the three notes in any order in the right; the root or fifth is so doubled."""
    names = chord_notes(key, label)
    low, high = _HANDS["bass"]
    bass = next(d for d in range(low.diatonic, high.diatonic) if Pitch.from_diatonic(d).step == names[0].step)
    if label.inversion == 1 and label.degree == 5:
        above = [name for name in names if name != names[0]] + [names[1]]  # the leading note is not doubled
    else:
        above = list(names)
    rng.shuffle(above)
    low, high = _HANDS["treble"]
    chord = stacked(tuple(above), rng.randrange(low.diatonic, low.diatonic + 7))
    if chord[-1].diatonic > high.diatonic:
        return None
    return tuple(pitch.short for pitch in chord), (Pitch.from_diatonic(bass, names[0].alter).short,)


def _pose(facts: ChordAndInversion, wording: Wording) -> Posed:
    upper, lower = _notes(facts.upper), _notes(facts.lower)
    fifths = Key.parse(facts.key).fifths
    score = great_stave(upper, lower, fifths) if lower else chord_stave(facts.clef, upper, fifths)
    chords = f"{', '.join(facts.degrees[:-1])} or {facts.degrees[-1]}"
    said = f"The key is {facts.key}."
    if wording.choosing:
        ask = f"{said} Which chord is this? (b: first inversion, c: second inversion, no letter: root position.)"
        return Posed((TextBlock(ask), chord_block(score)))
    ask = (
        f"{said} Name this chord: {chords}, and its position: a for root position, b for first inversion, "
        "c for second inversion (or figures)."
    )
    return Posed((TextBlock(ask), chord_block(score)), ChordsForm(1))


def _notes(names: tuple[str, ...]) -> tuple[Pitch, ...]:
    return tuple(Pitch.parse(name) for name in names)


def _all(facts: ChordAndInversion) -> tuple[Pitch, ...]:
    return (*_notes(facts.lower), *_notes(facts.upper))


def _label(facts: ChordAndInversion) -> ChordLabel:
    return label_of(_all(facts), Key.parse(facts.key))


def _value(label: ChordLabel) -> Value:
    return Value(chords=(label.text,))


def _solve(facts: ChordAndInversion) -> tuple[Answer, ...]:
    label = _label(facts)
    return (answer(_value(label), label.text, label_reason(label, Key.parse(facts.key))),)


def _slips(facts: ChordAndInversion) -> tuple[Slip, ...]:
    return tuple(
        slip(one.name, _value(one.label), one.label.text, one.remedy, steady=one.steady)
        for one in mislabelled(_all(facts), Key.parse(facts.key), inversions=True)
    )


def _neighbours(facts: ChordAndInversion) -> tuple[Value, ...]:
    """The same chord in other positions, other chords in the same position."""
    label = _label(facts)
    near = [ChordLabel(label.degree, inversion) for inversion in range(3)]
    near += [ChordLabel(ROMANS.index(numeral) + 1, label.inversion) for numeral in facts.degrees]
    return tuple(_value(one) for one in near if one != label)


def _work(facts: ChordAndInversion, method: str) -> tuple[Step, ...]:
    ids = ("n1", "n2") if facts.lower else ("n1",)
    return chord_work(_all(facts), Key.parse(facts.key), ids, inversions=True)


def split_label(value: Value) -> tuple[str, str]:
    """The degree and the position of the first label, for gated marking.

    >>> split_label(Value(chords=("ii6",))), split_label(Value(chords=("V",)))
    (('II', 'b'), ('V', 'a'))
    """
    label = read_label(value.chords[0]) if value.chords else ""
    numeral = label.rstrip("abcd7")
    return numeral, label[len(numeral) :].strip("a") or "a"


def _difficulty(facts: ChordAndInversion) -> float:
    """Inversions, chords II, spread chords, more signs, minor and C clefs make it harder (common practice)."""
    key, label = Key.parse(facts.key), _label(facts)
    return (
        -0.5
        + 0.4 * bool(label.inversion)
        + 0.3 * (label.degree == 2)
        + 0.2 * bool(facts.lower)
        + 0.08 * abs(key.fifths)
        + 0.2 * key.is_minor
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="chord-and-inversion",
    topic="chords",
    since=5,
    title="Name the chord and its inversion",
    facts=ChordAndInversion,
    forms={"written": "chords", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"chord-and-inversion/{_label(facts).text} {Key.parse(facts.key).mode}",
    pool=lambda scope: None,
    seconds=45,
    marking=Marking("gated", split=split_label),
    marks=2,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

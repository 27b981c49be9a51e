"""Tone or semitone: the step between two neighbouring notes."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_pitch
from stavewright.questions.showing.describing import with_sign
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Written
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import WrittenNote, sign_name, sign_text, sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

_NAMES = {1: "semitone", 2: "tone"}
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})


class ToneOrSemitone(Facts, frozen=True, forbid_unknown_fields=True):
    """Two notes of one bar as they are written under a clef."""

    clef: ClefName
    first: Written
    second: Written


def _seconds(scope: Scope, clef: str, first: Pitch, size: int) -> list[Pitch]:
    """Every note of the clef's range that lies so many semitones from the first, on the next letter or the same one."""
    low, high = scope.range_of(clef)
    found = []
    for way in (-1, 0, 1):
        diatonic = first.diatonic + way
        if not low.diatonic <= diatonic <= high.diatonic:
            continue
        for alter in dict.fromkeys(scope.alters):
            pitch = Pitch.from_diatonic(diatonic, alter)
            rare = (pitch.step, alter) in _RARE and 2 not in scope.alters
            chromatic = way == 0 and size != 1
            if abs(pitch.midi - first.midi) == size and not rare and not chromatic:
                found.append(pitch)
    return found


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    first = pick_pitch(scope, rng, clef)
    size = rng.choice((1, 2))
    near = _seconds(scope, clef, first, size)
    if not near:
        return None
    second = rng.choice(near)
    bottom = CLEFS[clef].bottom_line.diatonic
    same = first.diatonic == second.diatonic
    signs = (sign_name(first.alter) if first.alter else None, sign_name(second.alter) if second.alter or same else None)
    facts = ToneOrSemitone(
        clef, Written(first.diatonic - bottom, signs[0]), Written(second.diatonic - bottom, signs[1])
    )
    return Draft(facts, "semitone" if size == 1 else "tone")


def _pitches(facts: ToneOrSemitone) -> tuple[Pitch, Pitch]:
    bottom = CLEFS[facts.clef].bottom_line.diatonic
    row = [WrittenNote(bottom + one.place, one.accidental) for one in (facts.first, facts.second)]
    first, second = sounding([row], 0)[0]
    return first, second


def _pose(facts: ToneOrSemitone, wording: Wording) -> Posed:
    pitches = _pitches(facts)
    notes = tuple(
        Note(pitch, Duration("semibreve"), id=f"n{i}", accidental=one.accidental)
        for i, (pitch, one) in enumerate(zip(pitches, (facts.first, facts.second), strict=True), 1)
    )
    first, second = (with_sign(one.place, one.accidental) for one in (facts.first, facts.second))
    alt = f"A stave with the {facts.clef} clef and two notes. The first is {first}; the second is {second}."
    ask = "Which step is it from the first note to the second, a tone or a semitone?"
    return Posed((TextBlock(wording.say(ask)), StaveBlock(document_of(single(facts.clef, notes)), wording.say(alt))))


def _size(facts: ToneOrSemitone) -> int:
    first, second = _pitches(facts)
    letters, size = abs(second.diatonic - first.diatonic), abs(second.midi - first.midi)
    if letters > 1 or size not in _NAMES or (letters == 0 and size == 2):
        raise BadDocument(
            f"{first.short} and {second.short} are neither a tone nor a semitone apart: choose neighbours"
        )
    return size


def _solve(facts: ToneOrSemitone) -> tuple[Answer, ...]:
    first, second = (pitch.name.text for pitch in _pitches(facts))
    size = _size(facts)
    between = "no key lies between them" if size == 1 else "one key lies between them"
    return (answer(Value(words=_NAMES[size]), _NAMES[size], f"From {first} to {second}, {between} on the keyboard."),)


def _bare_size(facts: ToneOrSemitone) -> int:
    """Semitones between the two letters with no signs at all."""
    first, second = (CLEFS[facts.clef].pitch_at(one.place) for one in (facts.first, facts.second))
    return abs(second.midi - first.midi)


def _slips(facts: ToneOrSemitone) -> tuple[Slip, ...]:
    found: list[Slip] = []
    if facts.first.place != facts.second.place:
        found.append(
            slip(
                "counted letters only", Value(words="tone"), "tone", "Count the keys, black ones too, not the letters."
            )
        )
        bare = _NAMES[_bare_size(facts)]
        found.append(slip("signs left out", Value(words=bare), bare, "Put each sign with its note before you count."))
    signed = bool(facts.first.accidental or facts.second.accidental)
    guess = _NAMES[1 if signed else 2]
    found.append(
        slip(
            "any sign means a semitone", Value(words=guess), guess, "A sign can make the step wider or narrower: count."
        )
    )
    return tuple(found)


def _work(facts: ToneOrSemitone, method: str) -> tuple[Step, ...]:
    first, second = _pitches(facts)
    size = _size(facts)
    ids = ("n1", "n2")
    steps = [
        Step(
            f"Name the two notes: {first.name.text} and {second.name.text}.",
            ids,
            f"{first.name.symbol} {second.name.symbol}",
        )
    ]
    if facts.first.place == facts.second.place:
        steps.append(Step(f"Both are {first.step}, so only the signs set them apart.", ids))
    else:
        bare = _bare_size(facts)
        rule = "only E to F and B to C have no black key between"
        steps.append(
            Step(f"Without signs, {first.step} to {second.step} is a {_NAMES[bare]} ({rule}).", ids, _NAMES[bare])
        )
        moved = [sign_text(one.accidental) for one in (facts.first, facts.second) if one.accidental]
        if moved:
            more = len(moved) > 1
            signs = " and ".join(f"the {one}" for one in moved)
            if more and moved[0] == moved[1]:
                signs = f"the two {moved[0]}s"
            if size == bare:
                change = "leave the step as it was" if more else "leaves the step as it was"
            else:
                semitones = "a semitone" if abs(size - bare) == 1 else f"{abs(size - bare)} semitones"
                side = "wider" if size > bare else "narrower"
                change = f"make{'' if more else 's'} the step {semitones} {side}"
            steps.append(Step(f"Now {signs} {change}.", ids))
    keys = "no key between them" if size == 1 else "one key between them"
    steps.append(Step(f"On the keyboard there is {keys}: a {_NAMES[size]}.", ids, _NAMES[size]))
    steps.append(Step("Check: touch both keys and look for a key between, black or white.", ids))
    return tuple(steps)


def _options(facts: ToneOrSemitone) -> tuple[Value, ...]:
    return (Value(words="tone"), Value(words="semitone"))


def _difficulty(facts: ToneOrSemitone) -> float:
    """Signs, and double signs above all, make the count longer (common practice)."""
    signs = [one.accidental for one in (facts.first, facts.second) if one.accidental]
    return -1.6 + 0.4 * len(signs) + 0.7 * sum(one in ("double-sharp", "flat-flat") for one in signs)


def _skill(facts: ToneOrSemitone) -> str:
    return f"tone-or-semitone/{'signs' if facts.first.accidental or facts.second.accidental else 'white keys'}"


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        for diatonic in range(low.diatonic, high.diatonic + 1):
            for alter in set(scope.alters):
                first = Pitch.from_diatonic(diatonic, alter)
                if 2 in scope.alters or (first.step, alter) not in _RARE:
                    total += sum(len(_seconds(scope, clef, first, size)) for size in (1, 2))
    return total


KIND = Kind(
    id="tone-or-semitone",
    topic="notes",
    since=1,
    title="Tone or semitone",
    facts=ToneOrSemitone,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=_pool,
    seconds=12,
    marking=Marking("all-or-nothing"),
    options=_options,
)

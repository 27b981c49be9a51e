"""Degrees of the scale by their technical names: the name of a note's degree, and the note of a name."""

from __future__ import annotations

from random import Random

from msgspec.structs import replace

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.marked import MarkedNote
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.marked_notes import marked_in_a_row, marked_in_the_extract
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.setting.scales import spelled_notes
from stavewright.questions.showing.marked_notes import marked_blocks, marked_words
from stavewright.questions.solving.marked_notes import earlier_key, lowest_pitch, marked_id, marked_pitch
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.degree import (
    accepted_degree_names,
    degree_from_name,
    degree_name,
    degree_of,
    note_of_degree,
)
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName

# The setter's own list, tonic first.
_MEANT = ("tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading note")
_TRIES = 4
# Names that pupils take for one another, by degree.
_TAKEN_FOR = {1: (5,), 2: (7, 3), 3: (6, 2), 4: (6, 5), 5: (4, 1), 6: (3, 4), 7: (2, 6)}


class DegreeName(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, and either a note whose degree is to be named (`place`) or a name whose note is asked (`name`).

    `part` is the letter of the part that asked for the key, when this one leans on it.
    """

    key: str
    place: MarkedNote | None = None
    name: str = ""
    part: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if not scope.degree_names:
        return None
    key = pick_key(scope, rng) if stimulus is None else stimulus.extract.key
    if key is None or key not in scope.keys:
        return None
    if stimulus is None and rng.random() < 0.3:
        degree = rng.randint(2, 7)
        form = "harmonic minor" if key.is_minor else "major"
        facts = DegreeName(key.text, name=_MEANT[degree - 1])
        return Draft(facts, spelled_notes(key.tonic, form, "up")[degree - 1])
    part = "" if stimulus is None else stimulus.key_part or ""
    leading = spelled_notes(key.tonic, "harmonic minor" if key.is_minor else "major", "up")[6]
    for _ in range(_TRIES):
        if stimulus is None:
            place, degree, note = marked_in_a_row(scope, rng, key, pick_clef(scope, rng))
        else:
            found = marked_in_the_extract(stimulus, rng, key)
            if found is None:
                return None
            place, degree, note = found
        if degree != 7 or note == leading:
            return Draft(DegreeName(key.text, place, part=part), _MEANT[degree - 1], follows=bool(part))
    return None


def _pose(facts: DegreeName, wording: Wording) -> Posed:
    if facts.place is None:
        form = " (the harmonic form)" if facts.key.endswith("minor") else ""
        which = f"the {facts.name} of {facts.key}{form}"
        ask = f"Which note is {which}?" if wording.choosing else f"Name {which}."
        return Posed((TextBlock(wording.say(ask)),), None if wording.choosing else WordsForm("word"))
    key = f"Use the key you gave in part ({facts.part})." if facts.part else f"The key is {facts.key}."
    which = marked_words(facts.place)
    ask = f"{key} What is the technical name of {which}, as a degree of the scale?"
    blocks = (TextBlock(wording.say(ask)), *marked_blocks(facts.place, wording))
    return Posed(blocks, None if wording.choosing else WordsForm("word"))


def _solve(facts: DegreeName) -> tuple[Answer, ...]:
    key = Key.parse(facts.key)
    if facts.place is None:
        number = degree_from_name(facts.name)
        name = note_of_degree(key, number).text
        reason = f"The {facts.name} is the {ordinal(number)} degree, and in {key.text} that is {name}."
        return (answer(Value(words=name), name, reason),)
    note = marked_pitch(facts.place).name
    degree = degree_of(note, key)
    lowered = _lowered(key, degree.number, degree.alter)
    names = accepted_degree_names(degree.number, lowered=lowered)
    reason = f"{note.text} is the {ordinal(degree.number)} degree of {key.text}, the {names[0]}."
    also = "Another name in use for the same degree."
    return tuple(answer(Value(words=name), name, reason if index == 0 else also) for index, name in enumerate(names))


def _lowered(key: Key, number: int, alter: int) -> bool:
    return number == 7 and alter < (1 if key.is_minor else 0)


def _slips(facts: DegreeName) -> tuple[Slip, ...]:
    key = Key.parse(facts.key)
    if facts.place is None:
        return _note_slips(key, degree_from_name(facts.name))
    note = marked_pitch(facts.place).name
    number = degree_of(note, key).number

    def named(start: NoteName) -> str:
        return degree_name((note.index - start.index) % 7 + 1)

    wrong = [
        (f"{degree_name(number)} and {degree_name(other)} swapped", degree_name(other), _how(number))
        for other in _TAKEN_FOR[number]
    ]
    lowest = named(lowest_pitch(facts.place).name)
    wrong.append(("counted from the lowest written note", lowest, f"Count up from the tonic, {key.tonic.text}."))
    relative = named(key.relative.tonic)
    # Where the key was the pupil's to find, the relative is the likeliest mistake, and must be there to be picked.
    away = ("counted in the relative key", relative, f"The key is {key.text}: start on its own tonic.")
    wrong.insert(0 if facts.part else len(wrong), away)
    wrong.append(("counted the gap", degree_name(number - 1 or 7), "The tonic itself is 1: count both ends."))
    return tuple(slip(name, Value(words=words), words, remedy) for name, words, remedy in wrong)


def _how(number: int) -> str:
    """A way to remember the name of a degree."""
    return {
        1: "The tonic is the key note itself.",
        2: "Super means above: the supertonic is just above the tonic.",
        3: "The mediant is in the middle, between tonic and dominant going up.",
        4: "Sub means below: the subdominant is a fifth below the tonic.",
        5: "The dominant is a fifth above the tonic.",
        6: "The submediant is in the middle, between tonic and subdominant going down.",
        7: "This degree leads up to the tonic.",
    }[number]


def _note_slips(key: Key, number: int) -> tuple[Slip, ...]:
    right = note_of_degree(key, number)
    wrong = [
        (f"{degree_name(number)} and {degree_name(other)} swapped", note_of_degree(key, other), _how(number))
        for other in _TAKEN_FOR[number]
    ]
    sign = "Say the sharps or flats of the key: they belong to the note's name."
    wrong.append(("sign of the key forgotten", NoteName(right.step, 0), sign))
    relative = note_of_degree(key.relative, number)
    wrong.append(("counted in the relative key", relative, f"Start on the tonic of {key.text}."))
    if key.is_minor:
        plain = note_of_degree(key, number, "natural minor")
        wrong.append(("raised 7th forgotten", plain, "The harmonic form raises the 7th."))
    return tuple(slip(name, Value(words=note.text), note.text, remedy) for name, note, remedy in wrong)


def _work(facts: DegreeName, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    tonic = Step(f"The key is {key.text}, so {key.tonic.text} is the tonic, 1.", (), f"{key.tonic.short} = 1")
    check = Step("Check: say all seven names in order up to yours.", (), "")
    if facts.place is None:
        number = degree_from_name(facts.name)
        letters = ", ".join(note_of_degree(key, n).text for n in range(1, number + 1))
        middle = [
            Step(f"The {facts.name} is the {ordinal(number)} degree. {_how(number)}", (), str(number)),
            Step(f"Count up: {letters}.", (), ""),
        ]
        return (tonic, *middle, check)
    note = marked_pitch(facts.place).name
    degree = degree_of(note, key)
    ids = marked_id(facts.place)
    name = degree_name(degree.number, lowered=_lowered(key, degree.number, degree.alter))
    return (
        tonic,
        Step(f"{note.text} is {degree.number}, counting up.", ids, str(degree.number)),
        Step(f"Degree {degree.number} is the {name}. {_how(degree.number)}", ids, ""),
        check,
    )


def _given(facts: DegreeName, earlier: Value) -> DegreeName:
    key = earlier_key(earlier)
    return facts if key is None else replace(facts, key=key.text)


def _neighbours(facts: DegreeName) -> tuple[Value, ...]:
    if facts.place is not None:
        return tuple(Value(words=degree_name(number)) for number in range(1, 8))
    key = Key.parse(facts.key)
    return tuple(Value(words=note_of_degree(key, number).text) for number in range(1, 8))


def _number(facts: DegreeName) -> int:
    if facts.place is None:
        return degree_from_name(facts.name)
    return degree_of(marked_pitch(facts.place), Key.parse(facts.key)).number


def _difficulty(facts: DegreeName) -> float:
    """More signs, minor keys, the rarer names and looking in an extract make it harder (common practice)."""
    key = Key.parse(facts.key)
    rare = {1: -0.5, 5: -0.3, 4: 0.0, 7: 0.0, 2: 0.1, 3: 0.3, 6: 0.3}[_number(facts)]
    where = 0.2 if facts.place is not None and facts.place.extract is not None else 0.0
    return -0.6 + 0.1 * abs(key.fifths) + 0.2 * key.is_minor + rare + where


def _shows(facts: DegreeName) -> frozenset[str]:
    if facts.part or facts.place is None:
        return frozenset()
    shown = {f"signature:{facts.key}"}
    if facts.place.extract is not None:
        shown.add(f"key-of-extract:{facts.key}")
    return frozenset(shown)


KIND = Kind(
    id="degree-name",
    topic="scales",
    since=4,
    title="Degrees by name",
    facts=DegreeName,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"degree-name/{degree_name(_number(facts))}",
    pool=lambda scope: None,
    seconds=18,
    given=_given,
    neighbours=_neighbours,
    shows=_shows,
)

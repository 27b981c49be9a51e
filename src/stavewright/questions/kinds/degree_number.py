"""Degrees of the scale by number: the number of a note, and the note of a number."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace

from stavewright.questions.documents import Answer, NumberForm, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.marked import MarkedNote
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.marked_notes import marked_in_a_row, marked_in_the_extract
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.setting.scales import spelled_notes
from stavewright.questions.showing.marked_notes import marked_blocks, marked_words
from stavewright.questions.solving.marked_notes import earlier_key, first_pitch, lowest_pitch, marked_id, marked_pitch
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.degree import degree_of, note_of_degree
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName


class DegreeNumber(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, and either a note whose number is asked (`place`) or a number whose note is asked (`degree`).

    `part` is the letter of the part that asked for the key, when this one leans on it.
    """

    key: str
    place: MarkedNote | None = None
    degree: Annotated[int, Meta(ge=0, le=7)] = 0
    part: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if stimulus is not None:
        key = stimulus.extract.key
        if key is None or key not in scope.keys:
            return None
        found = marked_in_the_extract(stimulus, rng, key)
        if found is None:
            return None
        part = stimulus.key_part or ""
        return Draft(DegreeNumber(key.text, found[0], part=part), str(found[1]), follows=bool(part))
    key = pick_key(scope, rng)
    if key is None:
        return None
    if rng.random() < 0.3:
        degree = rng.randint(2, 7)
        form = "harmonic minor" if key.is_minor else "major"
        return Draft(DegreeNumber(key.text, degree=degree), spelled_notes(key.tonic, form, "up")[degree - 1])
    place, number, _ = marked_in_a_row(scope, rng, key, pick_clef(scope, rng))
    return Draft(DegreeNumber(key.text, place), str(number))


def _pose(facts: DegreeNumber, wording: Wording) -> Posed:
    if facts.place is None:
        form = " (the harmonic form)" if facts.key.endswith("minor") else ""
        which = f"the {ordinal(facts.degree)} degree of {facts.key}{form}"
        ask = f"Which note is {which}?" if wording.choosing else f"Name {which}."
        return Posed((TextBlock(ask),), None if wording.choosing else WordsForm("word"))
    key = f"Use the key you gave in part ({facts.part})." if facts.part else f"The key is {facts.key}."
    ask = f"{key} Which degree of the scale is {marked_words(facts.place)}? The tonic is 1."
    blocks = (TextBlock(wording.say(ask)), *marked_blocks(facts.place, wording))
    return Posed(blocks, None if wording.choosing else NumberForm())


def _solve(facts: DegreeNumber) -> tuple[Answer, ...]:
    key = Key.parse(facts.key)
    if facts.place is None:
        name = note_of_degree(key, facts.degree)
        reason = f"Counting up from {key.tonic.text} as 1, the {ordinal(facts.degree)} degree is {name.text}."
        return (answer(Value(words=name.text), name.text, reason),)
    note = marked_pitch(facts.place).name
    number = degree_of(note, key).number
    reason = f"In {key.text}, counting up from {key.tonic.text} as 1, {note.text} is {number}."
    found = [answer(Value(number=number), str(number), reason)]
    if number == 1:
        found.append(answer(Value(number=8), "8", "The upper tonic may also be counted as 8."))
    return tuple(found)


def _slips(facts: DegreeNumber) -> tuple[Slip, ...]:
    return _note_slips(facts) if facts.place is None else _number_slips(facts, facts.place)


def _number_slips(facts: DegreeNumber, place: MarkedNote) -> tuple[Slip, ...]:
    key = Key.parse(facts.key)
    note = marked_pitch(place)
    number = degree_of(note, key).number
    start = f"Count up from the tonic, {key.tonic.text}, and call it 1."

    def count(start_from: NoteName) -> int:
        return (note.name.index - start_from.index) % 7 + 1

    both = "The tonic itself is 1: count both ends."
    wrong = [
        ("counted from the lowest written note", count(lowest_pitch(place).name), start),
        ("counted from the first note", count(first_pitch(place).name), start),
        ("counted the gap", number - 1 or 7, both),
        ("counted one too many", number % 7 + 1, both),
        ("counted down", 9 - number if number > 1 else 8, f"{start} Go up, not down."),
        ("counted from C", count(NoteName("C")), start),
    ]
    relative = (
        "counted in the relative key",
        count(key.relative.tonic),
        f"The key is {key.text}: start on its own tonic.",
    )
    # Where the key was the pupil's to find, the relative is the likeliest mistake, and must be there to be picked.
    wrong.insert(0 if facts.part else len(wrong), relative)
    return tuple(
        slip(name, Value(number=given), str(given), remedy, steady=name.startswith("counted in"))
        for name, given, remedy in wrong
    )


def _note_slips(facts: DegreeNumber) -> tuple[Slip, ...]:
    key = Key.parse(facts.key)
    right = note_of_degree(key, facts.degree)
    start = f"Count up from the tonic, {key.tonic.text}, and call it 1."
    sign = "Say the sharps or flats of the key: they belong to the note's name."
    wrong = [
        ("counted the gap", note_of_degree(key, facts.degree % 7 + 1), "The tonic itself is 1: count both ends."),
        ("stopped too soon", note_of_degree(key, facts.degree - 1), start),
        ("counted down", note_of_degree(key, 9 - facts.degree), f"{start} Go up, not down."),
        ("sign of the key forgotten", NoteName(right.step, 0), sign),
        ("counted from C", note_of_degree(Key.parse("C"), facts.degree), start),
        ("counted in the relative key", note_of_degree(key.relative, facts.degree), start),
    ]
    if key.is_minor:
        plain = note_of_degree(key, facts.degree, "natural minor")
        wrong.append(("raised 7th forgotten", plain, "The harmonic form raises the 7th."))
    return tuple(slip(name, Value(words=note.text), note.text, remedy) for name, note, remedy in wrong)


def _work(facts: DegreeNumber, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    tonic = key.tonic
    last = Step("Check: count once more on your fingers, the tonic first.", (), "")
    if facts.place is None:
        letters = [note_of_degree(key, n).text for n in range(1, facts.degree + 1)]
        return (
            Step(f"The tonic of {key.text} is {tonic.text}: call it 1.", (), f"{tonic.short} = 1"),
            Step(f"Count up to {facts.degree}: {', '.join(letters)}.", (), str(facts.degree)),
            last,
        )
    note = marked_pitch(facts.place).name
    number = degree_of(note, key).number
    letters = ["CDEFGAB"[(tonic.index + n) % 7] for n in range(number)]
    ids = marked_id(facts.place)
    return (
        Step(f"The key is {key.text}, so {tonic.text} is 1.", (), f"{tonic.short} = 1"),
        Step(f"The note is {note.text}.", ids, note.short),
        Step(f"Count letters up from {tonic.text}: {' '.join(letters)}. That makes {number}.", ids, str(number)),
        last,
    )


def _given(facts: DegreeNumber, earlier: Value) -> DegreeNumber:
    key = earlier_key(earlier)
    return facts if key is None else replace(facts, key=key.text)


def _neighbours(facts: DegreeNumber) -> tuple[Value, ...]:
    if facts.place is not None:
        return tuple(Value(number=number) for number in range(1, 8))
    key = Key.parse(facts.key)
    return tuple(Value(words=note_of_degree(key, number).text) for number in range(1, 8))


def _difficulty(facts: DegreeNumber) -> float:
    """More signs, minor keys, higher numbers and looking in an extract make it harder (common practice)."""
    key = Key.parse(facts.key)
    where = 0.2 if facts.place is not None and facts.place.extract is not None else 0.0
    clef = 0.3 if facts.place is not None and facts.place.clef in ("alto", "tenor") else 0.0
    return -1.4 + 0.12 * abs(key.fifths) + 0.3 * key.is_minor + where + clef + 0.05 * facts.degree


def _shows(facts: DegreeNumber) -> frozenset[str]:
    if facts.part:
        return frozenset()
    shown = {f"signature:{facts.key}"} if facts.place is not None else set()
    if facts.place is not None and facts.place.extract is not None:
        shown.add(f"key-of-extract:{facts.key}")
    return frozenset(shown)


def _asks(facts: DegreeNumber) -> frozenset[str]:
    return frozenset({f"scale:{facts.key}"}) if facts.place is None else frozenset()


KIND = Kind(
    id="degree-number",
    topic="scales",
    since=1,
    title="Degrees by number",
    facts=DegreeNumber,
    forms={"written": "number", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"degree-number/{'minor' if facts.key.endswith('minor') else 'major'}",
    pool=lambda scope: None,
    seconds=15,
    given=_given,
    neighbours=_neighbours,
    asks=_asks,
    shows=_shows,
)

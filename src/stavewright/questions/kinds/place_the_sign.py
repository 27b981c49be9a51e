"""Point at the notes where a named sign belongs: a tie, a slur, a pause, dots on all quavers of a bar and the like."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument, Word
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.picking import pick_clef
from stavewright.questions.setting.sign_rows import TIMES, sign_row
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.line import line_of
from stavewright.questions.solving.sign_places import right_places, wrong_places
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import sign_of, signs_known

# Which signs each rule is asked with.
_SIGNS = {
    "each": ("staccato", "tenuto", "staccatissimo", "accent"),
    "above": ("staccato", "tenuto"),
    "first": ("accent", "down-bow"),
    "longest": ("fermata",),
    "tie": ("tie",),
    "slur": ("slur",),
}
_WHERE = {
    "staccato": "right above or below the head of its note, away from the stem",
    "tenuto": "right above or below the head of its note, away from the stem",
    "staccatissimo": "right above or below the head of its note, away from the stem",
    "accent": "above or below the head of its note, away from the stem",
    "fermata": "above its note",
    "down-bow": "above its note",
    "tie": "from the head of the first note to the head of the second",
    "slur": "from the head of the first note to the head of the last",
}


class PlaceTheSign(Facts, frozen=True, forbid_unknown_fields=True):
    """The music as it is printed, the sign by its id, and the rule that says where it belongs.

    `rule` is "each" (on every note of `value` in the bar with the number `bar`), "above" (the notes of `bar` that have
    it above the head), "first" (of every bar), "longest" (the longest note), "tie" (two neighbours of one pitch) or
    "slur" (over the whole of `bar`).

    Raises:
        BadDocument: no such rule, or a sign it is not asked with.
    """

    music: ScoreDocument
    sign: Word
    rule: Word
    bar: Annotated[int, Meta(ge=0, le=100)] = 0
    value: Word = ""

    def __post_init__(self) -> None:
        if self.sign not in _SIGNS.get(self.rule, ()):
            raise BadDocument(f"the sign {self.sign!r} is not asked by the rule {self.rule!r}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    met = {sign.id for sign in signs_known(scope.terms)}
    rules = [rule for rule, signs in _SIGNS.items() if met & set(signs)]
    rule = rng.choice(rules)
    sign = rng.choice([one for one in _SIGNS[rule] if one in met])
    clef = pick_clef(scope, rng)
    low, high = scope.range_of(clef)
    made = sign_row(rng, rule, clef, low, high, rng.choice([time for time in TIMES if time in scope.times]))
    if made is None:
        return None
    facts = PlaceTheSign(document_of(made.score), sign, rule, made.bar, made.value)
    return Draft(facts, Value(places=made.places))


def _asked(facts: PlaceTheSign) -> str:
    name = sign_of(facts.sign).name
    a = f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
    return {
        "each": f"Each {facts.value} of bar {facts.bar} is to have {a} sign. Point at the notes where it belongs.",
        "above": f"Each note of bar {facts.bar} is to have {a} sign at its head. Point at the notes that have it above "
        "the head, not below.",
        "first": f"The first note of every bar is to have {a} sign. Point at the notes where it belongs.",
        "longest": f"The longest note is to have {a} sign. Point at the note where it belongs.",
        "tie": "One tie is left out. Point at the two notes that a tie can join.",
        "slur": f"A slur is to cover the whole of bar {facts.bar}. Point at the note where it begins and the note "
        "where it ends.",
    }[facts.rule]


def _pose(facts: PlaceTheSign, wording: Wording) -> Posed:
    alt = wording.say(spoken_extract(score_of(facts.music)))
    return Posed((TextBlock(wording.say(_asked(facts))), StaveBlock(facts.music, alt)), PlacesForm("notes"))


def _clef(facts: PlaceTheSign) -> str:
    return score_of(facts.music).staves[0].clef


def _right(facts: PlaceTheSign) -> tuple[Place, ...]:
    return right_places(line_of(facts.music), facts.rule, facts.bar, facts.value, _clef(facts))


def _text(places: Sequence[Place]) -> str:
    said = []
    for bar in dict.fromkeys(place.bar for place in places):
        notes = [str(place.note) for place in places if place.bar == bar]
        many = f"notes {', '.join(notes[:-1])} and {notes[-1]}" if len(notes) > 1 else f"note {notes[0]}"
        said.append(f"bar {bar}, {many}")
    return "; ".join(said)


def _reason(facts: PlaceTheSign) -> str:
    sign = sign_of(facts.sign)
    if facts.rule == "tie":
        return "A tie joins two notes of the same pitch that follow each other; there is one such pair."
    if facts.rule == "above":
        return f"The {sign.name} sign stands at the head, away from the stem; above the middle line stems go down."
    if facts.rule == "slur":
        return f"A slur goes from the first to the last of the notes it covers, here all of bar {facts.bar}."
    return f"It stands at these notes and at no others, {_WHERE[facts.sign]}: {sign.meaning}."


def _solve(facts: PlaceTheSign) -> tuple[Answer, ...]:
    places = _right(facts)
    return (answer(Value(places=places), _text(places), _reason(facts)),) if places else ()


def _slips(facts: PlaceTheSign) -> tuple[Slip, ...]:
    right = set(_right(facts))
    return tuple(
        slip(name, Value(places=places), _text(places), remedy)
        for name, places, remedy in wrong_places(line_of(facts.music), facts.rule, facts.bar, facts.value, _clef(facts))
        if places and set(places) != right
    )


def _work(facts: PlaceTheSign, method: str) -> tuple[Step, ...]:
    places = _right(facts)
    if not places:
        raise BadDocument(f"nowhere in this music the sign {facts.sign!r} belongs by the rule {facts.rule!r}")
    sign = sign_of(facts.sign)
    there = [one.note for bar in line_of(facts.music) for one in bar.notes if one.place in places]
    ids = tuple(note.id for note in there)
    where = f"The sign belongs at {_text(places)}, {_WHERE[facts.sign]}."
    if facts.rule == "above":
        where = f"The sign stands above the head at {_text(places)}; below it at the others."
    look = {
        "each": f"Find bar {facts.bar} and look for its {facts.value}s.",
        "above": f"Look at the stems in bar {facts.bar}: where a stem goes down, the sign stands above the head.",
        "first": "Find the first note of each bar, right after the bar line.",
        "longest": f"Compare the values: the {there[0].duration.text} is the longest here.",
        "tie": "Go from note to note: which two neighbours stand at the same place?",
        "slur": f"Find bar {facts.bar}, its first and its last note.",
    }
    return (
        Step(f"Say what the sign does: {sign.meaning}.", (), sign.name),
        Step(look[facts.rule], ids),
        Step(where, ids, "tick"),
        Step("Check: count the bars and the notes once more."),
    )


def _difficulty(facts: PlaceTheSign) -> float:
    """Signs on all notes of a sort are the easiest, a tie asks for careful reading (common practice)."""
    return {"each": -1.0, "above": 0.0, "first": -1.2, "longest": -0.9, "slur": -0.6, "tie": -0.4}[facts.rule]


def _token(facts: PlaceTheSign) -> frozenset[str]:
    return frozenset({f"sign:{facts.sign}", f"term:{sign_of(facts.sign).name}"})


KIND = Kind(
    id="place-the-sign",
    topic="terms",
    since=2,
    title="Where the sign belongs",
    facts=PlaceTheSign,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"place-the-sign/{facts.sign}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("per-item"),
    marks=2,
    asks=_token,
    shows=_token,
)

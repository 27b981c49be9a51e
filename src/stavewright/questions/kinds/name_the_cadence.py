"""Name the cadence that closes a short passage in four parts, from a real chorale or written by rule."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import Layout, cadence_labels, cadence_progression, chord_ids
from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import BracketDocument, Line, ScoreDocument, Word
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.chorales import chorale_cadence
from stavewright.questions.setting.picking import fits, pick_near_key
from stavewright.questions.showing.extract import credit_block
from stavewright.questions.showing.spoken_chords import spoken_chords
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Chord, Note
from stavewright.score.moments import Moment, moments
from stavewright.score.stave import Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.cadence import CADENCES, accepted_cadence_names, cadence, cadence_reason, cadence_text
from stavewright.theory.chord import ChordLabel, identify
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature

_TRIES = 8
_LAYOUTS: tuple[Layout, ...] = ("keyboard", "choir")
_TIMES = (TimeSignature(4, 4), TimeSignature(4, 4), TimeSignature(3, 4), TimeSignature(2, 4))


class NameTheCadence(Facts, frozen=True, forbid_unknown_fields=True):
    """A passage in four parts as it is printed, its key, and the cadences to pick from.

    Raises:
        BadDocument: a choice that is no cadence.
    """

    passage: ScoreDocument
    key: Word
    choices: Annotated[tuple[Word, ...], Meta(min_length=2, max_length=4)] = CADENCES
    credit: Line = ""

    def __post_init__(self) -> None:
        strange = [name for name in self.choices if name not in CADENCES]
        if strange:
            raise BadDocument(f"{', '.join(strange)} is no cadence: use {', '.join(CADENCES)}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if len(scope.cadences) < 2:
        return None
    for _ in range(_TRIES):
        key = pick_near_key(scope, rng)
        if key is None:
            return None
        name = rng.choice(scope.cadences)
        real = chorale_cadence(scope, rng, melodies, name)
        if real is not None:
            facts = NameTheCadence(real.passage, real.key.text, scope.cadences, real.credit)
            return Draft(facts, cadence_text(name))
        labels = cadence_labels(name, rng, inversions=scope.inversions)
        try:
            score = cadence_progression(key, labels, rng, layout=rng.choice(_LAYOUTS), time=rng.choice(_TIMES))
        except CannotCompose:
            continue
        if any(pitch.alter and pitch.alter not in scope.alters for e in score.sounding() for pitch in e.pitches):
            continue
        if not all(_within(stave, scope) for stave in score.staves):
            continue
        rows = chord_ids(score)
        passage = document_of(score)
        marked = ScoreDocument(passage.staves, passage.join, (BracketDocument(rows[-2][0], rows[-1][0]),))
        return Draft(NameTheCadence(marked, key.text, scope.cadences), cadence_text(name))
    return None


def _within(stave: Stave, scope: Scope) -> bool:
    """Whether every note of a stave is within the grade's range: a high tenor can leave the bass clef's."""
    rows = (event for bar in stave.bars for voice in bar.voices for event in voice)
    return fits(
        [pitch for event in rows if isinstance(event, Note | Chord) for pitch in event.pitches], scope, stave.clef
    )


def _pose(facts: NameTheCadence, wording: Wording) -> Posed:
    ask = f"The key is {facts.key}. Which cadence do the last two chords make?"
    shown = StaveBlock(facts.passage, wording.say(spoken_chords(score_of(facts.passage))))
    return Posed((TextBlock(ask), shown, *credit_block(facts.credit)))


def _labels(facts: NameTheCadence) -> tuple[ChordLabel, ...]:
    """The chords of the passage, read from its notes.

    Raises:
        UnknownChordError: one of the last two is no chord of the key.
    """
    key = Key.parse(facts.key)
    found: list[ChordLabel] = []
    heard = moments(score_of(facts.passage))
    for number, moment in enumerate(heard):
        label = identify(moment.pitches, key, without_fifth=True)
        if label is None:
            if number < len(heard) - 2:
                continue
            spelt = ", ".join(pitch.short for pitch in moment.pitches)
            raise UnknownChordError(f"{spelt} is no chord of {key.text}", where=f"chord {number + 1}")
        if not found or found[-1] != label:
            found.append(label)
    if len(found) < 2:
        raise UnknownChordError("the passage has no two chords", right="end it with two different chords")
    return tuple(found)


def _last_two(facts: NameTheCadence, labels: tuple[ChordLabel, ...]) -> tuple[Moment, Moment]:
    """Where the last two chords are first struck: a chord may be struck more than once."""
    heard = moments(score_of(facts.passage))
    key = Key.parse(facts.key)
    read = [identify(moment.pitches, key, without_fifth=True) for moment in heard]
    last = len(heard) - 1
    while last and read[last - 1] == labels[-1]:
        last -= 1
    before = last - 1
    while before and read[before - 1] == labels[-2]:
        before -= 1
    return heard[before], heard[last]


def _named(name: str) -> Value:
    return Value(words=cadence_text(name))


def _solve(facts: NameTheCadence) -> tuple[Answer, ...]:
    labels = _labels(facts)
    name = cadence(labels[-2], labels[-1])
    if name is None:
        return ()
    why = f"{cadence_reason(labels[-2], labels[-1])}."
    if labels[-2] == ChordLabel(1, 2):
        why += " Ic leans on the V and belongs to it (a cadential 6/4)."
    found = [answer(_named(name), cadence_text(name), why)]
    for other in accepted_cadence_names(name):
        said = other if "close" in other or other == "complete" else f"{other} cadence"
        for text in dict.fromkeys((said, other)):
            if text != cadence_text(name):
                found.append(answer(Value(words=text), text, f"Another name of the {cadence_text(name)}."))
    return tuple(found)


def _slips(facts: NameTheCadence) -> tuple[Slip, ...]:
    labels = _labels(facts)
    start, goal = labels[-2], labels[-1]
    wrong: list[tuple[str, str | None, str]] = []
    if goal.degree == 1:
        wrong.append(("any ending on I taken for perfect", "perfect", "Look at the chord before: is it V or IV?"))
    if start.degree == 5:
        wrong.append(("V heard, the last chord not read", "perfect", "Where does V go? Read the last chord too."))
    if goal.degree != 1:
        wrong.append(("any ending off I taken for imperfect", "imperfect", "An imperfect cadence ends on V: does it?"))
        wrong.append(("any surprise taken for interrupted", "interrupted", "An interrupted cadence begins on V."))
    if len(labels) > 2:
        early = "Ic-V read as I-V" if labels[-3] == ChordLabel(1, 2) else "stopped one chord too early"
        wrong.append((early, cadence(labels[-3], labels[-2]), "Take the last two chords, under the bracket."))
    turned = cadence(ChordLabel(goal.degree), ChordLabel(start.degree))
    wrong.append(("chords turned round", turned, "Read from left to right: which chord comes last?"))
    if start.degree == 5 and goal.degree == 1:
        wrong.append(("perfect and plagal mixed", "plagal", "V to I is perfect. A plagal cadence begins on IV."))
    if start.degree in (2, 4) and goal.degree == 5:
        hint = "In a plagal cadence IV goes to I. Here it goes to V."
        wrong.append(("IV heard, the last chord not read", "plagal", hint))
    return tuple(
        slip(why, _named(name), cadence_text(name), hint) for why, name, hint in wrong if name in facts.choices and name
    )


def _work(facts: NameTheCadence, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    labels = _labels(facts)
    last = _last_two(facts, labels)
    steps = []
    for label, moment, which in zip(labels[-2:], last, ("last but one", "last"), strict=True):
        names = ", ".join(dict.fromkeys(pitch.name.text for pitch in moment.pitches))
        ids = tuple(event.id for event in moment.events)
        steps.append(
            Step(f"In {key.text} the {which} chord has the notes {names}: chord {label.text}.", ids, label.text)
        )
    name = cadence(labels[-2], labels[-1])
    said = f"{cadence_reason(labels[-2], labels[-1])}."
    steps.append(Step(said, (), f"{labels[-2].text} - {labels[-1].text}"))
    check = {
        "perfect": "does the leading note rise to the tonic, and does it sound finished?",
        "plagal": "is there no leading note before the tonic, as in Amen?",
        "imperfect": "does it stop on V, as if at a comma?",
        "interrupted": "did V promise I, and did another chord come instead?",
    }
    steps.append(Step(f"Check: {check[name or 'perfect']}"))
    return tuple(steps)


def _difficulty(facts: NameTheCadence) -> float:
    """Inversions, an imperfect or interrupted ending, minor keys and more signs make it harder (common practice)."""
    key = Key.parse(facts.key)
    labels = _labels(facts)
    return (
        -0.3
        + 0.3 * bool(labels[-2].inversion)
        + 0.2 * (labels[-1].degree != 1)
        + 0.2 * key.is_minor
        + 0.08 * abs(key.fifths)
    )


def _skill(facts: NameTheCadence) -> str:
    labels = _labels(facts)
    return f"name-the-cadence/{cadence(labels[-2], labels[-1])} {Key.parse(facts.key).mode}"


KIND = Kind(
    id="name-the-cadence",
    topic="chords",
    since=5,
    title="Name the cadence",
    facts=NameTheCadence,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=45,
    marks=2,
    options=lambda facts: tuple(_named(name) for name in facts.choices),
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

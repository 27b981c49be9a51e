"""The name of an ornament, from its sign on the stave."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.signs import sign_score
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import sign_of, signs_known
from stavewright.theory.ornament import ORNAMENT_NAMES
from stavewright.theory.pitch import Pitch

_FAMILY = "ornaments"
_HEADROOM = 6
_SHAPES = ((0, 1, 2), (2, 1, 0), (0, 2, 1), (1, 2, 0), (2, 0, 1), (1, 3, 2))
# The ornament that each sign stands for. Source: Gehrkens, Music Notation and Terminology (1914) §§64-75.
_STANDS_FOR = {
    "trill": "trill", "turn": "turn", "inverted-turn": "inverted turn", "mordent": "mordent",
    "upper-mordent": "upper mordent", "acciaccatura": "acciaccatura", "appoggiatura": "appoggiatura",
}  # fmt: skip
# What each is taken for, and how to tell the two apart.
_TAKEN_FOR = {
    "mordent": (
        ("upper and lower mordent swapped", "upper mordent", "A stroke through the zigzag points to the note below."),
        ("took the zigzag for a trill", "trill", "A trill has the letters tr."),
    ),
    "upper mordent": (
        ("upper and lower mordent swapped", "mordent", "With no stroke the zigzag goes to the note above."),
        ("took the zigzag for a trill", "trill", "A trill has the letters tr."),
    ),
    "turn": (
        ("turn taken for its inversion", "inverted turn", "The plain sideways S begins with the note above."),
        ("took a turn for a mordent", "mordent", "A mordent has sharp corners, a turn is round."),
    ),
    "inverted turn": (
        ("turn taken for its inversion", "turn", "The S is turned over: it begins with the note below."),
        ("took a turn for a mordent", "upper mordent", "A mordent has sharp corners, a turn is round."),
    ),
    "trill": (
        ("took a trill for a turn", "turn", "The letters tr stand for trill."),
        ("took a trill for a mordent", "upper mordent", "A mordent is a zigzag and has no letters."),
    ),
    "acciaccatura": (
        ("stroke overlooked", "appoggiatura", "Look at the small note's tail: a stroke makes it quick, or crushed."),
        ("took a small note for a mordent", "mordent", "A mordent is a sign above the note."),
    ),
    "appoggiatura": (
        ("stroke imagined", "acciaccatura", "Look at the small note's tail: with no stroke it leans on the beat."),
        ("took a small note for a turn", "turn", "A turn is a sign above the note."),
    ),
}


class OrnamentName(Facts, frozen=True, forbid_unknown_fields=True):
    """The sign as it is printed, by its id, and the three notes round it; `level` is what the pupil has met.

    Raises:
        BadDocument: the sign is no ornament, or there are not three notes.
    """

    sign: Word
    notes: Annotated[tuple[PitchText, ...], Meta(min_length=3, max_length=3)] = ("G4", "A4", "B4")
    clef: ClefName = "treble"
    level: Annotated[int, Meta(ge=1, le=9)] = 5

    def __post_init__(self) -> None:
        if self.sign not in _STANDS_FOR:
            raise BadDocument(f"{self.sign!r} is no sign of an ornament: use one of {', '.join(_STANDS_FOR)}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known = [sign for sign in signs_known(scope.terms) if sign.family == _FAMILY]
    sign = pick(rng, known, [one for one in known if one.level == scope.terms])
    clef = rng.choice(("treble", "bass"))
    low, high = scope.range_of(clef)
    base = rng.randint(low.diatonic + 2, high.diatonic - _HEADROOM)
    notes = tuple(Pitch.from_diatonic(base + step).short for step in rng.choice(_SHAPES))
    return Draft(OrnamentName(sign.id, notes, clef, scope.terms), sign.name)


def _pose(facts: OrnamentName, wording: Wording) -> Posed:
    sign = sign_of(facts.sign)
    score = sign_score(sign, facts.clef, tuple(Pitch.parse(note) for note in facts.notes))
    end = "Which ornament is it?" if wording.choosing else "Write the name of this ornament."
    alt = f"A stave with the {facts.clef} clef and three notes; {sign.looks}."
    blocks = (TextBlock(wording.say(f"Look at {sign.where}. {end}")), StaveBlock(document_of(score), wording.say(alt)))
    return Posed(blocks, None if wording.choosing else WordsForm("phrase"))


def _ornament(facts: OrnamentName) -> str:
    return _STANDS_FOR[facts.sign]


def _solve(facts: OrnamentName) -> tuple[Answer, ...]:
    usual, *others = dict.fromkeys((*ORNAMENT_NAMES[_ornament(facts)], *sign_of(facts.sign).names))
    found = [answer(Value(words=usual), usual, f"You see {sign_of(facts.sign).looks}: that is {_a(usual)}.")]
    found += [answer(Value(words=other), other, f"“{other}” is another name for it.") for other in others]
    return tuple(found)


def _a(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _slips(facts: OrnamentName) -> tuple[Slip, ...]:
    met = {_STANDS_FOR[sign.id] for sign in signs_known(facts.level) if sign.family == _FAMILY}
    found = []
    for name, other, remedy in _TAKEN_FOR[_ornament(facts)]:
        if other in met:
            said = ORNAMENT_NAMES[other][0]
            found.append(slip(name, Value(words=said), said, remedy))
    return tuple(found)


def _work(facts: OrnamentName, method: str) -> tuple[Step, ...]:
    sign = sign_of(facts.sign)
    usual = ORNAMENT_NAMES[_ornament(facts)][0]
    _, other, remedy = _TAKEN_FOR[_ornament(facts)][0]
    return (
        Step(f"Look closely: {sign.looks}.", ("n2",)),
        Step(f"That is {_a(usual)}: {sign.meaning}.", ("n2",), usual),
        Step(f"Check that it is not {_a(ORNAMENT_NAMES[other][0])}. {remedy}", ("n2",)),
    )


def _neighbours(facts: OrnamentName) -> tuple[Value, ...]:
    met = [_STANDS_FOR[sign.id] for sign in signs_known(facts.level) if sign.family == _FAMILY]
    return tuple(Value(words=ORNAMENT_NAMES[one][0]) for one in met if one != _ornament(facts))


def _difficulty(facts: OrnamentName) -> float:
    """The two mordents are hardest to tell apart, then the turns; a trill says its name (common practice)."""
    hard = {"trill": -0.6, "turn": 0.0, "inverted turn": 0.4, "mordent": 0.5, "upper mordent": 0.5}
    return -0.5 + hard.get(_ornament(facts), 0.2)


def _token(facts: OrnamentName) -> frozenset[str]:
    return frozenset({f"sign:{facts.sign}", f"term:{sign_of(facts.sign).name}"})


KIND = Kind(
    id="ornament-name",
    topic="terms",
    since=4,
    title="Ornaments by name",
    facts=OrnamentName,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"ornament-name/{_ornament(facts)}",
    pool=lambda scope: sum(sign.family == _FAMILY for sign in signs_known(scope.terms)),
    seconds=12,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=_token,
    shows=_token,
)

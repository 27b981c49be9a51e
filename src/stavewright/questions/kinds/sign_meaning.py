"""What a sign on the stave is called, or what it means."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.signs import sign_score
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.meanings import same_meaning
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import Sign, sign_of, signs_known
from stavewright.theory.pitch import Pitch

# Three notes to stand beside the sign, by how far each lies from the lowest.
_SHAPES = ((0, 1, 2), (2, 1, 0), (0, 2, 1), (1, 2, 0), (2, 0, 1))
_HEADROOM = 6


class SignMeaning(Facts, frozen=True, forbid_unknown_fields=True):
    """A sign by its id, whether its "name" or its "meaning" is asked, the three notes printed with it, the level."""

    sign: str
    ask: str
    level: int
    notes: tuple[str, str, str] = ("G4", "A4", "B4")
    clef: str = "treble"


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known = signs_known(scope.terms)
    sign = pick(rng, known, [one for one in known if one.level == scope.terms])
    ask = rng.choice(sign.asks)
    clef = rng.choice(("treble", "bass"))
    low, high = scope.range_of(clef)
    base = rng.randint(low.diatonic + 2, high.diatonic - _HEADROOM)
    first, second, third = (Pitch.from_diatonic(base + step).short for step in rng.choice(_SHAPES))
    facts = SignMeaning(sign.id, ask, scope.terms, (first, second, third), clef)
    return Draft(facts, sign.name if ask == "name" else sign.meaning)


def _pose(facts: SignMeaning, wording: Wording) -> Posed:
    sign = sign_of(facts.sign)
    score = sign_score(sign, facts.clef, tuple(Pitch.parse(note) for note in facts.notes))
    many = sign.where.startswith(("the letters", "the two"))
    it_is, it_does = ("are they", "do they") if many else ("is it", "does it")
    said = f"What {it_is} called?" if facts.ask == "name" else f"What {it_does} mean?"
    alt = f"A stave with the {facts.clef} clef and a few notes; {sign.looks}."
    blocks = (TextBlock(wording.say(f"Look at {sign.where}. {said}")), StaveBlock(document_of(score), wording.say(alt)))
    return Posed(blocks, None if wording.choosing else WordsForm("phrase"))


def _solve(facts: SignMeaning) -> tuple[Answer, ...]:
    sign = sign_of(facts.sign)
    usual, *others = sign.right(facts.ask)
    told = f"This is {_article(sign.name)}: {sign.meaning}."
    found = [answer(Value(words=usual), usual, told)]
    kind = "name for it" if facts.ask == "name" else "way to say what it means"
    found += [answer(Value(words=other), other, f"Another {kind}.") for other in others]
    return tuple(found)


def _article(name: str) -> str:
    """The name in a sentence: "an accent", but "common time"."""
    return name if name.endswith(" time") else f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _elsewhere(sign: Sign) -> str:
    """How a sign that is not printed here would look, without the letter that marks a printed note."""
    return sign.looks.replace("the note marked a", "a note")


def _mixed_up(facts: SignMeaning) -> list[Sign]:
    """The signs it is taken for, then the others of its family, as far as the pupil has met them."""
    sign = sign_of(facts.sign)
    known = signs_known(facts.level)
    named = [sign_of(other) for other in sign.confused]
    found = [one for one in named if one in known]
    return found + [one for one in known if one.family == sign.family and one not in (sign, *found)]


def _slips(facts: SignMeaning) -> tuple[Slip, ...]:
    sign = sign_of(facts.sign)
    found: list[Slip] = []
    for other in _mixed_up(facts)[:3]:
        said = other.right(facts.ask)[0]
        if any(same_meaning(said, right) for right in sign.right(facts.ask)):
            continue
        remedy = f"Look again: you see {sign.looks}. For {_article(other.name)} you would see {_elsewhere(other)}."
        found.append(slip(f"took it for {_article(other.name)}", Value(words=said), said, remedy))
    return tuple(found)


def _work(facts: SignMeaning, method: str) -> tuple[Step, ...]:
    sign = sign_of(facts.sign)
    other = next(iter(_mixed_up(facts)), None)
    steps = [Step(f"Look closely: {sign.looks}."), Step(f"This is {_article(sign.name)}.", (), sign.name)]
    steps.append(Step(f"What it tells the player: {sign.meaning}.", (), sign.meaning))
    if other is not None:
        steps.append(Step(f"Check: for {_article(other.name)} you would see {_elsewhere(other)}."))
    else:
        steps.append(Step("Check: is there anything else near the notes that you have missed?"))
    return tuple(steps)


def _neighbours(facts: SignMeaning) -> tuple[Value, ...]:
    sign = sign_of(facts.sign)
    right = sign.right(facts.ask)
    others = [*_mixed_up(facts)[3:], *(one for one in signs_known(facts.level) if one.family != sign.family)]
    said = [one.right(facts.ask)[0] for one in others if one != sign]
    return tuple(Value(words=one) for one in said if not any(same_meaning(one, r) for r in right))


def _difficulty(facts: SignMeaning) -> float:
    """A sign of the newest level, and a name rather than a meaning, are harder (common practice)."""
    sign = sign_of(facts.sign)
    return -1.2 + (0.4 if sign.level == facts.level else 0.0) + (0.2 if facts.ask == "name" else 0.0) + 0.1 * sign.level


def _token(facts: SignMeaning) -> frozenset[str]:
    return frozenset({f"sign:{facts.sign}", f"term:{sign_of(facts.sign).name}"})


KIND = Kind(
    id="sign-meaning",
    topic="terms",
    since=1,
    title="What a sign is",
    facts=SignMeaning,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"sign-meaning/{facts.sign}",
    pool=lambda scope: sum(len(sign.asks) for sign in signs_known(scope.terms)),
    seconds=15,
    marking=Marking("all-or-nothing", meaning=True),
    neighbours=_neighbours,
    asks=_token,
    shows=_token,
)

"""Singing voices: their order from high to low, the clefs they read in a score, and their ranges."""

from __future__ import annotations

from random import Random
from string import ascii_lowercase
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Option, OrderForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import SATB, VOICES, clef_in_score, voice

_ASKS = ("order", "next", "clef", "range")
# From the highest to the lowest, and the range each is taught with. Source: common practice.
_HIGH_TO_LOW = ("soprano", "mezzo-soprano", "alto", "tenor", "baritone", "bass")
_TAUGHT = {"soprano": ("C4", "A5"), "alto": ("F3", "D5"), "tenor": ("C3", "A4"), "bass": ("E2", "C4")}
_CLEFS = {"soprano": "treble", "alto": "treble", "bass": "bass"}
_SCORES = {"open": "a score with a stave for each voice", "short": "a score on two staves"}
_MALE = ("tenor", "baritone", "bass")


class VoicesFacts(Facts, frozen=True, forbid_unknown_fields=True):
    """What is asked: the "order" of several voices, the "next" one up or down, a "clef", or whose "range" it is.

    `name` is the voice, `among` the voices in the order they are printed, `rising` from the lowest up, `score` "open"
    (a stave for each voice) or "short" (two staves), `notes` the lowest and the highest note of the range.

    Raises:
        BadDocument: the question is not one of these, or it has no answer.
    """

    ask: str
    name: Word = ""
    among: Annotated[tuple[Word, ...], Meta(max_length=6)] = ()
    rising: bool = False
    score: Annotated[str, Meta(max_length=8)] = ""
    notes: Annotated[tuple[Word, ...], Meta(max_length=2)] = ()

    def __post_init__(self) -> None:
        if self.ask == "order":
            found = {voice(name).name for name in self.among}
            fits = 3 <= len(found) == len(self.among)
        elif self.ask == "next":
            fits = _next(self.name, 1 if self.rising else -1) is not None
        elif self.ask == "clef":
            fits = self.name in SATB and self.score in _SCORES
        else:
            fits = self.ask == "range" and len(self.notes) == 2 and _owner(self.notes) is not None
        if not fits:
            raise BadDocument(f"no such question on voices: {self.ask!r} of {self.name or ', '.join(self.among)!r}")


def _next(name: str, up: int) -> str | None:
    """The voice next above (up 1) or below (up -1) another."""
    names = tuple(VOICES)
    at = names.index(voice(name).name) - up
    return names[at] if 0 <= at < len(names) else None


def _owner(notes: tuple[str, ...]) -> str | None:
    """The voice of the choir that is taught with this range."""
    low, high = (Pitch.parse(note) for note in notes)
    return next((name for name in SATB if (VOICES[name].low, VOICES[name].high) == (low, high)), None)


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    ask = rng.choice(_ASKS)
    rising = rng.random() < 0.5
    if ask == "order":
        places = sorted(rng.sample(range(len(_HIGH_TO_LOW)), rng.choice((3, 4, 4, 6))))
        ordered = [_HIGH_TO_LOW[place] for place in places]
        among = ordered[:]
        while among in (ordered, ordered[::-1]):
            rng.shuffle(among)
        meant = tuple(ascii_lowercase[among.index(name)] for name in (ordered[::-1] if rising else ordered))
        return Draft(VoicesFacts("order", among=tuple(among), rising=rising), Value(order=meant))
    if ask == "next":
        at = rng.randrange(len(_HIGH_TO_LOW) - 1)
        rising = rising and at > 0  # the word mezzo-soprano would say the answer
        upper, lower = _HIGH_TO_LOW[at : at + 2]
        name, meant_name = (lower, upper) if rising else (upper, lower)
        return Draft(VoicesFacts("next", name, rising=rising), meant_name)
    name = rng.choice((*_TAUGHT, "tenor"))
    if ask == "clef":
        score = rng.choice(tuple(_SCORES))
        clef = _CLEFS.get(name, "treble" if score == "open" else "bass")
        return Draft(VoicesFacts("clef", name, score=score), f"{clef} clef")
    return Draft(VoicesFacts("range", notes=_TAUGHT[name]), name)


def _pose(facts: VoicesFacts, wording: Wording) -> Posed:
    if facts.ask == "order":
        first = "lowest" if facts.rising else "highest"
        options = tuple(Option(letter, text=name) for letter, name in zip(ascii_lowercase, facts.among, strict=False))
        if wording.choosing:
            named = f"{', '.join(facts.among[:-1])} and {facts.among[-1]}"
            return Posed((TextBlock(f"Which is the right order of {named}, the {first} first?"),))
        return Posed((TextBlock(f"Put these voices in order, the {first} first."),), OrderForm(options))
    if facts.ask == "next":
        return Posed((TextBlock(f"Of the six kinds of voice, which is the next {_way(facts)} than the {facts.name}?"),))
    if facts.ask == "clef":
        text = f"Which clef does the {facts.name} read in {_SCORES[facts.score]}?"
        return Posed((TextBlock(wording.say(text)),))
    low, high = (_where(Pitch.parse(note)) for note in facts.notes)
    text = f"A voice of the choir sings from about {low} up to {high}, as it sounds. Which voice is it?"
    return Posed((TextBlock(wording.say(text)),))


_OCTAVES = {
    2: "the {} in the second octave below middle C",
    3: "the {} below middle C",
    4: "the {} above middle C",
    5: "the {} in the second octave above middle C",
}


def _where(pitch: Pitch) -> str:
    """A pitch in words, by its distance from middle C."""
    if pitch.step == "C" and pitch.octave in (3, 4):
        return "middle C" if pitch.octave == 4 else "the C an octave below middle C"
    return _OCTAVES.get(pitch.octave, "the {}").format(pitch.name.text)


def _way(facts: VoicesFacts) -> str:
    return "higher" if facts.rising else "lower"


def _order(facts: VoicesFacts) -> tuple[str, ...]:
    names = [voice(name).name for name in facts.among]
    letters = ascii_lowercase[: len(names)]
    high_first = sorted(letters, key=lambda letter: tuple(VOICES).index(names[letters.index(letter)]))
    return tuple(reversed(high_first)) if facts.rising else tuple(high_first)


def _tell(facts: VoicesFacts, value: Value) -> str:
    return ", ".join(facts.among[ascii_lowercase.index(letter)] for letter in value.order or () if letter.isalpha())


def _solve(facts: VoicesFacts) -> tuple[Answer, ...]:
    if facts.ask == "order":
        value = Value(order=_order(facts))
        reason = f"From the highest to the lowest the voices are {', '.join(VOICES)}."
        return (answer(value, _tell(facts, value), reason),)
    if facts.ask == "next":
        right = _next(facts.name, 1 if facts.rising else -1) or ""
        return (answer(Value(words=right), right, f"The {right} lies next {_way(facts)} than the {facts.name}."),)
    if facts.ask == "clef":
        right = f"{clef_in_score(facts.name, facts.score)} clef"
        more = " and sounds an octave lower" if (facts.name, facts.score) == ("tenor", "open") else ""
        reason = f"In {_SCORES[facts.score]} the {facts.name} reads the {right}{more}."
        return (answer(Value(words=right), right, reason),)
    right = _owner(facts.notes) or ""
    low, high = (Pitch.parse(note).short for note in facts.notes)
    return (answer(Value(words=right), right, f"The {right} sings from about {low} to {high}."),)


def _slips(facts: VoicesFacts) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, said: str, remedy: str) -> None:
        if all(said != one.text for one in found):
            found.append(slip(name, Value(words=said), said, remedy))

    if facts.ask == "order":
        return _wrong_orders(facts)
    if facts.ask == "next":
        order = tuple(VOICES)
        own = order.index(voice(facts.name).name)
        at = own - 1 if facts.rising else own + 1
        say = f"Say them in order: {', '.join(order)}."
        if 0 <= 2 * at - own < len(order):
            add("mixed up two neighbours", order[2 * at - own], say)
        if 0 <= 2 * own - at < len(order):
            add("went the other way", order[2 * own - at], f"Read again: {_way(facts)} than the {facts.name}.")
        other = "baritone" if facts.name not in _MALE else "mezzo-soprano"
        add("forgot one of the voices between", other, say)
    elif facts.ask == "clef":
        right = clef_in_score(facts.name, facts.score)
        for why, clef in (
            ("took the other score for it", "bass" if right == "treble" else "treble"),
            ("went by the name of the voice", facts.name if facts.name in ("alto", "tenor") else "tenor"),
            ("took an old clef", "alto"),
        ):
            add(why, f"{clef} clef", "High voices read the treble clef, the bass the bass clef; the tenor reads both.")
    else:
        right = _owner(facts.notes) or ""
        at = SATB.index(right)
        for name in sorted(SATB, key=lambda name: abs(SATB.index(name) - at)):
            if name != right:
                near = abs(SATB.index(name) - at) == 1
                why = "mixed up two neighbours" if near else "mixed up high and low voices"
                add(why, name, f"The {name} sings from about {VOICES[name].low.short} to {VOICES[name].high.short}.")
    return tuple(found)


def _wrong_orders(facts: VoicesFacts) -> tuple[Slip, ...]:
    order = _order(facts)
    wrong = []
    for at in range(len(order) - 1):
        pair = [facts.among[ascii_lowercase.index(letter)] for letter in order[at : at + 2]]
        name = "mezzo-soprano and alto swapped" if set(pair) == {"mezzo-soprano", "alto"} else "neighbours swapped"
        wrong.append((name, (*order[:at], order[at + 1], order[at], *order[at + 2 :])))
    wrong.sort(key=lambda one: one[0] == "neighbours swapped")
    wrong.append(("began at the wrong end", order[::-1]))
    remedy = f"Say them all, from the highest down: {', '.join(VOICES)}."
    return tuple(slip(name, Value(order=one), _tell(facts, Value(order=one)), remedy) for name, one in wrong)


def _work(facts: VoicesFacts, method: str) -> tuple[Step, ...]:
    right = _solve(facts)[0]
    say = Step(f"Say the voices from the highest to the lowest: {', '.join(VOICES)}.", (), "S A T B")
    if facts.ask == "order":
        return (say, Step(f"Keep those that are asked, in that order: {right.text}.", (), right.text), _CHECK)
    if facts.ask == "next":
        return (say, Step(f"Go one step {_way(facts)} from the {facts.name}: {right.text}.", (), right.text), _CHECK)
    if facts.ask == "clef":
        return (
            Step("Women's and children's voices read the treble clef, the bass always the bass clef."),
            Step("The tenor shares the lower stave on two staves; on a stave of its own it has a treble clef."),
            Step(right.reason, (), right.text),
            Step("Check: with a stave for each voice the tenor sounds an octave lower than written."),
        )
    return (
        Step(f"Say the lowest and the highest note: {' and '.join(facts.notes)}.", (), " to ".join(facts.notes)),
        Step(right.reason, (), right.text),
        Step("Check: a soprano begins at middle C, a tenor an octave below it."),
    )


_CHECK = Step("Check: tenor, baritone and bass are men's voices, so they are the low ones.")


def _difficulty(facts: VoicesFacts) -> float:
    """Four voices are well known, six less so; clefs and ranges are harder (common practice)."""
    return {"order": -1.0 + 0.2 * len(facts.among), "next": -0.4, "clef": 0.1, "range": 0.3}[facts.ask]


def _tokens(facts: VoicesFacts) -> frozenset[str]:
    return frozenset({f"voices:{facts.ask}"})


KIND = Kind(
    id="voices",
    topic="instruments",
    since=5,
    title="Voices",
    facts=VoicesFacts,
    forms={"written": "order", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"voices/{facts.ask}",
    pool=lambda scope: None,
    seconds=20,
    marking=Marking("all-or-nothing"),
    tell=_tell,
    asks=_tokens,
    shows=_tokens,
)

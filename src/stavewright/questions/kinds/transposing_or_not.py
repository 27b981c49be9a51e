"""Whether an instrument transposes, and by which interval it sounds above or below what is written."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.instrument import Instrument, instrument
from stavewright.theory.pitch import Pitch

# How each sounds against what is written. Sources: Schmidt-Jones, Understanding Your French Horn (m10672); Gehrkens,
# Music Notation and Terminology (1914), Appendix B.
_SOUNDS = {
    "clarinet in B flat": "a major 2nd lower", "clarinet in A": "a minor 3rd lower", "trumpet in B flat":
    "a major 2nd lower", "cornet in B flat": "a major 2nd lower", "horn in F": "a perfect 5th lower", "cor anglais":
    "a perfect 5th lower", "alto saxophone": "a major 6th lower", "clarinet in E flat": "a minor 3rd higher",
    "piccolo": "an octave higher", "double bass": "an octave lower", "guitar": "an octave lower",
    "contrabassoon": "an octave lower", "xylophone": "an octave higher",
}  # fmt: skip
# These transpose whichever of their sizes is meant.
_MOVING = ("clarinet", "bass clarinet", "cor anglais", "horn", "alto saxophone", "tenor saxophone")
_AS_WRITTEN = ("violin", "viola", "cello", "flute", "oboe", "bassoon", "trombone", "tuba", "harp", "piano", "timpani")
_LIKE_THEM = ("flute", "oboe", "bassoon", "trombone", "tuba", "viola")
_OCTAVE = "perfect octave"
_CHOICES = 4
_PLAIN = "as written"
_GUESSES = ("major 2nd", "minor 3rd", "perfect 5th", "major 6th")


class TransposingOrNot(Facts, frozen=True, forbid_unknown_fields=True):
    """One instrument, whose interval is asked, or several, of which one transposes (`odd` "does") or does not ("not").

    Raises:
        BadDocument: neither one nor several, or not exactly one of several is what is asked.
    """

    name: Word = ""
    among: Annotated[tuple[Word, ...], Meta(max_length=8)] = ()
    odd: Annotated[str, Meta(max_length=8)] = ""

    def __post_init__(self) -> None:
        if bool(self.name) == bool(self.among) or bool(self.among) != (self.odd in ("does", "not")):
            raise BadDocument("name one instrument, or several and whether one of them does or does not transpose")
        if self.name:
            instrument(self.name)
        fitting = [one for one in self.among if (instrument(one).transposes is not None) == (self.odd == "does")]
        if self.among and len(fitting) != 1:
            raise BadDocument(f"{len(fitting)} of {', '.join(self.among)} fit, exactly one must")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if rng.random() < 0.6:
        name = rng.choice((*_SOUNDS, *rng.sample(_AS_WRITTEN, 2)))
        return Draft(TransposingOrNot(name), f"{_SOUNDS[name]} than written" if name in _SOUNDS else "as written")
    does = rng.random() < 0.6
    right = rng.choice(_MOVING if does else _LIKE_THEM)
    others = rng.sample(_LIKE_THEM if does else _MOVING, _CHOICES - 1)
    among = [right, *others]
    rng.shuffle(among)
    return Draft(TransposingOrNot("", tuple(among), "does" if does else "not"), right)


def _pose(facts: TransposingOrNot, wording: Wording) -> Posed:
    if facts.name:
        text = f"A part is written for the {facts.name}. How does it sound?"
    elif facts.odd == "does":
        text = "Which of these sounds higher or lower than its part is written?"
    else:
        text = "Which of these sounds just as its part is written?"
    return Posed((TextBlock(wording.say(text)),))


def _size(one: Instrument) -> str:
    if one.transposes is None:
        return ""
    text = one.transposes.text
    if text == _OCTAVE:
        return "an octave"
    return f"{'an' if text[0] in 'aeiou' else 'a'} {text}"


def _how(one: Instrument) -> str:
    """How an instrument sounds, in words."""
    if one.transposes is None:
        return _PLAIN
    return f"{_size(one)} {'higher' if one.sounds_higher else 'lower'} than written"


def _right(facts: TransposingOrNot) -> str:
    return next(one for one in facts.among if (instrument(one).transposes is not None) == (facts.odd == "does"))


def _example(one: Instrument) -> str:
    """What sounds when its player reads C; an instrument an octave away plays another C."""
    c = Pitch("C", 0, 5)
    heard = one.sounding(c)
    if one.transposes is not None and heard.name == c.name:
        count = abs(heard.octave - c.octave)
        far = "an octave" if count == 1 else f"{('', '', 'two', 'three')[count]} octaves"
        return f"reads C and you hear the C {far} {'higher' if one.sounds_higher else 'lower'}"
    return f"reads C and you hear {heard.name.text}"


def _solve(facts: TransposingOrNot) -> tuple[Answer, ...]:
    if facts.name:
        one = instrument(facts.name)
        reason = f"A player of the {facts.name} {_example(one)}: it sounds {_how(one)}."
        found = [answer(Value(words=_how(one)), _how(one), reason)]
        if "octave" in _how(one):
            other = _how(one).replace("an octave", "a perfect octave")
            found.append(answer(Value(words=other), other, "The octave is perfect."))
        return tuple(found)
    right = _right(facts)
    one = instrument(right)
    reason = f"The {right} sounds {_how(one)}; its player {_example(one)}."
    return (answer(Value(words=right), right, reason),)


def _slips(facts: TransposingOrNot) -> tuple[Slip, ...]:
    return _wrong_intervals(facts.name) if facts.name else _wrong_names(facts)


def _wrong_intervals(name: str) -> tuple[Slip, ...]:
    one = instrument(name)
    found: list[Slip] = []

    def add(why: str, text: str, remedy: str) -> None:
        if all(text != known.text for known in found):
            found.append(slip(why, Value(words=text), text, remedy))

    if one.transposes is None:
        look = "No letter stands in its name: it sounds what is written."
        add("took it for one in B flat", "a major 2nd lower than written", look)
        add("took it for one in F", "a perfect 5th lower than written", look)
        add("took it for one an octave away", "an octave lower than written", look)
        return tuple(found)
    away = "lower" if one.sounds_higher else "higher"
    key = name.rsplit(" in ", 1)
    look = f"It {_example(one)}." if len(key) == 1 else f"In {key[1]}: it {_example(one)}."
    turn = "" if "octave" in look else " Is that up or down?"
    add("wrong direction", f"{_size(one)} {away} than written", f"{look}{turn}")
    turned = one.transposes.inversion
    article = "an" if turned.text[0] in "aeiou" else "a"
    if one.transposes.text != _OCTAVE:
        same = "higher" if one.sounds_higher else "lower"
        add("turned the interval round", f"{article} {turned.text} {same} than written", look)
    add("took it for one that does not transpose", _PLAIN, look)
    for size in _GUESSES:
        if size != one.transposes.text:
            add("took it for another instrument", f"a {size} lower than written", look)
            break
    return tuple(found)


def _wrong_names(facts: TransposingOrNot) -> tuple[Slip, ...]:
    found = []
    for name in facts.among:
        if name == _right(facts):
            continue
        one = instrument(name)
        same = one.family == instrument(_right(facts)).family
        why = "went by the family" if same else f"mixed up the {one.family}"
        found.append(slip(why, Value(words=name), name, f"The {name} sounds {_how(one)}. Try each of the four."))
    return tuple(found)


def _work(facts: TransposingOrNot, method: str) -> tuple[Step, ...]:
    if facts.name:
        one = instrument(facts.name)
        key = facts.name.rsplit(" in ", 1)
        if one.transposes is None:
            first = Step(f"The {facts.name} has no letter in its name and is not one of those that transpose.")
        elif len(key) == 2:
            first = Step(f"The name says it: in {key[1]}. When it reads C, you hear {key[1]}.", (), f"C is {key[1]}")
        else:
            first = Step(f"Remember what sounds when it reads C: it {_example(one)}.")
        return (
            first,
            Step(f"So the {facts.name} sounds {_how(one)}.", (), _how(one)),
            Step("Check the direction: is the sound above or below what the player reads?"),
        )
    tried = [f"{name}: {_how(instrument(name))}" for name in facts.among]
    return (
        Step(f"Go through them one by one. {'; '.join(tried).capitalize()}."),
        Step(_solve(facts)[0].reason, (), _right(facts)),
        Step("Check that none of the others fits as well."),
    )


def _neighbours(facts: TransposingOrNot) -> tuple[Value, ...]:
    if not facts.name:
        return ()
    away = "higher" if instrument(facts.name).sounds_higher else "lower"
    return tuple(Value(words=f"a {size} {away} than written") for size in _GUESSES)


def _difficulty(facts: TransposingOrNot) -> float:
    """To pick one of several is easier than to know the interval; B flat is met oftenest (common practice)."""
    if not facts.name:
        return -0.4
    return 0.0 if "B flat" in facts.name or instrument(facts.name).transposes is None else 0.4


def _tokens(facts: TransposingOrNot) -> frozenset[str]:
    return frozenset(f"transposing:{name}" for name in (facts.among or (facts.name,)))


KIND = Kind(
    id="transposing-or-not",
    topic="instruments",
    since=5,
    title="Transposing instruments",
    facts=TransposingOrNot,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"transposing-or-not/{'interval' if facts.name else 'which'}",
    pool=lambda scope: None,
    seconds=20,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=_tokens,
    shows=_tokens,
)

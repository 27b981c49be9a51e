"""What an instrument is: its family, its reeds, its clef, how it is played, and which directions make sense on it."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.solving.instruments import (
    REEDS,
    SOUNDED,
    because,
    belongs,
    has,
    in_short,
    it_is,
    said,
    told,
    wrong_clefs,
    wrong_families,
    wrong_playing,
    wrong_reeds,
)
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.instrument import FAMILIES, Instrument, instrument

# The instruments of the orchestra that are asked, each by its everyday name.
ORCHESTRA = (
    "violin", "viola", "cello", "double bass", "harp", "piccolo", "flute", "oboe", "cor anglais", "clarinet",
    "alto saxophone", "bassoon", "trumpet", "horn", "trombone", "tuba", "timpani", "side drum", "bass drum", "cymbals",
    "triangle", "tambourine", "xylophone", "glockenspiel", "piano",
)  # fmt: skip
ASKED = ("family", "reeds", "clef", "playing")
_DIRECTIONS = ("pizzicato", "arco", "con sordini", "col legno", "down bow", "una corda", "tonguing")
_CLEF_NAMES = ("treble clef", "alto clef", "bass clef")
_OPTIONS = {
    "family": FAMILIES,
    "reeds": tuple(REEDS.values()),
    "clef": _CLEF_NAMES,
    "playing": tuple(dict.fromkeys(SOUNDED.values())),
}
_QUESTIONS = {
    "family": "To which family does the {name} belong?",
    "reeds": "Which does the {name} have?",
    "clef": "Which clef does the {name} usually read?",
    "playing": "In an orchestra, how is the {name} usually played?",
}
_WHICH = {
    "family": "Which of these belongs to the {what} family?",
    "reeds": "Which of these has {what}?",
    "clef": "Which of these usually reads the {what}?",
    "playing": "In an orchestra, which of these is usually played {what}?",
    "direction": "Which of these could be told to play “{what}”?",
}
_DIRECTION_QUESTION = {
    "down bow": "Which of these can play a note with a down bow?",
    "tonguing": "Which of these is played with tonguing?",
}
_CHOICES = 4
_REMEDIES = {
    "family": "Picture a player with it: how is the sound made, and who sits beside them?",
    "playing": "Picture a player with it: what do the hands and the mouth do?",
    "reeds": "Picture where the player blows: across a hole, one thin reed, or two reeds bound together?",
    "clef": "Think how high or low it plays. High ones read the treble clef, low ones the bass, the viola the alto.",
}


class InstrumentFacts(Facts, frozen=True, forbid_unknown_fields=True):
    """What is asked ("family", "reeds", "clef", "playing" or "direction"): of one instrument, or which of several.

    Where `among` names several, exactly one of them has the property `what`.

    Raises:
        BadDocument: neither one instrument nor several, or not exactly one of several has it.
    """

    ask: str
    name: str = ""
    what: str = ""
    among: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if bool(self.name) == bool(self.among) or self.ask not in (*ASKED, *(("direction",) if self.among else ())):
            raise BadDocument(
                "a question on instruments names one instrument and asks one thing, or picks from several"
            )
        fitting = [name for name in self.among if has(instrument(name), self.ask, self.what)]
        if self.among and len(fitting) != 1:
            raise BadDocument(f"{len(fitting)} of {', '.join(self.among)} fit {self.what!r}; exactly one must")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    return _one(rng) if rng.random() < 0.5 else _several(rng)


def _one(rng: Random) -> Draft | None:
    ask = rng.choice(ASKED)
    name = rng.choice([name for name in ORCHESTRA if _askable(instrument(name), ask)])
    table = instrument(name)
    plain = {
        "family": table.family,
        "reeds": {"single": "a single reed", "double": "a double reed"}.get(table.reeds or "", "no reed"),
        "clef": f"{table.clefs[0] if table.clefs else ''} clef",
        "playing": {"bowed": "with a bow", "blown": "by blowing", "plucked": "by plucking strings"}.get(
            table.sounded, "by striking"
        ),
    }
    return Draft(InstrumentFacts(ask, name), plain[ask])


def _askable(one: Instrument, ask: str) -> bool:
    """Whether a thing can be fairly asked: reeds of woodwind, a clef where one is usual."""
    if ask == "reeds":
        return one.family == "woodwind"
    return ask != "clef" or (one.sounded != "unpitched" and one.clefs[:2] != ("treble", "bass"))


def _several(rng: Random) -> Draft | None:
    ask = rng.choice((*ASKED, "direction"))
    whats = {"direction": _DIRECTIONS, "clef": ("alto clef", "bass clef"), "reeds": ("a single reed", "a double reed")}
    what = rng.choice(whats.get(ask) or [plain for plain in _OPTIONS[ask] if plain != "keyboard"])
    fitting, others = [], []
    for name in ORCHESTRA:
        table = instrument(name)
        fits, near = _table_says(table, ask, what)
        if fits:
            fitting.append(name)
        elif not near:
            others.append(name)
    right = rng.choice(fitting)
    kin = [name for name in others if instrument(name).family == instrument(right).family]
    mates = rng.sample(kin, min(len(kin), 2))
    far = [name for name in others if name not in mates]
    among = [right, *mates, *rng.sample(far, _CHOICES - 1 - len(mates))]
    rng.shuffle(among)
    return Draft(InstrumentFacts(ask, "", what, tuple(among)), right)


def _table_says(table: Instrument, ask: str, what: str) -> tuple[bool, bool]:
    """Whether the table gives an instrument the property as its usual one, and whether in a lesser way."""
    if ask == "direction":
        # Old piano music says "con sordini" of its dampers (common knowledge): no wrong answer beside strings or brass.
        return table.has_technique(what), table.name == "piano" and "sordin" in what
    if ask == "clef":
        clef = what.removesuffix(" clef")
        single = table.clefs[:2] != ("treble", "bass")
        return single and table.clefs[:1] == (clef,), clef in table.clefs or not table.clefs
    if ask == "reeds":
        return table.reeds == what.split()[1], False
    if ask == "family":
        return table.family == what, False
    kinds = {"with a bow": ("bowed",), "by blowing": ("blown",), "by plucking strings": ("plucked",)}
    return table.sounded in kinds.get(what, ("struck", "unpitched")), table.sounded == "bowed" and "pluck" in what


def _pose(facts: InstrumentFacts, wording: Wording) -> Posed:
    if facts.name:
        text = _QUESTIONS[facts.ask].format(name=facts.name)
    else:
        text = _DIRECTION_QUESTION.get(facts.what, _WHICH[facts.ask]).format(
            what="string" if facts.what == "strings" else facts.what
        )
    return Posed((TextBlock(wording.say(text)),))


def _right(facts: InstrumentFacts) -> str:
    return next(name for name in facts.among if has(instrument(name), facts.ask, facts.what))


def _solve(facts: InstrumentFacts) -> tuple[Answer, ...]:
    if facts.name:
        found = said(instrument(facts.name), facts.ask)
        return (answer(Value(words=found), found, because(facts.name, facts.ask)),)
    right = _right(facts)
    if facts.ask == "direction":
        does = "is what its players do" if facts.what == "tonguing" else "is a direction for its players"
        reason = f"{belongs(right)}, and “{facts.what}” {does}."
    else:
        reason = because(right, facts.ask)
    return (answer(Value(words=right), right, reason),)


def _slips(facts: InstrumentFacts) -> tuple[Slip, ...]:
    if facts.name:
        one = instrument(facts.name)
        rules = {"family": wrong_families, "reeds": wrong_reeds, "clef": wrong_clefs, "playing": wrong_playing}
        remedy = _REMEDIES[facts.ask]
        return tuple(slip(name, Value(words=wrong), wrong, remedy) for name, wrong in rules[facts.ask](one))
    right = _right(facts)
    found = []
    for name in facts.among:
        if name != right:
            same = instrument(name).family == instrument(right).family
            why = "went by the family alone" if same else f"took the {name} for one that has it"
            found.append(slip(why, Value(words=name), name, f"{told(name, facts.ask)} Try each of the four in turn."))
    return tuple(found)


def _work(facts: InstrumentFacts, method: str) -> tuple[Step, ...]:
    if facts.name:
        one = instrument(facts.name)
        mates = [name for name in ORCHESTRA if instrument(name).family == one.family and name != facts.name][:2]
        return (
            Step(f"Picture a player: {it_is(facts.name).lower()} played {SOUNDED[one.sounded]}.")
            if facts.ask in ("family", "reeds")
            else Step(f"{belongs(facts.name)}."),
            Step(because(facts.name, facts.ask), (), said(one, facts.ask)),
            _check(facts, mates),
        )
    right = _right(facts)
    tried = "; ".join(in_short(name, facts.ask) for name in facts.among)
    return (
        Step(f"Go through them one by one. {tried[0].upper()}{tried[1:]}."),
        Step(_solve(facts)[0].reason, (), right),
        Step("Check that none of the others fits as well."),
    )


def _check(facts: InstrumentFacts, mates: list[str]) -> Step:
    kin = [in_short(name, facts.ask) for name in mates]
    if not kin:
        return Step("Check: does a picture of one, with its player, fit your answer?")
    return Step(f"Check: compare {'its relation' if len(kin) == 1 else 'its relations'}, {'; '.join(kin)}.")


def _options(facts: InstrumentFacts) -> tuple[Value, ...]:
    return tuple(Value(words=one) for one in facts.among or _OPTIONS[facts.ask])


def _difficulty(facts: InstrumentFacts) -> float:
    """Families are easy, then ways of playing, reeds and clefs, directions (common practice)."""
    base = {"family": -1.2, "playing": -1.0, "reeds": -0.2, "clef": -0.1, "direction": 0.1}[facts.ask]
    return base + (0.2 if facts.among else 0.0)


def _token(facts: InstrumentFacts) -> frozenset[str]:
    return frozenset({f"instrument:{facts.name or _right(facts)}"})


KIND = Kind(
    id="instrument-facts",
    topic="instruments",
    since=4,
    title="Instruments of the orchestra",
    facts=InstrumentFacts,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"instrument-facts/{facts.ask}",
    pool=lambda scope: None,
    seconds=15,
    marking=Marking("all-or-nothing"),
    options=_options,
    asks=_token,
    shows=_token,
)

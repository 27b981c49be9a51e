"""The relative major or minor of a key: its name, or the signature that the two share."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import MOST_SIGNS, Key, key_of, nearest_key, signature_signs, signature_text
from stavewright.theory.pitch import NoteName


class RelativeKey(Facts, frozen=True, forbid_unknown_fields=True):
    """A key by name, and what is asked of its relative: its name ("key") or its signature ("signature")."""

    key: str
    ask: str = "key"


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if not scope.relatives:
        return None
    tonic = NoteName.parse(pick(rng, scope.relatives, scope.fresh.get("relatives", ())))
    major = Key(tonic, "major")
    # The minor tonic lies three places back on the circle of fifths.
    minor = Key(NoteName.from_fifths(tonic.fifths + 3), "minor")
    given, meant = (major, minor) if rng.random() < 0.5 else (minor, major)
    if rng.random() < 0.75:
        return Draft(RelativeKey(given.text, "key"), meant.text)
    return Draft(RelativeKey(given.text, "signature"), signature_text(tonic.fifths))


def _pose(facts: RelativeKey, wording: Wording) -> Posed:
    relative = f"relative {Key.parse(facts.key).relative.mode}"
    if facts.ask == "key":
        ask = (
            f"Which key is the {relative} of {facts.key}?"
            if wording.choosing
            else f"Name the {relative} of {facts.key}."
        )
    elif wording.choosing:
        ask = f"What is the key signature of the {relative} of {facts.key}?"
    else:
        ask = f"How many sharps or flats has the {relative} of {facts.key}? Say which of the two they are."
    return Posed((TextBlock(wording.say(ask)),), None if wording.choosing else WordsForm("word"))


def _solve(facts: RelativeKey) -> tuple[Answer, ...]:
    key = Key.parse(facts.key)
    relative = key.relative
    if facts.ask == "key":
        reason = f"{key.text} and {relative.text} share the signature of {signature_text(key.fifths)}."
        alone = f"The question already says {relative.mode}, so the name of the note is enough."
        return (
            answer(Value(words=relative.text), relative.text, reason),
            answer(Value(words=relative.tonic.text), relative.tonic.text, alone),
        )
    return _signature_answers(key)


def _signature_answers(key: Key) -> tuple[Answer, ...]:
    count = signature_text(key.fifths)
    names = [sign.text for sign in signature_signs(key.fifths)]
    figure = count.partition(" ")[0]
    found = [answer(Value(words=count), count, f"Relative keys share one signature, and {key.text} has {count}.")]
    nothing = ("none", "0", "no signs", "nothing", "zero")
    named, letters = ", ".join(names), ", ".join(name[0] for name in names)
    some = (named, f"{count}: {named}", f"{count}: {letters}")
    other = nothing if figure == "no" else some
    for words in dict.fromkeys(other):
        found.append(answer(Value(words=words), words, "The same signature, said in another way."))
    return tuple(found)


def _slips(facts: RelativeKey) -> tuple[Slip, ...]:
    key = Key.parse(facts.key)
    wrong = _wrong_signatures(key) if facts.ask == "signature" else _wrong_keys(key)
    return tuple(slip(name, Value(words=words), words, remedy) for name, words, remedy in wrong)


def _wrong_keys(key: Key) -> list[tuple[str, str, str]]:
    mode = key.relative.mode
    way = "down" if mode == "minor" else "up"
    count = f"Count three semitones {way} from {key.tonic.text}."
    found = [("parallel for relative", nearest_key(key.tonic, mode).text, f"The relative has another tonic. {count}")]
    other = nearest_key(NoteName.from_fifths(key.tonic.fifths + (-3 if mode == "minor" else 3)), mode)
    found.append(("counted the wrong way", other.text, count))
    four = nearest_key(NoteName.from_fifths(key.tonic.fifths + (-4 if mode == "minor" else 4)), mode)
    found.append(("a semitone too far", four.text, count))
    for fifths in (key.fifths - 1, key.fifths + 1):
        if abs(fifths) <= MOST_SIGNS:
            found.append(
                ("signature miscounted", key_of(fifths, mode).text, "Check the signature of the key you know.")
            )
    return found


def _wrong_signatures(key: Key) -> list[tuple[str, str, str]]:
    share = "Relative keys always share one signature."
    found = []
    parallel = key.relative.parallel
    found.append(("signature of the relative's own parallel", signature_text(parallel.fifths), share))
    found.append(("parallel for relative", signature_text(key.parallel.fifths), share))
    if key.fifths:
        found.append(("sharps and flats mixed", signature_text(-key.fifths), "Ask first: sharps or flats?"))
    for name, fifths in (("one sign too few", key.fifths - 1), ("one sign too many", key.fifths + 1)):
        if abs(fifths) <= MOST_SIGNS:
            found.append((name, signature_text(fifths), f"{share} Count its signs once more."))
    return found


def _work(facts: RelativeKey, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    count = signature_text(key.fifths)
    if facts.ask == "signature":
        return (
            Step("Relative keys always share one signature.", (), ""),
            Step(f"The signature of {key.text} is {count}.", (), count),
            Step(f"Check: name the relative too. It is {key.relative.text}.", (), key.relative.short),
        )
    relative = key.relative
    if method == "by signature":
        middle = [
            Step(f"{key.text} has {count}.", (), count),
            Step(f"The {relative.mode} key with {count} is {relative.text}.", (), relative.short),
        ]
    else:
        way, side = ("down", "below") if relative.is_minor else ("up", "above")
        middle = [
            Step(f"A relative {relative.mode} starts three semitones {side} the {key.mode} tonic.", (), f"3 {way}"),
            Step(
                f"Three semitones {side} {key.tonic.text}, two letters away, is {relative.text}.",
                (),
                relative.short,
            ),
        ]
    return (*middle, Step(f"Check: both keys must have the same signature, here {count}.", (), ""))


def _neighbours(facts: RelativeKey) -> tuple[Value, ...]:
    key = Key.parse(facts.key)
    near = [key.fifths + step for step in (-2, 2, 3, -3) if abs(key.fifths + step) <= MOST_SIGNS]
    if facts.ask == "signature":
        return tuple(Value(words=signature_text(fifths)) for fifths in near)
    return tuple(Value(words=key_of(fifths, key.relative.mode).text) for fifths in near)


def _difficulty(facts: RelativeKey) -> float:
    """More signs make it harder, and so does starting from the minor key (common practice)."""
    key = Key.parse(facts.key)
    return -0.7 + 0.25 * abs(key.fifths) + 0.2 * key.is_minor + (0.1 if facts.ask == "signature" else 0.0)


def _asks(facts: RelativeKey) -> frozenset[str]:
    key = Key.parse(facts.key)
    if facts.ask == "key":
        return frozenset({f"relative:{key.text}", f"relative:{key.relative.text}"})
    return frozenset({f"signature:{key.text}", f"signature:{key.relative.text}"})


KIND = Kind(
    id="relative-key",
    topic="keys",
    since=2,
    title="Relative major and minor",
    facts=RelativeKey,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"relative-key/{facts.key}",
    pool=lambda scope: 4 * len(scope.relatives),
    seconds=20,
    neighbours=_neighbours,
    asks=_asks,
    methods=("usual", "by signature"),
)

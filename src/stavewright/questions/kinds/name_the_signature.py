"""Name the key of a printed signature: the major key, or the minor key that shares it."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.signature import signature_stave
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import MOST_SIGNS, Key, key_of, signature_signs, signature_text
from stavewright.theory.pitch import NoteName


class NameTheSignature(Facts, frozen=True, forbid_unknown_fields=True):
    """A signature as it is printed (sharps counted up, flats down) under a clef, and the mode that is asked for.

    `minors` says whether the pupil knows minor keys.
    """

    clef: str
    fifths: int
    mode: str
    minors: bool = True


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng)
    if key is None:
        return None
    minors = any(one.is_minor for one in scope.keys)
    return Draft(NameTheSignature(pick_clef(scope, rng), key.fifths, key.mode, minors), key.text)


def _pose(facts: NameTheSignature, wording: Wording) -> Posed:
    alt = f"A stave with the {facts.clef} clef and a key signature of {signature_text(facts.fifths)}."
    shown = StaveBlock(document_of(signature_stave(facts.clef, facts.fifths)), wording.say(alt))
    if wording.choosing:
        return Posed((TextBlock(f"Which {facts.mode} key has this key signature?"), shown))
    return Posed((TextBlock(f"Name the {facts.mode} key that has this key signature."), shown), WordsForm("word"))


def _solve(facts: NameTheSignature) -> tuple[Answer, ...]:
    key = key_of(facts.fifths, facts.mode)
    reason = f"The {facts.mode} key with {signature_text(facts.fifths)} is {key.text}."
    alone = f"The question already says {facts.mode}, so the name of the note is enough."
    return (
        answer(Value(words=key.text), key.text, reason),
        answer(Value(words=key.tonic.text), key.tonic.text, alone),
    )


def _wrong(name: str, words: str, remedy: str) -> Slip:
    return slip(name, Value(words=words), words, remedy)


def _slips(facts: NameTheSignature) -> tuple[Slip, ...]:
    key = key_of(facts.fifths, facts.mode)
    found: list[Slip] = []
    if key.is_minor:
        found.append(
            _wrong(
                "named the major tonic",
                f"{key.relative.tonic.text} minor",
                "Find the major key first, then count three semitones down to its relative minor.",
            )
        )
    again = "Count the signs again: each one makes a different key."
    near = [("one sign too few", -_away(facts), again), ("one sign too many", _away(facts), again)]
    if not facts.fifths:
        bare = "Nothing stands between the clef and the music: no sharps and no flats."
        near = [("took it for one flat", -1, bare), ("took it for one sharp", 1, bare)]
    for name, away, remedy in near:
        if abs(facts.fifths + away) <= MOST_SIGNS:
            found.append(_wrong(name, key_of(facts.fifths + away, facts.mode).text, remedy))
    if facts.fifths:
        last = signature_signs(facts.fifths)[-1]
        rule = (
            "A major tonic is a semitone above the last sharp."
            if facts.fifths > 0
            else "Look at the flat before the last."
        )
        found.append(_wrong("named the last sign", f"{last.text} {facts.mode}", rule))
        other = key_of(-facts.fifths, facts.mode)
        found.append(_wrong("sharps and flats mixed", other.text, "Look again: are the signs sharps or flats?"))
    if facts.minors:
        hint = f"The question asks for the {facts.mode} key of this signature."
        found.append(_wrong("relative swapped", key.relative.text, hint))
    return tuple(found)


def _away(facts: NameTheSignature) -> int:
    return 1 if facts.fifths >= 0 else -1


def _work(facts: NameTheSignature, method: str) -> tuple[Step, ...]:
    major = key_of(facts.fifths, "major")
    steps = [Step(f"The key signature has {signature_text(facts.fifths)}.", (), signature_text(facts.fifths))]
    steps += _by_circle(facts) if method == "circle of fifths" else _by_last_sign(facts)
    if facts.mode == "minor":
        minor = major.relative
        steps.append(
            Step(f"The relative minor starts three semitones below {major.tonic.text}: {minor.text}.", (), minor.short)
        )
    check = f"say the signs of {major.text} in order and count them."
    if not facts.fifths:
        check = f"play {key_of(0, facts.mode).text} in your head: it is all on the white keys, but for a raised 7th."
        check = check if facts.mode == "minor" else f"{check.partition(',')[0]}."
    steps.append(Step(f"Check: {check}", (), ""))
    return tuple(steps)


def _by_last_sign(facts: NameTheSignature) -> list[Step]:
    signs = signature_signs(facts.fifths)
    major = key_of(facts.fifths, "major")
    if not signs:
        return [Step("The major key with no sharps or flats is C major.", (), "C")]
    if facts.fifths > 0:
        return [
            Step(f"The last sharp is {signs[-1].text}; a semitone above it is {major.tonic.text}.", (), major.short)
        ]
    if len(signs) == 1:
        return [Step("One flat, B flat, has no flat before it: learn it as F major.", (), "F")]
    return [Step(f"The last flat but one is {signs[-2].text}, and that is the major key.", (), major.short)]


def _by_circle(facts: NameTheSignature) -> list[Step]:
    turn = 1 if facts.fifths > 0 else -1
    walked = [key_of(turn * n, "major").tonic.text for n in range(abs(facts.fifths) + 1)]
    way = "up a fifth for each sharp" if facts.fifths > 0 else "down a fifth for each flat"
    if not facts.fifths:
        return [Step("C major stands at the top of the circle, with no sharps or flats.", (), "C")]
    return [Step(f"From C go {way}: {', '.join(walked)}.", (), " ".join(NoteName.parse(w).short for w in walked))]


def _neighbours(facts: NameTheSignature) -> tuple[Value, ...]:
    near = [facts.fifths + step for step in (-2, 2, 3) if abs(facts.fifths + step) <= MOST_SIGNS]
    return tuple(Value(words=key_of(fifths, facts.mode).text) for fifths in near)


def _difficulty(facts: NameTheSignature) -> float:
    """More signs, the minor key and the C clefs each make it harder (common practice)."""
    return -1.1 + 0.25 * abs(facts.fifths) + 0.5 * (facts.mode == "minor") + 0.1 * (facts.clef in ("alto", "tenor"))


def _key(facts: NameTheSignature) -> Key:
    return key_of(facts.fifths, facts.mode)


KIND = Kind(
    id="name-the-signature",
    topic="keys",
    since=1,
    title="Name the key of a signature",
    facts=NameTheSignature,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"name-the-signature/{_key(facts).text}",
    pool=lambda scope: len(scope.keys) * len(scope.clefs),
    seconds=20,
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"signature:{_key(facts).text}"}),
    methods=("usual", "circle of fifths"),
)

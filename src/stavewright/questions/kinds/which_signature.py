"""Which of several key signatures is written as it should be: order, lines and spaces in the clef."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick, pick_clef
from stavewright.questions.setting.signature import laid_out, signed_keys
from stavewright.questions.showing.describing import where
from stavewright.questions.showing.signature import drawn_signature
from stavewright.questions.solving.signatures import ORDER, borrowed, layouts, octave_off, signs_text, written_signs
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, KeyText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import MOST_SIGNS, Key, signature_layout, signature_text
from stavewright.theory.pitch import Pitch


class WhichSignature(Facts, frozen=True, forbid_unknown_fields=True):
    """A key with a signature, and the clef under which the signatures to choose from are written.

    Raises:
        BadDocument: the key has no sharps or flats.
    """

    clef: ClefName
    key: KeyText

    def __post_init__(self) -> None:
        if not Key.parse(self.key).fifths:
            raise BadDocument(f"{self.key} has no key signature to look at: name a key with sharps or flats")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    everything, fresh = signed_keys(scope)
    key = pick(rng, everything, fresh)
    clef = pick_clef(scope, rng)
    return Draft(WhichSignature(clef, key.text), laid_out(key, clef))


def _pose(facts: WhichSignature, wording: Wording) -> Posed:
    ask = f"Which answer is the key signature of {facts.key}, with every sign in its place in the {facts.clef} clef?"
    return Posed((TextBlock(wording.say(ask)),))


def _signs(facts: WhichSignature) -> tuple[Pitch, ...]:
    return layouts(Key.parse(facts.key).fifths, facts.clef)[0]


def _solve(facts: WhichSignature) -> tuple[Answer, ...]:
    fifths = Key.parse(facts.key).fifths
    usual, *others = layouts(fifths, facts.clef)
    always = "their order and their places in each clef never change"
    if abs(fifths) == 1:
        always = "its place in each clef never changes"
    reason = f"{facts.key} has {signature_text(fifths)}; {always}."
    found = [answer(written_signs(usual), signs_text(usual), reason)]
    for other in others:
        also = "Sharps in the tenor clef are also printed in the shape that they have in the other clefs."
        found.append(answer(written_signs(other), signs_text(other), also))
    return tuple(found)


def _slips(facts: WhichSignature) -> tuple[Slip, ...]:
    fifths = Key.parse(facts.key).fifths
    signs = _signs(facts)
    found: list[Slip] = []

    def add(name: str, wrong: Iterable[Pitch], remedy: str) -> None:
        wrong = tuple(wrong)
        if wrong:
            found.append(slip(name, written_signs(wrong), signs_text(wrong), remedy))

    if len(signs) > 1:
        swapped = (*signs[:-2], signs[-1], signs[-2])
        add("last two signs in the wrong order", swapped, f"The order is always {ORDER[fifths > 0]}.")
    hint = "Each sign has one place of its own in this clef: learn the pattern."
    add("a sign in the wrong octave", octave_off(facts.clef, signs), hint)
    other = "bass" if facts.clef == "treble" else "treble"
    hint = f"Read the lines in the {facts.clef} clef: which letter does the first sign stand on?"
    add(f"laid out as in the {other} clef", borrowed(facts.clef, other, fifths), hint)
    slid = (*signs[:-1], Pitch.from_diatonic(signs[-1].diatonic - 1, signs[-1].alter))
    add("last sign a place too low", slid, "Read the letter of every sign, the last one too.")
    flipped = tuple(sign.altered(-2 * sign.alter) for sign in signs)
    add("flats for sharps" if fifths > 0 else "sharps for flats", flipped, "Does this key have sharps or flats?")
    for name, count in (("one sign too few", abs(fifths) - 1), ("one sign too many", abs(fifths) + 1)):
        if 1 <= count <= MOST_SIGNS:
            wrong = signature_layout(count if fifths > 0 else -count, CLEFS[facts.clef])
            add(name, wrong, "Count the signs of the key first.")
    turn = (abs(fifths) + len(facts.clef)) % len(found)  # so that not every question has the same three wrong options
    return (*found[turn:], *found[:turn])


def _work(facts: WhichSignature, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    signs = _signs(facts)
    kind = "sharp" if key.fifths > 0 else "flat"
    first = signs[0]
    place = where(CLEFS[facts.clef].place(first))
    short = " ".join(sign.step for sign in signs)
    which = "" if len(signs) == 1 else " first"
    steps = [
        Step(f"{key.text} has {signature_text(key.fifths)}.", (), signature_text(key.fifths)),
        Step(f"{'It is' if len(signs) == 1 else 'In order they are'} {signs_text(signs)}.", (), short),
        Step(f"In the {facts.clef} clef the{which} {kind}, {first.name.text}, is {place}.", (), ""),
    ]
    if len(signs) > 1:
        places = ", ".join(f"{sign.step} {where(CLEFS[facts.clef].place(sign))}" for sign in signs[1:])
        steps.append(Step(f"The others follow: {places}.", (), ""))
    steps.append(Step("Check: read the letter of every sign in this clef, from left to right.", (), ""))
    return tuple(steps)


def _draw(facts: WhichSignature, value: Value) -> Score:
    return drawn_signature(facts.clef, value)


def _difficulty(facts: WhichSignature) -> float:
    """More signs, the minor key and the less read clefs each make it harder (common practice)."""
    key = Key.parse(facts.key)
    clef = {"treble": 0.0, "bass": 0.1, "alto": 0.4, "tenor": 0.6}[facts.clef]
    return -1.5 + 0.18 * abs(key.fifths) + 0.4 * key.is_minor + clef


def _pool(scope: Scope) -> int:
    return len(signed_keys(scope)[0]) * len(scope.clefs)


KIND = Kind(
    id="which-signature",
    topic="keys",
    since=1,
    title="Which key signature",
    facts=WhichSignature,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"which-signature/{facts.key}",
    pool=_pool,
    seconds=25,
    marking=Marking("all-or-nothing"),
    draw=_draw,
    asks=lambda facts: frozenset({f"signature:{facts.key}"}),
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)

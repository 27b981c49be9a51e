"""Which clef makes a note on a bare stave the named one."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Step as Letter
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_pitch
from stavewright.questions.showing.describing import with_sign
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Sign, StavePlace
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_alter, sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.pitch import NoteName, Pitch

_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
_C_CLEFS = {"alto": "tenor", "tenor": "alto"}


class WhichClef(Facts, frozen=True, forbid_unknown_fields=True):
    """A note on a stave without a clef (place, sign), the letter it is meant to be, and the clefs to choose from.

    Raises:
        BadDocument: none of the clefs makes it that letter.
    """

    place: StavePlace
    step: Letter
    clefs: Annotated[tuple[ClefName, ...], Meta(min_length=2, max_length=4)]
    accidental: Sign | None = None

    def __post_init__(self) -> None:
        letters = [CLEFS[name].pitch_at(self.place).step for name in self.clefs]
        if self.step not in letters:
            raise BadDocument(
                f"no clef makes this place {self.step}: with {', '.join(self.clefs)} it is {', '.join(letters)}"
            )


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = rng.choice(scope.clefs)  # all alike: a clef favoured would be the best guess
    pitch = pick_pitch(scope, rng, clef)
    sign = sign_name(pitch.alter) if pitch.alter else None
    place = pitch.diatonic - CLEFS[clef].bottom_line.diatonic
    return Draft(WhichClef(place, pitch.step, tuple(scope.clefs), sign), f"{clef} clef")


def _name(facts: WhichClef, clef: str) -> str:
    alter = sign_alter(facts.accidental) if facts.accidental else 0
    return CLEFS[clef].pitch_at(facts.place, alter).name.text


def _pose(facts: WhichClef, wording: Wording) -> Posed:
    # The stave is drawn as if under a treble clef whatever the answer, so that nothing in the picture gives it away.
    alter = sign_alter(facts.accidental) if facts.accidental else 0
    note = Note(
        CLEFS["treble"].pitch_at(facts.place, alter), Duration("semibreve"), id="n1", accidental=facts.accidental
    )
    bare = Score((Stave("treble", (Bar(((note,),), line="none", free=True),), show_clef=False),))
    meant = NoteName(facts.step, alter).text
    alt = f"A stave with no clef and one note, {with_sign(facts.place, facts.accidental)}."
    ask = f"This stave has no clef. Which clef makes the note {meant}?"
    return Posed((TextBlock(wording.say(ask)), StaveBlock(document_of(bare), wording.say(alt))))


def _solve(facts: WhichClef) -> tuple[Answer, ...]:
    fitting = [clef for clef in facts.clefs if CLEFS[clef].pitch_at(facts.place).step == facts.step]
    return tuple(
        answer(
            Value(words=f"{clef} clef"), f"{clef} clef", f"Under the {clef} clef this place is {_name(facts, clef)}."
        )
        for clef in fitting
    )


def _slips(facts: WhichClef) -> tuple[Slip, ...]:
    right = next(clef for clef in facts.clefs if CLEFS[clef].pitch_at(facts.place).step == facts.step)
    try_out = "Try each clef in turn: name the note under it and see if it is the one asked for."
    common = "treble" if right != "treble" else "bass"
    found = [slip("guessed the common clef", Value(words=f"{common} clef"), f"{common} clef", try_out)]
    if right in _C_CLEFS and _C_CLEFS[right] in facts.clefs:
        other = f"{_C_CLEFS[right]} clef"
        remedy = "The alto clef has middle C on the middle line, the tenor clef on the line above it."
        found.append(slip("mixed up the C clefs", Value(words=other), other, remedy))
    for clef in facts.clefs:
        if (
            CLEFS[clef].pitch_at(facts.place + 1).step == facts.step
            or CLEFS[clef].pitch_at(facts.place - 1).step == facts.step
        ):
            name = f"{clef} clef"
            found.append(
                slip("one place out", Value(words=name), name, "Count each line and each space, one at a time.")
            )
    return tuple(found)


def _work(facts: WhichClef, method: str) -> tuple[Step, ...]:
    steps = []
    for clef in facts.clefs:
        sign = CLEFS[clef]
        letter = sign.pitch_at(facts.place).step
        verdict = "this is the one" if letter == facts.step else f"not {facts.step}"
        start = (
            f"The {clef} clef makes its {ordinal(sign.line)} line {sign.named_pitch.step}, so this place is {letter}"
        )
        steps.append(Step(f"{start}: {verdict}.", ("n1",), letter))
    steps.append(
        Step("Check: count once more from the line that your clef names, one letter for each line and space.", ("n1",))
    )
    return tuple(steps)


def _options(facts: WhichClef) -> tuple[Value, ...]:
    return tuple(Value(words=f"{clef} clef") for clef in facts.clefs)


def _ledgers(facts: WhichClef) -> int:
    return max(0, -facts.place // 2, (facts.place - 8) // 2)


def _difficulty(facts: WhichClef) -> float:
    """More clefs to try and ledger lines to count make it harder (common practice)."""
    return -1.5 + 0.4 * (len(facts.clefs) - 2) + 0.3 * _ledgers(facts)


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        for diatonic in range(low.diatonic, high.diatonic + 1):
            step = Pitch.from_diatonic(diatonic).step
            total += len([alter for alter in set(scope.alters) if 2 in scope.alters or (step, alter) not in _RARE])
    return total


KIND = Kind(
    id="which-clef",
    topic="notes",
    since=1,
    title="Find the clef",
    facts=WhichClef,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"which-clef/{len(facts.clefs)}-clefs",
    pool=_pool,
    seconds=20,
    marking=Marking("all-or-nothing"),
    options=_options,
)

"""Which note really sounds: the signature, earlier signs, bar lines and ties all have their say."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.setting.signs_in_bars import SITUATIONS, two_bars
from stavewright.questions.showing.describing import with_sign
from stavewright.questions.solving.in_force import misread
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Written
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import WrittenNote, sign_alter, sign_text, sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.key import signature_alter, signature_text
from stavewright.theory.pitch import NoteName, Pitch

_Bar = Annotated[tuple[Written, ...], Meta(min_length=1, max_length=16)]


class AccidentalInForce(Facts, frozen=True, forbid_unknown_fields=True):
    """Bars of written notes under a clef and a key signature, and the note asked for, both counted from 1.

    Raises:
        BadDocument: there is no such note, or a tie leads to another line or space.
    """

    clef: ClefName
    fifths: Fifths
    bars: Annotated[tuple[_Bar, ...], Meta(min_length=1, max_length=8)]
    bar: Annotated[int, Meta(ge=1, le=8)]
    note: Annotated[int, Meta(ge=1, le=16)]

    def __post_init__(self) -> None:
        if not (1 <= self.bar <= len(self.bars) and 1 <= self.note <= len(self.bars[self.bar - 1])):
            raise BadDocument(f"bar {self.bar} has no note {self.note}: count bars and notes from 1")
        row = [note for bar in self.bars for note in bar]
        for note, following in zip(row, [*row[1:], None], strict=True):
            if note.tie and (following is None or following.place != note.place):
                raise BadDocument("a tie joins two notes on the same line or space: the note after it is elsewhere")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef, key = pick_clef(scope, rng), pick_key(scope, rng)
    if key is None:
        return None
    made = two_bars(scope, rng, clef, key.fifths, rng.choice(SITUATIONS))
    if made is None:
        return None
    bars, bar, note, name = made
    return Draft(AccidentalInForce(clef, key.fifths, bars, bar, note), name.text)


def _heard(facts: AccidentalInForce) -> tuple[tuple[Pitch, ...], ...]:
    bottom = CLEFS[facts.clef].bottom_line.diatonic
    tied = False
    bars: list[list[WrittenNote]] = []
    for bar in facts.bars:
        row = []
        for note in bar:
            row.append(WrittenNote(bottom + note.place, note.accidental, tied))
            tied = note.tie
        bars.append(row)
    return sounding(bars, facts.fifths)


def _asked(facts: AccidentalInForce) -> tuple[Written, NoteName]:
    written = facts.bars[facts.bar - 1][facts.note - 1]
    return written, _heard(facts)[facts.bar - 1][facts.note - 1].name


def _id(bar: int, note: int) -> str:
    return f"b{bar}n{note}"


def _pose(facts: AccidentalInForce, wording: Wording) -> Posed:
    bars, said = [], []
    for number, (bar, heard) in enumerate(zip(facts.bars, _heard(facts), strict=True), 1):
        notes = []
        words = []
        for place, (written, pitch) in enumerate(zip(bar, heard, strict=True), 1):
            label = "?" if (number, place) == (facts.bar, facts.note) else None
            notes.append(
                Note(pitch, Duration("crotchet"), _id(number, place), written.accidental, written.tie, label=label)
            )
            words.append(with_sign(written.place, written.accidental) + (", tied to the next" if written.tie else ""))
        line = "final" if number == len(facts.bars) else "single"
        bars.append(Bar((tuple(notes),), line=line, free=True))
        said.append(f"Bar {number}: {'; '.join(words)}.")
    score = Score((Stave(facts.clef, tuple(bars), fifths=facts.fifths),))
    head = f"A stave with the {facts.clef} clef; its key signature has {signature_text(facts.fifths)}."
    tail = f"The question mark stands under the {ordinal(facts.note)} note of bar {facts.bar}."
    ask = "Which note is it at the question mark?" if wording.choosing else "Name the note at the question mark."
    shown = StaveBlock(document_of(score), wording.say(" ".join((head, *said, tail))))
    return Posed((TextBlock(wording.say(ask)), shown), None if wording.choosing else WordsForm("word"))


def _source(facts: AccidentalInForce) -> tuple[str, str]:
    """What decides the note: "own sign", "tie", "earlier sign" or "signature", and the id of the note that shows it."""
    written, _ = _asked(facts)
    here = _id(facts.bar, facts.note)
    if written.accidental:
        return "own sign", here
    row = [(b, n, one) for b, bar in enumerate(facts.bars, 1) for n, one in enumerate(bar, 1)]
    at = next(i for i, (b, n, _one) in enumerate(row) if (b, n) == (facts.bar, facts.note))
    if at and row[at - 1][2].tie:
        return "tie", _id(*row[at - 1][:2])
    for b, n, one in reversed(row[:at]):
        if b == facts.bar and one.place == written.place and one.accidental:
            return "earlier sign", _id(b, n)
    return "signature", here


def _reason(facts: AccidentalInForce) -> str:
    written, name = _asked(facts)
    source, _ = _source(facts)
    if source == "own sign":
        return f"The {sign_text(written.accidental or 'natural')} stands right before it."
    if source == "tie":
        return "The tie carries the sound on, so it is the same note."
    if source == "earlier sign":
        return "An earlier sign on the same line or space holds to the end of the bar."
    alter = signature_alter(facts.fifths, name.step)
    if alter:
        return f"No sign of this bar touches it, so the key signature decides: every {name.step} is {name.text}."
    return f"No sign of this bar touches it, and the key signature leaves {name.step} as it is."


def _solve(facts: AccidentalInForce) -> tuple[Answer, ...]:
    _, name = _asked(facts)
    found = [answer(Value(words=name.text), name.text, _reason(facts))]
    if not name.alter:
        full = f"{name.step} natural"
        found.append(answer(Value(words=full), full, f"{full} is the full name of {name.step}."))
    return tuple(found)


_FORGOTTEN = (
    ("forgot the signature", {"signature": False}, "Look at the key signature first: it holds in every octave.", True),
    ("carried past the bar line", {"bar_line": False}, "A sign ends at the bar line: start each bar afresh.", False),
    ("carried to another octave", {"octave": False}, "A sign holds on its own line or space only.", False),
    ("forgot the earlier sign", {"earlier": False}, "Look back to the bar line for a sign on the same place.", False),
    ("let the bar line cut the tie", {"ties": False}, "A tie carries note and sign over the bar line.", False),
    ("carried on after the tie", {"tie_ends": False}, "A tie carries the sign to the tied note and no further.", False),
)  # fmt: skip


def _slips(facts: AccidentalInForce) -> tuple[Slip, ...]:
    written, _ = _asked(facts)
    step = CLEFS[facts.clef].pitch_at(written.place).step
    found = []
    for name, rules, remedy, steady in _FORGOTTEN:
        alter = misread(facts.bars, facts.clef, facts.fifths, **rules)[facts.bar - 1][facts.note - 1]
        text = NoteName(step, alter).text
        found.append(slip(name, Value(words=text), text, remedy, steady=steady))
    before = [one for one in facts.bars[facts.bar - 1][: facts.note - 1] if one.place == written.place]
    signs = [one.accidental for one in before if one.accidental]
    if len(signs) > 1 and not written.accidental:
        text = NoteName(step, sign_alter(signs[0])).text
        remedy = "Look for the last sign before the note: it takes the place of the ones before it."
        found.append(slip("went by a cancelled sign", Value(words=text), text, remedy))
    found.append(slip("named the letter alone", Value(words=step), step, "Ask what the signs do to this letter."))
    return tuple(found)


def _work(facts: AccidentalInForce, method: str) -> tuple[Step, ...]:
    written, name = _asked(facts)
    here = _id(facts.bar, facts.note)
    signed = NoteName(name.step, signature_alter(facts.fifths, name.step)).text
    says = f"it makes this letter {signed}" if signed != name.step else f"it leaves {name.step} as it is"
    source, where = _source(facts)
    steps = [
        Step(f"The place gives the letter {name.step}.", (here,), name.step),
        Step(f"The key signature has {signature_text(facts.fifths)}: {says}.", (here,), signed),
    ]
    if source == "own sign":
        steps.append(Step(f"But a sign stands right before it: {name.text}.", (here,), name.text))
    elif source == "tie":
        steps.append(Step(f"But a tie leads into it: it is still {name.text}.", (where, here), name.text))
    elif source == "earlier sign":
        steps.append(
            Step(f"But a sign stands earlier in the bar on the same place: {name.text}.", (where, here), name.text)
        )
    else:
        others = tuple(
            _id(b, n)
            for b, bar in enumerate(facts.bars, 1)
            for n, one in enumerate(bar, 1)
            if one.accidental and (one.place - written.place) % 7 == 0 and (b, n) < (facts.bar, facts.note)
        )
        steps.append(Step(f"{_past(facts, others)}, so it stays {name.text}.", (*others, here), name.text))
    steps.append(Step("Check: run a finger back from the note to the bar line, along its own line or space.", (here,)))
    return tuple(steps)


def _past(facts: AccidentalInForce, others: tuple[str, ...]) -> str:
    """Why the signs on this letter before the note do not reach it."""
    if not others:
        return "No sign before it is on this letter"
    here = [one for one in others if one in {_id(facts.bar, n) for n in range(1, facts.note)}]
    if not here:
        return (
            "The sign on this letter ended at the bar line" if len(others) == 1 else "The signs ended at the bar line"
        )
    if len(here) == len(others):
        one = "sign on this letter in this bar holds" if len(others) == 1 else "signs on this letter in this bar hold"
        return f"The {one} in another octave only"
    return "The signs on this letter are in another bar or octave"


def _neighbours(facts: AccidentalInForce) -> tuple[Value, ...]:
    _, name = _asked(facts)
    letter = CLEFS[facts.clef].pitch_at(facts.bars[facts.bar - 1][facts.note - 1].place + 1).step
    return (*(Value(words=NoteName(name.step, alter).text) for alter in (-1, 0, 1)), Value(words=NoteName(letter).text))


def _trap(facts: AccidentalInForce) -> str:
    """The first rule that the answer hangs on."""
    _, name = _asked(facts)
    for trap, rules in (
        ("tie-ends", {"tie_ends": False}),
        ("tie", {"ties": False}),
        ("bar-line", {"bar_line": False}),
        ("octave", {"octave": False}),
        ("earlier-sign", {"earlier": False}),
        ("signature", {"signature": False}),
    ):
        if misread(facts.bars, facts.clef, facts.fifths, **rules)[facts.bar - 1][facts.note - 1] != name.alter:
            return trap
    return "plain"


def _difficulty(facts: AccidentalInForce) -> float:
    """The rule that decides, and the number of signs in the signature (common practice)."""
    traps = {"plain": -1.2, "signature": -0.8, "earlier-sign": -0.5, "bar-line": -0.1, "octave": 0.2, "tie": 0.3}
    return traps.get(_trap(facts), 0.7) + 0.08 * abs(facts.fifths)


KIND = Kind(
    id="accidental-in-force",
    topic="notes",
    since=1,
    title="Signs in force",
    facts=AccidentalInForce,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"accidental-in-force/{_trap(facts)}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
)

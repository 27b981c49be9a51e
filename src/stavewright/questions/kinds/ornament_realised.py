"""An ornament and the notes it stands for: from the notes to the ornament, and from the sign to the notes."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths, Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.pictures import picture
from stavewright.questions.showing.rows import note_row
from stavewright.questions.solving.ornaments import (
    mixed_up,
    names_in_notes,
    said,
    written_out,
    wrong_ways,
)
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import sign_of
from stavewright.theory.duration import Duration
from stavewright.theory.ornament import ORNAMENT_NAMES, ORNAMENTS
from stavewright.theory.pitch import Pitch

_MARGIN = 2
_SIGNS = {name: name.replace(" ", "-") for name in ORNAMENTS}
# How each is written out on a note: steps above the note, and the value of each; as the usual way has it.
# Source: Gehrkens, Music Notation and Terminology (1914) §§65-75; the trill from Clementi, Introduction (1801).
_QUICK = ("demisemiquaver", "demisemiquaver", "dotted quaver")
_SLOW = ("semiquaver", "semiquaver", "dotted crotchet")
_USUAL: dict[tuple[str, str], tuple[tuple[int, ...], tuple[str, ...]]] = {
    ("mordent", "crotchet"): ((0, -1, 0), _QUICK),
    ("mordent", "minim"): ((0, -1, 0), _SLOW),
    ("upper mordent", "crotchet"): ((0, 1, 0), _QUICK),
    ("upper mordent", "minim"): ((0, 1, 0), _SLOW),
    ("turn", "crotchet"): ((1, 0, -1, 0), ("semiquaver",) * 4),
    ("turn", "minim"): ((1, 0, -1, 0), ("quaver",) * 4),
    ("inverted turn", "crotchet"): ((-1, 0, 1, 0), ("semiquaver",) * 4),
    ("inverted turn", "minim"): ((-1, 0, 1, 0), ("quaver",) * 4),
    ("trill", "crotchet"): ((1, 0, 1, 0, 1, 0, -1, 0), ("demisemiquaver",) * 8),
    ("appoggiatura", "crotchet"): ((1, 0), ("quaver", "quaver")),
    ("appoggiatura", "minim"): ((1, 0), ("crotchet", "crotchet")),
    ("appoggiatura", "dotted crotchet"): ((1, 0), ("crotchet", "quaver")),
    ("appoggiatura", "dotted minim"): ((1, 0), ("minim", "crotchet")),
}


class OrnamentRealised(Facts, frozen=True, forbid_unknown_fields=True):
    """The note that has the ornament, by pitch and value, under a clef and a signature.

    Either `ornament` is printed on it (with its small note `grace`, where it has one) and the notes are asked, or it is
    written out as `played` and the ornament is asked.

    Raises:
        BadDocument: neither of the two, or an ornament that does not exist.
    """

    main: PitchText
    value: Word
    fifths: Fifths
    clef: ClefName
    ornament: Word = ""
    grace: Annotated[str, Meta(pattern=r"^([A-G](#{1,2}|b{1,2})?-?[0-9])?\Z", max_length=5)] = ""
    played: Annotated[tuple[WrittenNote, ...], Meta(max_length=32)] = ()

    def __post_init__(self) -> None:
        if bool(self.ornament) == bool(self.played):
            raise BadDocument("either the ornament is printed or it is written out, and the other is asked")
        if self.ornament and self.ornament not in ORNAMENTS:
            raise BadDocument(f"{self.ornament!r} is no ornament: use one of {', '.join(ORNAMENTS)}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng)
    clef = pick_clef(scope, rng)
    if key is None:
        return None
    low, high = scope.range_of(clef)
    place = rng.randint(low.diatonic + _MARGIN, high.diatonic - _MARGIN)
    fifths = key.fifths
    ornament = rng.choice(sorted({name for name, _ in _USUAL}))
    value = rng.choice([length for name, length in _USUAL if name == ornament])
    steps, values = _USUAL[ornament, value]
    side = rng.choice((1, 1, -1)) if ornament == "appoggiatura" else 1
    pitches = [Pitch.from_diatonic(place + side * step) for step in steps]
    lengths = [Duration.parse(one) for one in values]
    played = tuple(
        WrittenNote(pitch.step, octave=pitch.octave, type=length.type, dots=length.dots)
        for pitch, length in zip(pitches, lengths, strict=True)
    )
    main = _sounding(Pitch.from_diatonic(place), fifths)
    if rng.random() < 0.5:
        name = ORNAMENT_NAMES[ornament][0]
        return Draft(OrnamentRealised(main.short, value, fifths, clef, played=played), name)
    grace = _sounding(pitches[0], fifths).short if ornament == "appoggiatura" else ""
    facts = OrnamentRealised(main.short, value, fifths, clef, ornament, grace)
    return Draft(facts, Value(notes=played, clef=clef, signature=fifths))


def _sounding(natural: Pitch, fifths: int) -> Pitch:
    """The pitch that a place on the stave has under a signature."""
    sharps, flats = "FCGDAEB"[: max(fifths, 0)], "BEADGCF"[: max(-fifths, 0)]
    alter = (natural.step in sharps) - (natural.step in flats)
    return natural.altered(alter)


def _pose(facts: OrnamentRealised, wording: Wording) -> Posed:
    main = Note(Pitch.parse(facts.main), Duration.parse(facts.value), "n1", label="a")
    if facts.played:
        row = _draw(facts, Value(notes=facts.played, signature=facts.fifths))
        stave = row.staves[0]
        notes = tuple(replace(note, id=f"p{at}") for at, note in enumerate(stave.bars[0].events, 1))
        first = Bar(((replace(main, label=None),),), free=True)
        score = replace(row, staves=(replace(stave, bars=(first, Bar((notes,), line="final", free=True))),))
        text = (
            "The note in the first bar has an ornament, which is left out. "
            "The second bar shows how it is played. Which ornament is it?"
        )
        return Posed(
            (TextBlock(wording.say(text)), StaveBlock(document_of(score), wording.say(picture(score, shapes=True))))
        )
    row = note_row(Value(notes=()), facts.clef, facts.fifths)
    sign = sign_of(_SIGNS[facts.ornament])
    if facts.grace:
        small = Note(Pitch.parse(facts.grace), Duration("quaver"), "n2", grace=facts.ornament)
        events: tuple[Note, ...] = (small, main)
    else:
        events = (replace(main, marks=(_SIGNS[facts.ornament],)),)
    score = replace(row, staves=(replace(row.staves[0], bars=(Bar((events,), line="none", free=True),)),))
    text = "Look at the ornament. Which of these shows how it is played?"
    alt = f"{picture(score)} You see {sign.looks}."
    return Posed((TextBlock(wording.say(text)), StaveBlock(document_of(score), wording.say(alt))))


def _draw(facts: OrnamentRealised, value: Value) -> Score:
    """The written notes under one beam where they have tails."""
    row = note_row(value, facts.clef, facts.fifths, "crotchet")
    bar = row.staves[0].bars[0]
    tails = sum(isinstance(event, Note) and event.duration.tails > 0 for event in bar.events)
    events = tuple(
        replace(event, beam=1) if isinstance(event, Note) and event.duration.tails and tails > 1 else event
        for event in bar.events
    )
    return replace(row, staves=(replace(row.staves[0], bars=(replace(bar, voices=(events,)),)),))


def _solve(facts: OrnamentRealised) -> tuple[Answer, ...]:
    main, value = Pitch.parse(facts.main), Duration.parse(facts.value)
    if facts.played:
        found = []
        for name in _in_the_notes(facts):
            how = _does(name, value)
            for one in ORNAMENT_NAMES[name]:
                found.append(answer(Value(words=one), one, f"The notes are those of the {name}: {how}."))
        return tuple(found)
    grace = Pitch.parse(facts.grace) if facts.grace else None
    ways = written_out(facts.ornament, main, value, facts.fifths, grace)
    return tuple(
        answer(
            Value(notes=notes, clef=facts.clef, signature=facts.fifths), said(notes, facts.fifths), f"Played {reason}."
        )
        for notes, reason in ways
    )


def _in_the_notes(facts: OrnamentRealised) -> tuple[str, ...]:
    """The ornaments that the notes are those of.

    Raises:
        BadDocument: there is none.
    """
    found = names_in_notes(facts.played, Pitch.parse(facts.main), Duration.parse(facts.value), facts.fifths)
    if not found:
        raise BadDocument(f"the notes written out are those of no ornament on {facts.main}")
    return found


def _does(ornament: str, value: Duration) -> str:
    """What an ornament does to a note of that value."""
    if ornament == "appoggiatura" and value.dots:
        return "a leaning note: takes two thirds of a dotted note"
    return sign_of(_SIGNS[ornament]).meaning


def _slips(facts: OrnamentRealised) -> tuple[Slip, ...]:
    main, value = Pitch.parse(facts.main), Duration.parse(facts.value)
    if facts.played:
        name = _in_the_notes(facts)[0]
        return tuple(
            slip(why, Value(words=ORNAMENT_NAMES[other][0]), ORNAMENT_NAMES[other][0], remedy)
            for why, other, remedy in mixed_up(name)
        )
    grace = Pitch.parse(facts.grace) if facts.grace else None
    return tuple(
        slip(why, Value(notes=notes, clef=facts.clef, signature=facts.fifths), said(notes, facts.fifths), remedy)
        for why, notes, remedy in wrong_ways(facts.ornament, main, value, grace)
    )


def _work(facts: OrnamentRealised, method: str) -> tuple[Step, ...]:
    right = _solve(facts)[0]
    main = Pitch.parse(facts.main)
    if facts.played:
        name = _in_the_notes(facts)[0]
        how = _does(name, Duration.parse(facts.value))
        ids = tuple(f"p{at}" for at in range(1, len(facts.played) + 1))
        return (
            Step(f"The written note is {main.name.text}. Find it in the second bar.", ("n1",), main.name.text),
            Step("See which other notes come, above or below, and in which order.", ids),
            Step(f"{right.text.capitalize()}: {how}.", ids, right.text),
            Step(f"Check: not the {ORNAMENT_NAMES[mixed_up(name)[0][1]][0]}. {mixed_up(name)[0][2]}"),
        )
    does = _does(facts.ornament, Duration.parse(facts.value))
    return (
        Step(f"Name the ornament: {ORNAMENT_NAMES[facts.ornament][0]}.", ("n1",), facts.ornament),
        Step(f"What it does: {does}. The written note is {main.name.text}.", ("n1",), main.name.text),
        Step(f"So it is played {right.text}."),
        Step(f"Check: all the values together make one {facts.value}, and the key signature counts."),
    )


def _neighbours(facts: OrnamentRealised) -> tuple[Value, ...]:
    return tuple(Value(words=ORNAMENT_NAMES[name][0]) for name in ORNAMENTS) if facts.played else ()


def _difficulty(facts: OrnamentRealised) -> float:
    """C clefs, many signs in the signature, and choosing among notes rather than names are harder."""
    clef = {"treble": 0.0, "bass": 0.1, "alto": 0.3, "tenor": 0.4}[facts.clef]
    return 0.1 + clef + 0.05 * abs(facts.fifths) + (0.0 if facts.played else 0.4)


def _skill(facts: OrnamentRealised) -> str:
    return f"ornament-realised/{'name' if facts.played else 'notes'}"


def _tokens(facts: OrnamentRealised) -> frozenset[str]:
    return frozenset({f"sign:{_SIGNS[facts.ornament]}"}) if facts.ornament else frozenset()


KIND = Kind(
    id="ornament-realised",
    topic="terms",
    since=5,
    title="Ornaments written out",
    facts=OrnamentRealised,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("all-or-nothing", values=True),
    draw=_draw,
    neighbours=_neighbours,
    asks=_tokens,
    shows=_tokens,
)

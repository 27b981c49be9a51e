"""Beats under notes: in which beat a note begins, and which notes begin on a beat."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import accumulate
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NumberForm, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import pick_time, rhythm_bar
from stavewright.questions.setting.picking import pick
from stavewright.questions.setting.silence import silence
from stavewright.questions.showing.barred import barred_score
from stavewright.questions.showing.pictures import picture
from stavewright.questions.solving.groups import group_remedy
from stavewright.questions.values import Place, Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.metre import TimeSignature

_MARK = "X"
_TRIES = 12
_REST_SHARE = 0.3
_MARKED_SHARE = 0.5

Row = Annotated[tuple[WrittenValue, ...], Meta(min_length=2, max_length=24)]


class BeatsUnderNotes(Facts, frozen=True, forbid_unknown_fields=True):
    """A full bar; `marked`: the note whose beat is asked, counted with the rests from 1, or 0 to ask for all on beats.

    Raises:
        BadDocument: the bar is not full, or there is no such note.
    """

    time: Annotated[str, Meta(max_length=5)]
    row: Row
    marked: Annotated[int, Meta(ge=0, le=24)] = 0

    def __post_init__(self) -> None:
        time = TimeSignature.parse(self.time)
        if total_ticks([one.duration for one in self.row]) != time.ticks:
            raise BadDocument(f"the bar is not full: {self.time} asks for {time.ticks} ticks")
        if self.marked > len(self.row) or (self.marked and self.row[self.marked - 1].rest):
            raise BadDocument(f"there is no note at place {self.marked} to be marked")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        time = pick_time(scope, rng, ("simple", "compound"))
        row = [(one, False) for one in rhythm_bar(scope, rng, time)]
        if len(row) > 2 and rng.random() < _REST_SHARE:
            silence(row, rng, time)
        beat_of: list[tuple[int, bool]] = []
        clock = 0
        for one, _ in row:
            beat_of.append((clock // time.beat.ticks + 1, clock % time.beat.ticks == 0))
            clock += one.ticks
        notes = [place for place, (_, rest) in enumerate(row) if not rest]
        # a question is worth asking where the count of the notes is not the count of the beats
        odd = [place for number, place in enumerate(notes, 1) if beat_of[place][0] != number]
        shown = tuple(WrittenValue.of(one, rest=rest) for one, rest in row)
        if rng.random() < _MARKED_SHARE:
            if odd:
                place = pick(rng, odd, [one for one in odd if beat_of[one][0] > 1])
                return Draft(BeatsUnderNotes(time.text, shown, place + 1), Value(number=beat_of[place][0]))
            continue
        meant = [number for number, place in enumerate(notes, 1) if beat_of[place][1]]
        if odd and len(meant) < len(notes):
            places = tuple(Place(bar=1, note=number) for number in meant)
            return Draft(BeatsUnderNotes(time.text, shown), Value(places=places))
    return None


def _time(facts: BeatsUnderNotes) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _ticks(one: WrittenValue) -> int:
    return one.duration.ticks


def _starts(facts: BeatsUnderNotes, length: Callable[[WrittenValue], int] = _ticks) -> list[int]:
    """The tick at which each event begins, if each lasts as `length` says."""
    return [0, *accumulate(length(one) for one in facts.row)][:-1]


def _notes(facts: BeatsUnderNotes) -> list[int]:
    """The places of the notes among the events."""
    return [place for place, one in enumerate(facts.row) if not one.rest]


def _found(facts: BeatsUnderNotes, starts: list[int], beat: int) -> tuple[Value, str]:
    """The answer that these beginnings give, with beats of so many ticks."""
    if facts.marked:
        number = starts[facts.marked - 1] // beat + 1
        return Value(number=number), str(number)
    numbers = [number for number, place in enumerate(_notes(facts), 1) if starts[place] % beat == 0]
    return Value(places=tuple(Place(bar=1, note=number) for number in numbers)), _said(numbers)


def _said(numbers: list[int]) -> str:
    words = [str(number) for number in numbers]
    if len(words) < 2:
        return f"note {words[0]}" if words else "no note"
    return f"notes {', '.join(words[:-1])} and {words[-1]}"


def _solve(facts: BeatsUnderNotes) -> tuple[Answer, ...]:
    time, starts = _time(facts), _starts(facts)
    value, text = _found(facts, starts, time.beat.ticks)
    if facts.marked:
        beat, into = time.beat_at(starts[facts.marked - 1])
        when = f"after beat {beat} has begun" if into else f"on beat {beat}"
        reason = f"The values before it fill {_filled(facts, starts[facts.marked - 1])}, so it begins {when}."
    else:
        these = "This note begins" if len(value.places or ()) == 1 else "These notes begin"
        reason = f"{these} where a {time.beat.text} beat begins; the others begin inside a beat."
    return (answer(value, text, reason),)


def _filled(facts: BeatsUnderNotes, ticks: int) -> str:
    beats, into = divmod(ticks, _time(facts).beat.ticks)
    if not beats:
        return "part of beat 1" if into else "nothing yet"
    whole = f"{beats} beat{'' if beats == 1 else 's'}"
    return f"{whole} and part of the next" if into else whole


def _slips(facts: BeatsUnderNotes) -> tuple[Slip, ...]:
    found: list[Slip] = []
    time = _time(facts)

    def add(name: str, answered: tuple[Value, str], remedy: str) -> None:
        value, text = answered
        empty = value.places is not None and not value.places
        if not empty and all(value != one.value[0] for one in found):
            found.append(slip(name, value, text, remedy))

    def by(length: Callable[[WrittenValue], int], beat: int = time.beat.ticks) -> tuple[Value, str]:
        return _found(facts, _starts(facts, length), beat)

    beat = time.beat.ticks
    long = "A long note takes more than one beat, short notes share one. Count the beats, not the notes."
    if facts.marked:
        add("counted notes, not beats", by(lambda one: 0 if one.rest else beat), long)
        after = _starts(facts)[facts.marked - 1] // beat + 2
        add("one beat late", (Value(number=after), str(after)), "Beat 1 begins with the first note of the bar.")
    else:
        add("every note on a beat", by(lambda one: beat), long)
        ones = [n for n, place in enumerate(_notes(facts), 1) if facts.row[place].duration.ticks >= beat]
        long_ones = (Value(places=tuple(Place(bar=1, note=n) for n in ones)), _said(ones))
        add("only long notes taken", long_ones, "Short notes can begin on a beat too: the first of a group does.")
    if any(one.rest for one in facts.row):
        add(
            "rests not counted",
            by(lambda one: 0 if one.rest else one.duration.ticks),
            "A rest takes its time in the bar.",
        )
    if any(one.dots for one in facts.row):
        undotted = by(lambda one: Duration(one.type, 0, one.duration.tuplet).ticks)
        add("dots not counted", undotted, "A dot adds half of the note. Count it in.")
    if any(one.tuplet for one in facts.row):
        face = by(lambda one: one.duration.plain.ticks)
        add("irregular group counted at face value", face, group_remedy(one.duration for one in facts.row))
    if time.kind == "compound":
        dotted = f"The beat is a {time.beat.text}: three {time.unit_value.name(plural=True)} make one beat."
        add("counted the lower figure's value", by(_ticks, time.unit_value.ticks), dotted)
    lower = f"The lower figure {time.unit} stands for {time.unit_value.name(plural=True)}."
    add("beats half as long", by(_ticks, beat // 2), lower)
    add("beats twice as long", by(_ticks, beat * 2), lower)
    return tuple(found)


def _ids(facts: BeatsUnderNotes, places: list[int]) -> tuple[str, ...]:
    return tuple(f"n{place + 1}" for place in places)


def _work(facts: BeatsUnderNotes, method: str) -> tuple[Step, ...]:
    time, starts = _time(facts), _starts(facts)
    beat = time.beat.ticks
    on = [place for place in _notes(facts) if starts[place] % beat == 0]
    counts = " ".join(str(starts[place] // beat + 1) for place in on)
    steps = [Step(f"A bar of {time.text} has {time.count} {time.beat.text} beats.", (), f"{time.count} beats")]
    if facts.marked:
        before = ", ".join(one.duration.name(rest=one.rest) for one in facts.row[: facts.marked - 1]) or "no note"
        at = starts[facts.marked - 1]
        ids = _ids(facts, list(range(facts.marked - 1)))
        steps.append(
            Step(f"Add up what stands before it: {before}. That fills {_filled(facts, at)}.", ids, _filled(facts, at))
        )
        number = at // beat + 1
        steps.append(Step(f"So the note marked {_MARK} begins in beat {number}.", (f"n{facts.marked}",), str(number)))
    else:
        rests = " Rests take time too." if any(one.rest for one in facts.row) else ""
        steps.append(Step(f"Go through the bar and add up beat by beat.{rests}"))
        said = _found(facts, starts, beat)[1].capitalize()
        verb = "begins" if len(on) == 1 else "begin"
        steps.append(Step(f"{said} {verb} with a beat.", _ids(facts, on), counts))
    steps.append(Step(_check(facts, starts)))
    return tuple(steps)


def _check(facts: BeatsUnderNotes, starts: list[int]) -> str:
    """What the pupil hears who taps the beats."""
    time = _time(facts)
    tap = f"Check: tap {time.count} beats and say the rhythm."
    if not facts.marked:
        return f"{tap} Do these notes, and no others, come together with a tap?"
    beat, into = time.beat_at(starts[facts.marked - 1])
    return f"{tap} Does {_MARK} come {'after' if into else 'together with'} tap {beat}?"


def _score(facts: BeatsUnderNotes) -> Score:
    """The bar with its mark, or with a number under every note."""
    score = barred_score(facts.row, _time(facts), last="single")
    labels = {f"n{facts.marked}": _MARK} if facts.marked else {}
    if not facts.marked:
        labels = {f"n{place + 1}": str(number) for number, place in enumerate(_notes(facts), 1)}
    stave = score.staves[0]
    row = tuple(replace(e, label=labels.get(e.id)) if isinstance(e, Note) else e for e in stave.bars[0].events)
    return replace(score, staves=(replace(stave, bars=(replace(stave.bars[0], voices=(row,)),)),))


def _pose(facts: BeatsUnderNotes, wording: Wording) -> Posed:
    score = _score(facts)
    said = picture(score, shapes=True)
    if facts.marked:
        number = _notes(facts).index(facts.marked - 1) + 1
        ask = f"In which beat of the bar does the note marked {_MARK} begin?"
        said += f" Note number {number} is marked {_MARK}, rests not counted."
        return Posed((TextBlock(wording.say(ask)), StaveBlock(document_of(score), wording.say(said))), NumberForm())
    count = len(_found(facts, _starts(facts), _time(facts).beat.ticks)[0].places or ())
    one = "Which note begins exactly on a beat? Write its number."
    ask = one if count == 1 else "Which notes begin exactly on a beat? Write their numbers."
    said += " The notes are numbered in order, rests not counted."
    shown = StaveBlock(document_of(score), wording.say(said))
    return Posed((TextBlock(wording.say(ask)), shown), PlacesForm("numbers", count))


def _difficulty(facts: BeatsUnderNotes) -> float:
    """Compound time, other beats than crotchets, rests, dots and groups make the count harder (common practice)."""
    time = _time(facts)
    odd = sum(one.rest or one.dots > 0 or one.tuplet is not None for one in facts.row)
    beat = 0.2 if time.beat.type != "crotchet" else 0.0
    return -1.4 + (0.5 if time.kind == "compound" else 0.0) + beat + 0.12 * min(odd, 5)


KIND = Kind(
    id="beats-under-notes",
    topic="metre",
    since=1,
    title="Beats under notes",
    facts=BeatsUnderNotes,
    forms={"written": "number", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"beats-under-notes/{_time(facts).kind}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("per-item"),
)

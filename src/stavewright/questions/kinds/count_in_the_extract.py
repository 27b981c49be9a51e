"""Count one thing in an extract: notes of a name or a value, notes struck, ties, rests, accidentals, dots, bars."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from random import Random

from stavewright.questions.documents import Answer, NumberForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.setting.flat_line import FlatBar, flatten, sung
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.line import Sung, line_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Note, Rest
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.pitch import NoteName

_FEWEST, _MOST = 2, 12
_BARS = 8


class CountInTheExtract(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed and what is to be counted in it.

    Raises:
        BadDocument: a thing that is not counted.
    """

    extract: ScoreDocument
    thing: Property
    block: str = "extract"
    credit: str = ""

    def __post_init__(self) -> None:
        if self.thing.about not in _ASK:
            raise BadDocument(f"what is counted is one of {', '.join(_ASK)}, not {self.thing.about!r}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    source = in_hand(scope, rng, stimulus, melodies, _BARS)
    if source is None:
        return None
    bars = flatten(source.extract.score)
    fair = [] if bars is None else [one for one in _things(bars) if _FEWEST <= one[1] <= _MOST]
    if not fair:
        return None
    about = rng.choice(sorted({thing.about for thing, _ in fair}))
    thing, number = rng.choice([one for one in fair if one[0].about == about])
    return Draft(CountInTheExtract(source.document, thing, source.block, source.credit), Value(number=number))


def _things(bars: list[FlatBar]) -> Iterator[tuple[Property, int]]:
    """Everything that can be counted, and how much of it there is; names and values only where nothing is near them."""
    written = [note for bar in bars for note in bar.notes]
    heard = sung(bars)
    if len(heard) < len(written):
        yield Property("struck", word="note"), len(heard)
    for name, number in Counter(note.name for note in heard).items():
        if len({note.name for note in heard if note.steps % 7 == NoteName.parse(name).index}) == 1:
            yield Property("name", word=name), number
    if not any(note.group for note in written):
        for value, number in Counter(note.value for note in written).items():
            if value in VALUES and not any(note.value.endswith(f"dotted {value}") for note in written):
                yield Property("value", word=value), number
    yield Property("tie"), sum(note.tied for note in written)
    yield Property("rest"), sum(bar.rests for bar in bars)
    yield Property("accidental"), sum(note.sign for note in written)
    yield Property("dotted"), sum("dotted" in note.value for note in written)
    for mark in ("staccato", "accent", "tenuto"):
        yield Property("marked", word=mark), sum(mark in note.marks for note in written)
    yield Property("bars"), sum(bar.number > 0 for bar in bars)


_ASK = {
    "struck": "How many notes are struck in this music? Notes joined by a tie are struck once.",
    "value": "How many {many} are printed in this music? Do not count rests.",
    "name": "How many times is {word} struck in this music, high or low? Notes joined by a tie are struck once.",
    "tie": "How many ties are there in this music?",
    "rest": "How many rests are there in this music?",
    "accidental": "How many accidentals are printed in this music? Leave out the key signature.",
    "dotted": "How many dotted notes are there in this music?",
    "marked": "How many notes of this music are marked {word}?",
    "bars": "How many bars of music are there? An upbeat is not counted.",
}


def _pose(facts: CountInTheExtract, wording: Wording) -> Posed:
    thing = facts.thing
    many = Duration(thing.word).name(plural=True) if thing.about == "value" else ""
    ask = TextBlock(wording.say(_ASK[thing.about].format(word=thing.word, many=many)))
    return Posed((ask, *extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)), NumberForm())


def _notes(facts: CountInTheExtract) -> list[Sung]:
    return [note for bar in line_of(facts.extract) for note in bar.notes]


def _is_named(note: Sung, word: str) -> bool:
    return note.pitch.name.text == word


_COUNTED: dict[str, Callable[[Sung, str], bool]] = {
    "struck": lambda note, word: not note.held,
    "name": lambda note, word: not note.held and _is_named(note, word),
    "value": lambda note, word: note.note.duration.text == word,
    "tie": lambda note, word: note.note.tie,
    "accidental": lambda note, word: any(note.note.accidentals),
    "dotted": lambda note, word: note.note.duration.dots > 0,
    "marked": lambda note, word: word in note.note.marks,
}


def _rests(facts: CountInTheExtract) -> list[Rest]:
    return [event for bar in line_of(facts.extract) for event in bar.bar.events if isinstance(event, Rest)]


def _counts(facts: CountInTheExtract) -> list[int]:
    """How many stand in each bar, upbeat first."""
    thing = facts.thing
    rule = _COUNTED.get(thing.about)
    found: list[int] = []
    for bar in line_of(facts.extract):
        if thing.about == "rest":
            found.append(sum(isinstance(event, Rest) for event in bar.bar.events))
        elif rule is None:
            found.append(int(bar.number > 0))
        else:
            found.append(sum(rule(note, thing.word) for note in bar.notes))
    return found


def _where(facts: CountInTheExtract) -> str:
    """Each bar that has one, and how many: "bar 1: 2, bar 4: 1"."""
    pairs = zip(line_of(facts.extract), _counts(facts), strict=True)
    return ", ".join(f"{f'bar {bar.number}' if bar.number else 'upbeat'}: {number}" for bar, number in pairs if number)


def _solve(facts: CountInTheExtract) -> tuple[Answer, ...]:
    number = sum(_counts(facts))
    if facts.thing.about == "bars":
        reason = f"The last bar is bar {number}, counted from the first whole bar."
    else:
        reason = f"{_where(facts)}. That makes {number}."
    return (answer(Value(number=number), str(number), reason[0].upper() + reason[1:]),)


def _wrong(facts: CountInTheExtract) -> Iterator[tuple[str, int, str]]:
    notes, thing = _notes(facts), facts.thing
    number = sum(_counts(facts))
    rests = len(_rests(facts))
    twice = "A tie joins two notes into one sound: count it once."
    if thing.about == "struck":
        yield "ties counted twice", len(notes), twice
        yield "rests counted too", number + rests, "A rest is silence: it is no note."
        yield "tied notes left out", sum(not n.held and not n.note.tie for n in notes), "A tied note is struck once."
    if thing.about == "name":
        named = [note for note in notes if _is_named(note, thing.word)]
        yield "ties counted twice", len(named), twice
        for octave in sorted({note.pitch.octave for note in named}):
            at_one = sum(note.pitch.octave == octave and not note.held for note in named)
            yield "counted in one octave only", at_one, "Look for the name high and low on the stave."
        if NoteName.parse(thing.word).alter:
            signed = sum(any(note.note.accidentals) for note in named)
            yield "signature forgotten", signed, "The key signature counts in every bar."
    if thing.about == "value":
        same = sum(rest.duration.text == thing.word for rest in _rests(facts))
        yield "rests counted too", number + same, "A rest is silence: it is no note."
        sounding = sum(n.note.duration.text == thing.word and not n.held and not n.note.tie for n in notes)
        yield "tied notes left out", sounding, "Count what is printed: a tied note has its own value."
        for other in VALUES:
            if abs(VALUES.index(other) - VALUES.index(thing.word)) == 1:
                near = sum(note.note.duration.text == other for note in notes)
                yield "neighbouring value", near, "Look at note heads, stems, tails and beams once more."
    yield from _wrong_signs(facts)


def _wrong_signs(facts: CountInTheExtract) -> Iterator[tuple[str, int, str]]:
    """Slips in counting signs: curves, accidentals, rests, dots, bars."""
    notes, thing = _notes(facts), facts.thing
    number = sum(_counts(facts))
    if thing.about == "tie":
        slurs = sum(isinstance(note.note, Note) and note.note.slur == "start" for note in notes)
        yield "slurs counted too", number + slurs, "A tie joins two notes of the same pitch."
        yield "ties counted twice", 2 * number, "Count the curves, not the notes they join."
    if thing.about == "accidental":
        yield "key signature counted too", number + abs(facts.extract.staves[0].fifths or 0), "Leave the signature out."
        signed = sum(note.pitch.alter != 0 for note in notes)
        yield "sharps and flats of the signature", signed, "Count the signs printed before the notes."
    if thing.about == "rest":
        bars = sum(count > 0 for count in _counts(facts))
        yield "bars with a rest counted", bars, "Count every rest, two in a bar too."
    if thing.about in ("dotted", "marked"):
        dotted = sum(note.note.duration.dots > 0 for note in notes)
        staccato = sum("staccato" in note.note.marks for note in notes)
        beside = "A dot beside a note makes it longer; a dot over or under it makes it short and light."
        if thing.about == "dotted":
            yield "staccato dots counted too", number + staccato, beside
        elif thing.word == "staccato":
            yield "dot after the note", number + dotted, beside
    if thing.about == "bars" and line_of(facts.extract)[0].number == 0:
        yield "upbeat counted as a bar", number + 1, "Bar 1 is the first whole bar."


def _slips(facts: CountInTheExtract) -> tuple[Slip, ...]:
    found: list[Slip] = []
    right = sum(_counts(facts))
    look = "Count bar by bar, and write the number over each bar."
    for name, number, remedy in (*_wrong(facts), ("one missed", right - 1, look), ("one too many", right + 1, look)):
        if number > 0 and number != right and all(number != one.value[0].number for one in found):
            found.append(slip(name, Value(number=number), str(number), remedy))
    return tuple(found)


_LOOK = {
    "struck": "Count every note head, but leave out a note that a tie leads into.",
    "value": "Look for the shape: head, stem, tails or beams.",
    "name": "Find its lines and spaces, low and high, and remember the key signature.",
    "tie": "Look for a curve that joins two notes of the same pitch.",
    "rest": "Look for a sign of silence between the notes.",
    "accidental": "Look for a sharp, flat or natural printed just before a note.",
    "dotted": "Look for a dot to the right of a note head.",
    "marked": "Look above and below the note heads.",
    "bars": "Count the bars from the first whole one; each bar line ends one.",
}


def _work(facts: CountInTheExtract, method: str) -> tuple[Step, ...]:
    thing, number = facts.thing, sum(_counts(facts))
    rule = _COUNTED.get(thing.about)
    ids = [note.note.id for note in _notes(facts) if rule and note.note.id and rule(note, thing.word)]
    if thing.about == "rest":
        ids = [rest.id for rest in _rests(facts) if rest.id]
    where = "" if thing.about == "bars" else f" {_where(facts)}."
    return (
        Step(_LOOK[thing.about], (), ""),
        Step(f"Go bar by bar and write the number over each bar.{where}", tuple(ids), "number over the bar"),
        Step(f"Add them up: {number}.", (), str(number)),
        Step("Check: count once more from the last bar back to the first.", (), ""),
    )


_HARD = {"struck": 0.6, "name": 0.3, "tie": 0.1, "accidental": 0.2, "dotted": -0.2, "value": 0.0}


def _difficulty(facts: CountInTheExtract) -> float:
    """Ties and names are harder to count than signs; more of them are harder than few (common practice)."""
    return -1.2 + _HARD.get(facts.thing.about, -0.3) + 0.05 * sum(_counts(facts))


KIND = Kind(
    id="count-in-the-extract",
    topic="reading",
    since=1,
    title="Count it in the music",
    facts=CountInTheExtract,
    forms={"written": "number", "on-screen": "number"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"count-in-the-extract/{facts.thing.about}",
    pool=lambda scope: None,
    seconds=40,
    extract=True,
    asks=lambda facts: frozenset({f"extract:count:{facts.thing.about}:{facts.thing.word}"}),
)

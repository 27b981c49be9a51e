"""Write a rhythm for two lines of verse, one note a syllable; any good rhythm is right, judged criterion by criterion.

Eight marks: a note for each syllable (1), bars that add up (2), stress (3), line ends (1), grouping (1). No syllable is
sung to several notes; a tie makes one note of two.
"""

from __future__ import annotations

from functools import lru_cache
from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace as changed

from stavewright.questions.criterion import Criterion, lost, said
from stavewright.questions.documents import Answer, Block, RhythmForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.verse_rhythms import fitting, pick_verse
from stavewright.questions.showing.bars import event_of
from stavewright.questions.showing.sung import empty_lines, sung_score, verse_blocks, with_words
from stavewright.questions.solving.verse_report import rhythm_criteria
from stavewright.questions.solving.verse_rhythm import Setting, settings, times_that_fit
from stavewright.questions.solving.verse_slips import wrong_rhythms
from stavewright.questions.solving.verse_work import rhythm_steps
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable, foot_lengths, line_words, read_line

CRITERIA = {"syllables": 1, "bars": 2, "stress": 3, "ends": 1, "grouping": 1}
"""The criteria and the marks of each."""
_MOST_SHOWN = 2


class RhythmForWords(Facts, frozen=True, forbid_unknown_fields=True):
    """Two lines of verse, their syllables and stresses marked, the time signature to set them in, and who wrote them.

    Raises:
        BadDocument: a time in which verse has no natural place, or none of its rhythms fits the lines.
    """

    time: str
    lines: tuple[Annotated[str, Meta(max_length=200)], Annotated[str, Meta(max_length=200)]]
    credit: Annotated[str, Meta(max_length=200)] = ""

    def __post_init__(self) -> None:
        if not foot_lengths(TimeSignature.parse(self.time)):
            raise BadDocument(f"verse is set in simple time or in two or four compound beats, not in {self.time}")
        if not _lines(self):
            raise BadDocument("there is no verse")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = pick_verse(scope, rng)
    if found is None:
        return None
    facts = RhythmForWords(found.time.text, found.verse.lines, found.verse.credit)
    return Draft(facts, Value(rhythm=found.row, bar_lines=found.bar_lines))


def _time(facts: RhythmForWords) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _lines(facts: RhythmForWords) -> list[tuple[Syllable, ...]]:
    return [read_line(line) for line in facts.lines]


def _pose(facts: RhythmForWords, wording: Wording) -> Posed:
    ask = (
        f"Write a rhythm in {facts.time} for these two lines of verse, one note for each syllable. Draw the bar lines, "
        "and write every syllable under its note."
    )
    words = [line_words(line) for line in _lines(facts)]
    form = RhythmForm("values", document_of(empty_lines(_time(facts))), wording.say("Two empty staves to write on."))
    blocks: tuple[Block, ...] = (TextBlock(wording.say(ask)), *verse_blocks(words, facts.credit))
    return Posed(blocks, form)


def _report(facts: RhythmForWords, value: Value) -> tuple[Criterion, ...]:
    return rhythm_criteria(_lines(facts), value.rhythm or (), value.bar_lines, _time(facts), CRITERIA)


def _value(setting: Setting) -> Value:
    return Value(rhythm=setting.row, bar_lines=setting.bar_lines)


def _text(setting: Setting) -> str:
    return " | ".join(", ".join(value.duration.name(rest=value.rest) for value in bar) for bar in setting.bars)


@lru_cache(maxsize=64)
def _models(facts: RhythmForWords) -> tuple[Setting, ...]:
    """The rhythms of the rule that meet every criterion.

    Raises:
        BadDocument: there is none.
    """
    found = tuple(one for one in settings(_lines(facts), _time(facts)) if not lost(_report(facts, _value(one))))
    if not found:
        raise BadDocument(f"no plain rhythm in {facts.time} fits these lines: {times_that_fit(_lines(facts))}")
    return found


def _solve(facts: RhythmForWords) -> tuple[Answer, ...]:
    found: list[Answer] = []
    for one in _models(facts)[:_MOST_SHOWN]:
        reason = f"{said(_report(facts, _value(one)))} Any other rhythm that does so is right."
        found.append(answer(_value(one), _text(one), reason if not found else "It meets every criterion as well."))
    return tuple(found)


def _slips(facts: RhythmForWords) -> tuple[Slip, ...]:
    model = _models(facts)[0]
    found: list[Slip] = []
    for name, setting, remedy in wrong_rhythms(_lines(facts), _time(facts), model):
        if lost(_report(facts, _value(setting))):
            found.append(slip(name, _value(setting), _text(setting), remedy))
    undrawn = changed(_value(model), bar_lines=None)
    if model.bar_lines:
        text = f"{_text(model).replace(' | ', ', ')}, without bar lines"
        found.append(slip("no bar lines", undrawn, text, "Draw a bar line before each first beat."))
    return tuple(found)


def _work(facts: RhythmForWords, method: str) -> tuple[Step, ...]:
    return rhythm_steps(_lines(facts), _time(facts), _models(facts)[0])


def _draw(facts: RhythmForWords, value: Value) -> Score:
    row = [event_of(one, f"a{number}") for number, one in enumerate(value.rhythm or (), 1)]
    return sung_score(with_words(row, _lines(facts)), value.bar_lines, _time(facts))


def _difficulty(facts: RhythmForWords) -> float:
    lines = _lines(facts)
    upbeat = 0.2 if not lines[0][0].beats else 0.0
    return 0.04 * sum(len(line) for line in lines) - 0.7 + upbeat + (0.3 if _time(facts).kind == "compound" else 0.0)


KIND = Kind(
    id="rhythm-for-words",
    topic="composing",
    since=4,
    title="A rhythm for words",
    facts=RhythmForWords,
    forms={"written": "rhythm"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"rhythm-for-words/{_time(facts).kind}",
    pool=lambda scope: len(fitting(scope.times)),
    seconds=480,
    marking=Marking("minus-one-per-fault"),
    marks=sum(CRITERIA.values()),
    report=_report,
    draw=_draw,
    asks=lambda facts: frozenset({f"verse:{facts.lines[0]}"}),
    shows=lambda facts: frozenset({f"verse:{facts.lines[0]}"}),
)

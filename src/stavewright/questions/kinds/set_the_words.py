"""Set two lines of verse to a melody for a voice, one note a syllable; any good melody is right.

Ten marks by criterion: a note for each syllable (1), bars (1), stress (2), line ends (1), range (1), key (1), opening
(1), cadence (1), shape (1). No syllable is sung to several notes; a tie makes one note of two.
"""

from __future__ import annotations

from functools import lru_cache
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.criterion import Criterion, lost, said
from stavewright.questions.documents import Answer, ScoreForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument, Word
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.verse_tunes import count_tunes, pick_tune
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.showing.sung import empty_lines, verse_blocks
from stavewright.questions.solving.verse_rhythm import times_that_fit
from stavewright.questions.solving.verse_tune import MOST_FEET, Lines, Song, tunes
from stavewright.questions.solving.verse_tune_report import tune_report
from stavewright.questions.solving.verse_tune_work import spoilt_tunes, tune_steps
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import feet, foot_lengths, line_words, read_line
from stavewright.theory.voice import Voice, voice

_MARKS = 10
_MOST_SHOWN = 2


class SetTheWords(Facts, frozen=True, forbid_unknown_fields=True):
    """Two lines of verse, syllables and stresses marked, with the time, key, voice and clef to set them in.

    Raises:
        BadDocument: a time in which verse has no natural place, a line of too many beats, or a clef the voice does not
            read.
    """

    time: str
    lines: tuple[Annotated[str, Meta(max_length=200)], Annotated[str, Meta(max_length=200)]]
    key: KeyText
    voice: Word
    clef: Word
    credit: Annotated[str, Meta(max_length=200)] = ""

    def __post_init__(self) -> None:
        if not foot_lengths(TimeSignature.parse(self.time)):
            raise BadDocument(f"verse is set in simple time or in two or four compound beats, not in {self.time}")
        if any(len(feet(line)[1]) > MOST_FEET for line in _lines(self)):
            raise BadDocument(f"a line to set has at most {MOST_FEET} beats")
        if self.clef not in _voice(self).clefs:
            raise BadDocument(f"a {self.voice} reads the {' or '.join(_voice(self).clefs)} clef, not the {self.clef}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = pick_tune(scope, rng)
    if made is None:
        return None
    verse, time = made.rhythm.verse, made.rhythm.time
    facts = SetTheWords(time.text, verse.lines, made.key.text, made.voice.name, made.clef, verse.credit)
    return Draft(facts, Value(score=made.tune))


def _time(facts: SetTheWords) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _lines(facts: SetTheWords) -> Lines:
    return tuple(read_line(line) for line in facts.lines)


def _key(facts: SetTheWords) -> Key:
    return Key.parse(facts.key)


def _voice(facts: SetTheWords) -> Voice:
    return voice(facts.voice)


def _song(facts: SetTheWords) -> Song:
    return Song(_lines(facts), _time(facts), _key(facts), _voice(facts), facts.clef)


def _empty(facts: SetTheWords) -> ScoreDocument:
    return document_of(empty_lines(_time(facts), clef=facts.clef, fifths=_key(facts).fifths))


def _pose(facts: SetTheWords, wording: Wording) -> Posed:
    article = "an" if facts.voice[0] in "aeiou" else "a"
    ask = (
        f"Set these two lines of verse to a melody for {article} {facts.voice} voice in {facts.key}, in {facts.time}, "
        "one note for each syllable. Draw the bar lines, end on the tonic, and write every syllable under its note."
    )
    words = [line_words(line) for line in _lines(facts)]
    return Posed((TextBlock(wording.say(ask)), *verse_blocks(words, facts.credit)), ScoreForm(_empty(facts)))


def _report(facts: SetTheWords, value: Value) -> tuple[Criterion, ...]:
    whole = _empty(facts) if value.score is None else value.score
    return tune_report(whole, _lines(facts), _time(facts), _key(facts), _voice(facts))


@lru_cache(maxsize=64)
def _models(facts: SetTheWords) -> tuple[ScoreDocument, ...]:
    """The melodies of the rule that meet every criterion, so many as are shown.

    Raises:
        BadDocument: there is none.
    """
    found: list[ScoreDocument] = []
    for one in tunes(_song(facts)):
        if len(found) < _MOST_SHOWN and not lost(_report(facts, Value(score=one))):
            found.append(one)
    if not found:
        raise BadDocument(f"no plain melody in {facts.time} fits these lines: {times_that_fit(_lines(facts))}")
    return tuple(found)


def _solve(facts: SetTheWords) -> tuple[Answer, ...]:
    found: list[Answer] = []
    for one in _models(facts):
        value = Value(score=one)
        reason = f"{said(_report(facts, value))} Any other melody that does so is right."
        found.append(answer(value, _text(one), reason if not found else "It meets every criterion as well."))
    return tuple(found)


def _text(tune: ScoreDocument) -> str:
    """The bars in words, without clef and signatures, which are printed."""
    return spoken_extract(score_of(tune)).split(". ", 1)[1].rstrip(".")


def _slips(facts: SetTheWords) -> tuple[Slip, ...]:
    found: list[Slip] = []
    for name, wrong, remedy in spoilt_tunes(_song(facts)):
        value = Value(score=wrong)
        if lost(_report(facts, value)):
            found.append(slip(name, value, name.capitalize(), remedy))
    return tuple(found)


def _work(facts: SetTheWords, method: str) -> tuple[Step, ...]:
    return tune_steps(_song(facts), _models(facts)[0])


def _draw(facts: SetTheWords, value: Value) -> Score:
    return score_of(_empty(facts) if value.score is None else value.score)


def _difficulty(facts: SetTheWords) -> float:
    key = _key(facts)
    upbeat = 0.2 if not _lines(facts)[0][0].beats else 0.0
    return 0.5 + 0.1 * abs(key.fifths) + 0.3 * key.is_minor + upbeat + 0.2 * (_time(facts).kind == "compound")


KIND = Kind(
    id="set-the-words",
    topic="composing",
    since=5,
    title="Set the words to a melody",
    facts=SetTheWords,
    forms={"written": "score"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"set-the-words/{_key(facts).mode}",
    pool=count_tunes,
    seconds=900,
    marking=Marking("minus-one-per-fault"),
    marks=_MARKS,
    report=_report,
    draw=_draw,
    asks=lambda facts: frozenset({f"verse:{facts.lines[0]}"}),
    shows=lambda facts: frozenset({f"verse:{facts.lines[0]}", f"signature:{facts.key}"}),
)

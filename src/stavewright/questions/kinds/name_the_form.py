"""Letter the phrases of a piece by what returns (AABA...), and say in which bars the phrases end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from string import ascii_lowercase, ascii_uppercase

from stavewright.questions.documents import Answer, ChoiceForm, Option, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.phrases import music_in_phrases
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.finders import moved_by, rhythm_of
from stavewright.questions.solving.line import SungBar, line_of
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope

# How many phrases a piece of so many bars has, and how long they are: phrases of 2 or 4 bars (common practice).
_PHRASES = {6: (3, 2), 8: (4, 2), 12: (3, 4), 16: (4, 4)}
_FORMS = {
    3: ("AAA", "AAB", "ABA", "ABB", "ABC"),
    4: ("AAAA", "AABA", "AABB", "AABC", "ABAB", "ABAC", "ABBA", "ABCD"),
}
_SET = ("AAB", "ABA", "ABA", "ABB", "AABA", "AABA", "AABB", "ABAB", "ABBA")
_NUMBERS = {3: "three", 4: "four"}
_PLACE = ("first", "second", "third", "fourth")


class NameTheForm(Facts, frozen=True, forbid_unknown_fields=True):
    """The music as it is printed, its bars numbered.

    Raises:
        BadDocument: not one stave of 6, 8, 12 or 16 bars.
    """

    music: ScoreDocument
    credit: str = ""

    def __post_init__(self) -> None:
        if len(self.music.staves) != 1 or len(self.music.staves[0].bars) not in _PHRASES or self.music.anacrusis:
            raise BadDocument("phrases are named in music of 6, 8, 12 or 16 bars on one stave without an upbeat")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    form = rng.choice(_SET)
    made = None if melodies is None else music_in_phrases(form, scope, rng, melodies)
    if made is None:
        return None
    score, credit, length = made
    offered = ("AAA", "AAB", "ABA", "ABB", "ABC") if len(form) == 3 else _four()
    letter = "abcdefgh"[offered.index(form)]
    ends = tuple(Place(length * number) for number in range(1, len(form) + 1))
    return Draft(NameTheForm(document_of(score), credit), (Value(choice=letter), Value(places=ends)))


def _four() -> tuple[str, ...]:
    """The forms of four phrases as they are offered, in the order of the alphabet."""
    return tuple(sorted(("AABA", "ABAB", "AABB", "ABBA", "AABC", "ABAC", "AAAA", "ABCD")))


def _count(facts: NameTheForm) -> tuple[int, int]:
    return _PHRASES[len(facts.music.staves[0].bars)]


def _pose(facts: NameTheForm, wording: Wording) -> Posed:
    phrases, _ = _count(facts)
    ask = (
        f"This music has {_NUMBERS[phrases]} phrases of the same length. Call the first one A, give the same letter to "
        "a phrase that returns note for note, and the next letter to one that is new. Which form is it? Then say in "
        "which bars the phrases end."
    )
    options = tuple(Option(ascii_lowercase[at], text=form) for at, form in enumerate(_FORMS[phrases]))
    shown = StaveBlock(facts.music, wording.say(spoken_extract(score_of(facts.music))))
    credit = (TextBlock(facts.credit),) if facts.credit else ()
    forms = (ChoiceForm(options), PlacesForm("bars", phrases))
    return Posed((TextBlock(wording.say(ask)), shown, *credit), forms)


Phrase = Sequence[SungBar]
Same = Callable[[Phrase, Phrase], bool]


def _phrases(facts: NameTheForm) -> list[Phrase]:
    count, length = _count(facts)
    line = line_of(facts.music)
    return [line[at * length : (at + 1) * length] for at in range(count)]


def _note_for_note(one: Phrase, other: Phrase) -> bool:
    return all(moved_by(a, b) == 0 for a, b in zip(one, other, strict=True))


def _in_rhythm(one: Phrase, other: Phrase) -> bool:
    return all(rhythm_of(a) == rhythm_of(b) for a, b in zip(one, other, strict=True))


def _first_rhythm(one: Phrase, other: Phrase) -> bool:
    return rhythm_of(one[0]) == rhythm_of(other[0])


def _first_note(one: Phrase, other: Phrase) -> bool:
    return one[0].notes[0].pitch == other[0].notes[0].pitch if one[0].notes and other[0].notes else False


def _never(one: Phrase, other: Phrase) -> bool:
    return False


def _lettered(facts: NameTheForm, same: Same) -> str:
    """The letters of the phrases: the letter of the first earlier phrase that is the same, or the next new one."""
    seen: list[Phrase] = []
    letters = ""
    for phrase in _phrases(facts):
        place = next((at for at, one in enumerate(seen) if same(one, phrase)), None)
        if place is None:
            place = len(seen)
            seen.append(phrase)
        letters += ascii_uppercase[place]
    return letters


def _value(facts: NameTheForm, form: str, bars: Sequence[int]) -> tuple[Value, Value] | None:
    offered = _FORMS[_count(facts)[0]]
    if form not in offered:
        return None
    return Value(choice=ascii_lowercase[offered.index(form)]), Value(places=tuple(Place(bar) for bar in bars))


def _ends(facts: NameTheForm) -> list[int]:
    return [phrase[-1].number for phrase in _phrases(facts)]


def _text(form: str, bars: Sequence[int]) -> str:
    return f"{form}; the phrases end in bars {', '.join(str(bar) for bar in bars[:-1])} and {bars[-1]}"


def _solve(facts: NameTheForm) -> tuple[Answer, ...]:
    form, ends = _lettered(facts, _note_for_note), _ends(facts)
    value = _value(facts, form, ends)
    if value is None:
        return ()
    back = [_returns(facts, at) for at in range(1, len(form))]
    return (answer(value, _text(form, ends), " ".join(one for one in back if one)),)


def _returns(facts: NameTheForm, at: int) -> str:
    """What a phrase is to those before it, in words."""
    phrases, form = _phrases(facts), _lettered(facts, _note_for_note)
    first = form.index(form[at])
    here = f"Bars {phrases[at][0].number} to {phrases[at][-1].number}"
    if first == at:
        return f"{here} are new: {form[at]}."
    return f"{here} repeat bars {phrases[first][0].number} to {phrases[first][-1].number}: {form[at]} again."


_WRONG: tuple[tuple[str, Same, str], ...] = (
    ("rhythm taken for melody", _in_rhythm, "Compare the notes too: the same rhythm alone is no return."),
    ("only the first bar's rhythm looked at", _first_rhythm, "Compare the whole phrase, notes and values."),
    ("only the first note looked at", _first_note, "Compare the whole phrase, not only where it begins."),
    ("every phrase taken for new", _never, "Look back: does the first bar of the phrase come earlier?"),
)


def _slips(facts: NameTheForm) -> tuple[Slip, ...]:
    form, ends = _lettered(facts, _note_for_note), _ends(facts)
    found: list[Slip] = []
    wrong = [(name, _lettered(facts, same), ends, remedy) for name, same, remedy in _WRONG]
    starts = [phrase[0].number for phrase in _phrases(facts)]
    wrong.append(("beginnings for ends", form, starts, "A phrase ends in its last bar: count its bars."))
    for name, letters, bars, remedy in wrong:
        value = _value(facts, letters, bars)
        if value is not None and (letters, bars) != (form, ends) and all(value != one.value for one in found):
            found.append(slip(name, value, _text(letters, bars), remedy))
    return tuple(found)


def _work(facts: NameTheForm, method: str) -> tuple[Step, ...]:
    count, length = _count(facts)
    form, ends = _lettered(facts, _note_for_note), _ends(facts)
    bars = len(facts.music.staves[0].bars)
    steps = [
        Step(
            f"{bars} bars in {_NUMBERS[count]} phrases: {length} bars each, so they end in bars "
            f"{', '.join(str(bar) for bar in ends)}.",
            (),
            f"{bars} : {count} = {length}",
        )
    ]
    for at in range(1, count):
        ids = tuple(note.note.id for note in _phrases(facts)[at][0].notes if note.note.id)
        steps.append(Step(_returns(facts, at), ids, form[at]))
    steps.append(Step(f"Check: {form} has {_NUMBERS[count]} letters, one for each phrase.", (), form))
    return tuple(steps)


def _difficulty(facts: NameTheForm) -> float:
    """Longer phrases are more to compare; phrases with one rhythm look alike (common practice)."""
    phrases = _phrases(facts)
    alike = any(_in_rhythm(one, two) and not _note_for_note(one, two) for one in phrases for two in phrases)
    return -0.8 + 0.2 * _count(facts)[1] + (0.4 if alike else 0.0)


KIND = Kind(
    id="name-the-form",
    topic="reading",
    since=2,
    title="Name the form",
    facts=NameTheForm,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"name-the-form/{_NUMBERS[_count(facts)[0]]} phrases",
    pool=lambda scope: None,
    seconds=75,
    marking=Marking("per-item"),
    marks=3,
)

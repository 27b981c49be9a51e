"""Find two bars that belong together: alike, alike in rhythm only, a sequence, or one the other turned over."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, pairwise
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bar_pairs import pairs_of
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.setting.turned_bar import turn_a_bar
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.finders import moved_by, rhythm_of
from stavewright.questions.solving.line import SungBar, line_of
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal

_BARS = 8
_FEWEST = 3
_TURNED_SHARE = 0.35
_RELATION = "^(same-notes|same-rhythm|sequence|inversion)$"


class CompareBars(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, and how the two bars that are looked for go together."""

    extract: ScoreDocument
    relation: Annotated[str, Meta(pattern=_RELATION, max_length=20)]
    block: str = "extract"
    credit: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    source = in_hand(scope, rng, stimulus, melodies, _BARS)
    if source is None:
        return None
    score, document, block = source.extract.score, source.document, source.block
    bars = flatten(score)
    if bars is None:
        return None
    if stimulus is None and rng.random() < _TURNED_SHARE:
        turned = turn_a_bar(score, scope, rng)
        changed = None if turned is None else flatten(turned[0])
        pairs = {} if changed is None else pairs_of(changed)
        if turned is not None and "inversion" in pairs:
            facts = CompareBars(document_of(turned[0]), "inversion", block, source.credit)
            return Draft(facts, Value(places=tuple(Place(bar) for bar in pairs["inversion"][0])))
    pairs = pairs_of(bars)
    if not pairs:
        return None
    relation = rng.choice(sorted(pairs))
    places = tuple(Place(bar) for bar in pairs[relation][0])
    return Draft(CompareBars(document, relation, block, source.credit), Value(places=places))


_ASK = {
    "same-notes": "Find two bars that are exactly alike: the same notes in the same rhythm.",
    "same-rhythm": "Find two bars that have the same rhythm but not the same notes.",
    "sequence": "Find two bars next to each other where the second repeats the pattern of the first higher or lower "
    "(a sequence).",
    "inversion": "Find two bars where one is the other turned upside down: the same rhythm, but every step or leap up "
    "goes down as far, and every one down goes up.",
}


def _pose(facts: CompareBars, wording: Wording) -> Posed:
    ask = TextBlock(wording.say(_ASK[facts.relation]))
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    return Posed((ask, *blocks), PlacesForm("bars", 2))


def _shape(bar: SungBar) -> list[int]:
    """The moves from note to note, in steps, up and down."""
    return [b.pitch.diatonic - a.pitch.diatonic for a, b in pairwise(bar.notes)]


def _alike(one: SungBar, other: SungBar) -> bool:
    return moved_by(one, other) == 0


def _same_rhythm(one: SungBar, other: SungBar) -> bool:
    return rhythm_of(one) == rhythm_of(other)


def _rhythm_only(one: SungBar, other: SungBar) -> bool:
    return _same_rhythm(one, other) and not _alike(one, other)


def _moved(one: SungBar, other: SungBar) -> bool:
    return bool(moved_by(one, other)) and len(one.notes) >= _FEWEST


def _in_sequence(one: SungBar, other: SungBar) -> bool:
    return _moved(one, other) and other.number == one.number + 1


def _turned(one: SungBar, other: SungBar) -> bool:
    moves = _shape(one)
    mirrored = moves == [-move for move in _shape(other)] and any(moves)
    return mirrored and _same_rhythm(one, other) and len(one.notes) >= _FEWEST


def _same_look(one: SungBar, other: SungBar) -> bool:
    """As many notes, going up and down in the same order, whatever their values and places."""
    ways = [[(move > 0) - (move < 0) for move in _shape(bar)] for bar in (one, other)]
    return len(one.notes) >= _FEWEST and ways[0] == ways[1]


def _as_many(one: SungBar, other: SungBar) -> bool:
    return len(one.notes) == len(other.notes)


Rule = Callable[[SungBar, SungBar], bool]
_RIGHT: dict[str, Rule] = {
    "same-notes": _alike,
    "same-rhythm": _rhythm_only,
    "sequence": _in_sequence,
    "inversion": _turned,
}
_WRONG: dict[str, tuple[tuple[str, Rule], ...]] = {
    "same-notes": (("same shape for same notes", _moved), ("same rhythm for same notes", _same_rhythm)),
    "same-rhythm": (("same notes for same rhythm only", _alike), ("counted the notes only", _as_many)),
    "sequence": (
        ("exact repeat for a sequence", _alike),
        ("moved, but not side by side", _moved),
        ("same rhythm for a sequence", _same_rhythm),
    ),
    "inversion": (
        ("moved for turned over", _moved),
        ("exact repeat for turned over", _alike),
        ("same rhythm for turned over", _same_rhythm),
    ),
}
_HOW = {
    "same-notes": "Compare note by note: places on the stave and values must both be the same.",
    "same-rhythm": "Tap the rhythm of each bar and leave the notes aside; then look that the notes differ.",
    "sequence": "Look for the same shape and rhythm, higher or lower, in the very next bar.",
    "inversion": "Say up or down, and how far, from note to note; in the other bar each must be the other way.",
}


def _pairs(facts: CompareBars, rule: Rule) -> list[tuple[SungBar, SungBar]]:
    whole = [bar for bar in line_of(facts.extract) if bar.number and bar.notes]
    return [(one, other) for one, other in combinations(whole, 2) if rule(one, other)]


def _value(pair: tuple[SungBar, SungBar]) -> Value:
    return Value(places=tuple(Place(bar.number) for bar in pair))


def _text(pair: tuple[SungBar, SungBar]) -> str:
    return f"bars {pair[0].number} and {pair[1].number}"


def _reason(facts: CompareBars, pair: tuple[SungBar, SungBar]) -> str:
    one, other = pair
    if facts.relation == "sequence":
        moved = moved_by(one, other) or 0
        far = ordinal(abs(moved) + 1)
        size = f"an {'octave' if far == '8th' else far}" if far.startswith(("8", "11")) else f"a {far}"
        return f"Every note of bar {other.number} stands {size} {'higher' if moved > 0 else 'lower'}."
    if facts.relation == "inversion":
        return f"Where bar {one.number} goes up, bar {other.number} goes down as far, in the same rhythm."
    if facts.relation == "same-rhythm":
        values = ", ".join(event.duration.text for event in one.bar.events)
        return f"The rhythm of both bars is {values}; the notes are not the same."
    return f"Bar {other.number} repeats bar {one.number} note for note."


def _solve(facts: CompareBars) -> tuple[Answer, ...]:
    return tuple(
        answer(_value(pair), _text(pair), _reason(facts, pair)) for pair in _pairs(facts, _RIGHT[facts.relation])
    )


def _slips(facts: CompareBars) -> tuple[Slip, ...]:
    right = _pairs(facts, _RIGHT[facts.relation])
    found: list[Slip] = []
    for name, rule in (*_WRONG[facts.relation], ("same look", _same_look)):
        wrong = [pair for pair in _pairs(facts, rule) if pair not in right]
        if wrong:
            found.append(slip(name, _value(wrong[0]), _text(wrong[0]), _HOW[facts.relation]))
    if right and line_of(facts.extract)[0].number == 0:
        numbers = [bar.number + 1 for bar in right[0]]
        value = Value(places=tuple(Place(number) for number in numbers))
        said = f"bars {numbers[0]} and {numbers[1]}"
        found.append(slip("upbeat counted as bar 1", value, said, "Bar 1 is the first whole bar."))
    return tuple(found)


def _work(facts: CompareBars, method: str) -> tuple[Step, ...]:
    pair = _pairs(facts, _RIGHT[facts.relation])[0]
    ids = tuple(note.note.id for bar in pair for note in bar.notes if note.note.id)
    steps = [Step("Look at the rhythm first: which bars have the same values in the same order?", (), "r")]
    if facts.relation != "same-rhythm":
        steps.append(Step(_HOW[facts.relation], (), "up, down"))
    steps.append(Step(f"It is {_text(pair)}. {_reason(facts, pair)}", ids, "tick"))
    steps.append(Step("Check: put one finger on each bar and go through both note by note.", (), ""))
    return tuple(steps)


_HARD = {"same-notes": -0.8, "same-rhythm": -0.2, "sequence": 0.4, "inversion": 1.0}


def _difficulty(facts: CompareBars) -> float:
    """A repeat is easiest to see, then a rhythm, then a moved pattern, then a mirrored one (common practice)."""
    return _HARD[facts.relation]


def _tokens(facts: CompareBars) -> frozenset[str]:
    pairs = _pairs(facts, _RIGHT[facts.relation])
    return frozenset(f"extract:{facts.relation}:{bar.number}" for pair in pairs for bar in pair)


KIND = Kind(
    id="compare-bars",
    topic="reading",
    since=1,
    title="Two bars that go together",
    facts=CompareBars,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"compare-bars/{facts.relation}",
    pool=lambda scope: None,
    seconds=60,
    marking=Marking("all-or-nothing"),
    extract=True,
    asks=_tokens,
)

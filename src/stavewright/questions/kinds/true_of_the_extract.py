"""Say which statements about an extract are true; every one can be proved from the notes."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from string import ascii_lowercase

from stavewright.questions.documents import Answer, ChoicesForm, Option, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.setting.extract_statements import choose, statements
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.showing.statement_words import statement_words
from stavewright.questions.solving.judging import judge, points
from stavewright.questions.solving.judging_slips import WRONG_RULES, judged_wrongly
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope

_BARS = 8
_STATEMENTS = 4


class TrueOfTheExtract(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed and the statements that are made about it, in order."""

    extract: ScoreDocument
    statements: tuple[Property, ...]
    block: str = "extract"
    credit: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = in_hand(scope, rng, stimulus, melodies, _BARS)
    if found is None:
        return None
    memo = {} if stimulus is None else stimulus.memo
    if "statements" not in memo:
        bars = flatten(found.extract.score)
        memo["statements"] = {} if bars is None else statements(bars, scope, found.extract.key)
    chosen = choose(memo["statements"], rng, _STATEMENTS)
    if chosen is None:
        return None
    letters = tuple(letter for letter, (_, truth) in zip(ascii_lowercase, chosen, strict=False) if truth)
    facts = TrueOfTheExtract(found.document, tuple(said for said, _ in chosen), found.block, found.credit)
    return Draft(facts, Value(choices=letters))


def _pose(facts: TrueOfTheExtract, wording: Wording) -> Posed:
    options = tuple(
        Option(letter, text=wording.say(statement_words(said)))
        for letter, said in zip(ascii_lowercase, facts.statements, strict=False)
    )
    ask = TextBlock("Which of these statements are true? Mark every true one.")
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    return Posed((ask, *blocks), ChoicesForm(options))


def _letters(truths: Sequence[bool]) -> tuple[str, ...]:
    return tuple(letter for letter, truth in zip(ascii_lowercase, truths, strict=False) if truth)


def _text(letters: tuple[str, ...]) -> str:
    return " and ".join([", ".join(letters[:-1]), letters[-1]]) if len(letters) > 1 else "".join(letters)


def _solve(facts: TrueOfTheExtract) -> tuple[Answer, ...]:
    verdicts = [judge(facts.extract, said) for said in facts.statements]
    letters = _letters([truth for truth, _ in verdicts])
    if not letters:
        return ()
    reasons = [f"{letter}: {why}." for letter, (_, why) in zip(ascii_lowercase, verdicts, strict=False)]
    return (answer(Value(choices=letters), _text(letters), " ".join(reasons)),)


def _slips(facts: TrueOfTheExtract) -> tuple[Slip, ...]:
    right = [judge(facts.extract, said)[0] for said in facts.statements]
    found: list[Slip] = []
    turned = _letters([not truth for truth in right])
    wrong = [("marked the false ones", turned, "Mark what is true: read the question once more.")]
    for name, (rule, remedy) in WRONG_RULES.items():
        wrong.append((name, _letters(judged_wrongly(facts.extract, facts.statements, rule)), remedy))
    for name, letters, remedy in wrong:
        if letters and letters != _letters(right):
            found.append(slip(name, Value(choices=letters), _text(letters), remedy))
    return tuple(found)


def _work(facts: TrueOfTheExtract, method: str) -> tuple[Step, ...]:
    steps: list[Step] = []
    for letter, said in zip(ascii_lowercase, facts.statements, strict=False):
        truth, why = judge(facts.extract, said)
        verdict = "true" if truth else "false"
        text = f"{letter} is {verdict}: {why}."
        steps.append(Step(text, points(facts.extract, said), f"{letter} {'yes' if truth else 'no'}"))
    return (*steps, Step("Check: find the proof of each true one in the music, not in the words.", (), ""))


_HARD = {
    "sequence": 0.5, "syncopation": 0.5, "interval": 0.5, "largest-leap": 0.4, "metre": 0.3, "first-note": 0.3,
    "last-note": 0.3, "same-rhythm": 0.2, "octave": 0.2, "highest": 0.1, "lowest": 0.1, "beats": 0.1, "rest": -0.6,
    "dotted": -0.4, "accidental": -0.3, "upbeat": -0.2, "hairpin": -0.3, "begins": -0.2,
}  # fmt: skip


def _difficulty(facts: TrueOfTheExtract) -> float:
    """Four things to judge, as hard as they are on the average (common practice)."""
    hard = [_HARD.get(said.about, 0.0) for said in facts.statements]
    return 0.1 + sum(hard) / max(1, len(hard))


def _tokens(facts: TrueOfTheExtract) -> frozenset[str]:
    return frozenset().union(*(said.tokens for said in facts.statements))


KIND = Kind(
    id="true-of-the-extract",
    topic="reading",
    since=1,
    title="True of the music?",
    facts=TrueOfTheExtract,
    forms={"written": "choices", "on-screen": "choices"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: "true-of-the-extract/four statements",
    pool=lambda scope: None,
    seconds=75,
    marking=Marking("per-item"),
    marks=2,
    extract=True,
    asks=_tokens,
    shows=_tokens,
)

"""Whether the sheet a pupil is sent gives the answer away: in a field, an id, a sentence or the look of an option."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence

import msgspec

from stavewright.questions.asking import built_choice
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import (
    Answer,
    ChoiceForm,
    ChoicesForm,
    ChordsForm,
    Form,
    Option,
    OrderForm,
    PairsForm,
    Question,
    TextBlock,
)
from stavewright.questions.kind import Kind
from stavewright.questions.reading import read_words
from stavewright.questions.sheet import sheet

SECRET_FIELDS = frozenset(
    {"facts", "score", "musicxml", "value", "alter", "step", "octave", "fifths", "answers", "slips", "working", "seed"}
)
BLOCK_IDS = frozenset({"", "extract", "extract-credit", "credit"})
"""The ids a block of a prompt may have: none says anything about the question."""
_CHORDS = ("i", "ii", "iii", "iv", "v", "vi", "vii")


_RUNNING = re.compile(r"(-([pr]\d{1,2}|[a-z]))?|[a-z]")
"""What an id has besides the question's own."""
_SENTENCE_END = re.compile(r"(?<=[.?!]) ")


def things_shown(form: Form) -> tuple[Option, ...]:
    """Everything a response form shows to pick, to join or to put in order."""
    if isinstance(form, ChoiceForm | ChoicesForm):
        return form.options
    if isinstance(form, OrderForm):
        return form.items
    return (*form.left, *form.right) if isinstance(form, PairsForm) else ()


def told(question: Question) -> list[str]:
    """Every sentence of the sheet, the texts of options apart: prompts, and text alternatives of music and options."""
    form = question.response[0]
    said = [block.text if isinstance(block, TextBlock) else block.alt for block in question.prompt]
    said.append(getattr(form, "alt", ""))
    said += [option.alt for option in things_shown(form)]
    return [sentence for text in said if text for sentence in _SENTENCE_END.split(text)]


def leaks(question: Question, facts: object, answers: Sequence[Answer], constant: frozenset[str]) -> Iterator[str]:
    """Everything on the sheet that gives the answer away, in words.

    `constant` sentences stand word for word over different answers, so they say nothing about any of them.
    """
    kind = kind_of(question.kind)
    view = json.loads(msgspec.json.encode(sheet(question)))
    secret = SECRET_FIELDS & set(_keys(view))
    if secret:
        yield f"the sheet has {', '.join(sorted(secret))}"
    yield from _ids(question, view)
    yield from _odd_one_out(question, answers, kind)
    sentences = [text for text in told(question) if text not in constant]
    sets = _closed_sets(question, facts, kind)
    for one in answers:
        for text in sentences:
            if _says(text, one, sets):
                yield f"the sheet says the answer ({one.text!r}): {text!r}"
    for note in answers[0].value[0].notes or ():
        name = f"{note.step.casefold()}{note.octave}"
        if any(name in re.split(r"[^a-z0-9]+", text.casefold()) for text in sentences):
            yield f"a sentence of the sheet names the note {name} that is to be written"


def _keys(view: object) -> Iterator[str]:
    if isinstance(view, dict):
        for key, value in view.items():
            yield key
            yield from _keys(value)
    elif isinstance(view, list):
        for value in view:
            yield from _keys(value)


def _ids(question: Question, view: object) -> Iterator[str]:
    """Ids are the question's own id and a running number or letter: nothing else, so nothing about the answer."""
    blocks = {block.id for block in question.prompt}
    for id_ in _found_ids(view):
        if id_ not in BLOCK_IDS and not _RUNNING.fullmatch(id_.removeprefix(question.id)):
            yield f"the sheet has the id {id_!r}, which is not made of the question's id and a running number"
    if not blocks <= BLOCK_IDS:
        yield f"a block of the prompt has the id {', '.join(sorted(blocks - BLOCK_IDS))}"


def _found_ids(view: object) -> Iterator[str]:
    if isinstance(view, dict):
        if "part" in view:
            return
        for key, value in view.items():
            if key == "id":
                yield str(value)
            else:
                yield from _found_ids(value)
    elif isinstance(view, list):
        for value in view:
            yield from _found_ids(value)


def _odd_one_out(question: Question, answers: Sequence[Answer], kind: Kind) -> Iterator[str]:
    """The right option must not differ from all others in a way that has nothing to do with what it says."""
    form = built_choice(question)
    if form is None or len(form.options) < 3:
        return
    looks = [_look(option) for option in form.options]
    for option, look in zip(form.options, looks, strict=True):
        others = {other for one, other in zip(form.options, looks, strict=True) if one is not option}
        right = option.value is not None and is_right(option.value, answers, kind)
        if right and len(others) == 1 and look not in others:
            yield f"the right option {option.id!r} is the only one of its look"


def _look(option: Option) -> tuple[object, ...]:
    """What shows of an option besides its content: its make-up, how many sentences describe it, how its text ends."""
    ids = re.findall(rb'"id":"([^"]*)"', msgspec.json.encode(option.score)) if option.score else []
    made = frozenset(re.sub(rb"\d+", b"", one) for one in ids)  # longer music has more ids: only their make-up counts
    dressed = option.text != option.text.strip() or option.text.endswith((".", "!", "*"))
    return len(_SENTENCE_END.split(option.alt)), bool(option.text), option.score is not None, dressed, made


def _closed_sets(question: Question, facts: object, kind: Kind) -> list[set[str]]:
    """The sets of answers a prompt may name as a whole: naming all of them gives none away."""
    sets: list[set[str]] = []
    if kind.options is not None:
        sets.append({read_words(value.words or str(value.content)) for value in kind.options(facts)})
    form = question.response[0]
    if isinstance(form, ChordsForm) or any(one.value[0].form == "chords" for one in kind.solve(facts)):
        sets.append(set(_CHORDS))
    return sets


def _without_lists(said: str, sets: Sequence[set[str]]) -> str:
    """Take every list of two or more different members of one closed set out of a sentence ("I, IV or V")."""
    for members in sets:
        one = "(?:" + "|".join(re.escape(member) for member in sorted(members, key=len, reverse=True)) + ")"
        for found in re.findall(rf"\b{one}(?: (?:or |and )?(?:an? |the )?{one})+\b", said):
            if len(set(re.findall(rf"\b{one}\b", found))) > 1:
                said = said.replace(found, "...")
    return said


def _says(text: str, right: Answer, sets: Sequence[set[str]]) -> bool:
    """Whether a sentence says an answer as whole words; the article "A" and ordinals ("4th") say nothing."""
    answer = right.text if right.value[0].number is None else str(right.value[0].number)
    said = read_words(answer)
    if said.isdigit():
        # Descriptions of music are full of numbers (octaves, bars): a leak says what the number is.
        return re.search(rf"\b(?:is|are|answer|=) {re.escape(said)}\b", read_words(text)) is not None
    if f" {said} " not in f" {_without_lists(read_words(text), sets)} ":
        return False
    if len(said) == 1 or answer[1:2] == " ":
        # A letter is a note only as a capital; at the start of a sentence "A" is the article.
        return re.search(rf"\b{re.escape(answer)}\b(?!(?<=\bA) [a-z])", text) is not None
    return True

"""Faults planted in marking, comparing, slips, working and options."""

from __future__ import annotations

import re
from random import Random
from typing import Any

import msgspec

from services.planting import QUESTIONS, Ground, fault
from stavewright.questions.documents import ChoiceForm, Step
from stavewright.questions.kind import answer, slip
from stavewright.questions.values import Value
from stavewright.theory.pitch import Pitch


@fault("a slip earns full marks", "name-the-interval", 4, "earns full marks")
def _(ground: Ground) -> None:
    def quality_does_not_matter(compare: Any) -> Any:
        def wrong(given: Value, right: Value, marking: Any) -> Any:
            bare = re.sub("major|minor", "", given.words or ""), re.sub("major|minor", "", right.words or "")
            return compare(right if bare[0] == bare[1] else given, right, marking)

        return wrong

    ground.code("stavewright.marking.one_question.compare", quality_does_not_matter)


@fault("marks go above the most there are", "name-the-note", 2, "earns 2 of 1")
def _(ground: Ground) -> None:
    def generous(judge: Any) -> Any:
        def wrong(*given: Any) -> Any:
            got = judge(*given)
            return msgspec.structs.replace(got, marks=got.marks + 1 if got.marks else 0)

        return wrong

    ground.code("stavewright.marking.one_question._judge", generous)


@fault("a blank earns marks", "write-the-note", 1, "a blank answer earns marks")
def _(ground: Ground) -> None:
    def kind_to_blanks(mark: Any) -> Any:
        def wrong(question: Any, given: Any, *more: Any, **scheme: Any) -> Any:
            got = mark(question, given, *more, **scheme)
            return got if given else msgspec.structs.replace(got, marks=1)

        return wrong

    ground.code("stavewright.services.verify.mark_question", kind_to_blanks)


@fault("a missing note costs nothing", "write-the-scale", 3, "item missing or too many")
def _(ground: Ground) -> None:
    def only_what_is_there(aligned: Any) -> Any:
        return lambda got, wanted: aligned(got[: len(wanted)], wanted[: len(got)])

    ground.code(f"{QUESTIONS}.comparing._aligned", only_what_is_there)


@fault("follow-through is lost", "degree-number", 3, "from the earlier answer")
def _(ground: Ground) -> None:
    ground.code("stavewright.marking.one_question._follow", lambda _: lambda *given: None)


@fault("comparing folds two words into one", "name-the-note", 2, "is taken for")
def _(ground: Ground) -> None:
    ground.code(
        f"{QUESTIONS}.comparing.read_words",
        lambda read: lambda text: re.sub(" (sharp|flat|double)", "", read(text)),
    )


@fault("comparing ignores the inversion", "chord-and-inversion", 5, "is taken for")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.comparing.read_label", lambda read: lambda text: read(text).rstrip("abc"))


@fault("comparing takes enharmonic notes for one", "write-the-interval", 4, "is taken for")
def _(ground: Ground) -> None:
    def by_key_of_the_keyboard(key: Any) -> Any:
        def wrong(note: Any, alter: int, marking: Any, *, bare: bool) -> Any:
            return key(note, alter, marking, bare=bare) if bare else (Pitch(note.step, alter, note.octave).midi,)

        return wrong

    ground.code(f"{QUESTIONS}.comparing._key", by_key_of_the_keyboard)
    ground.code(f"{QUESTIONS}.comparing._places", lambda places: lambda value, marking: [])


@fault("a slip is dead: its rule is the right one", "name-the-signature", 2, "it shows nothing")
def _(ground: Ground) -> None:
    def with_a_dead_one(slips: Any) -> Any:
        from stavewright.questions.catalogue import kind

        def wrong(facts: Any) -> Any:
            model = kind("name-the-signature").solve(facts)[0]
            return (*slips(facts), slip("counted twice", model.value[0], model.text, "Count once."))

        return wrong

    ground.kind("name-the-signature", "slips", with_a_dead_one)


@fault("the model answer is of another form", "value-name", 1, "the answer is number, the question asks for words")
def _(ground: Ground) -> None:
    def by_number(solve: Any) -> Any:
        return lambda facts: tuple(answer(Value(number=1), one.text, one.reason) for one in solve(facts))

    ground.kind("value-name", "solve", by_number)


@fault("there is no working", "tone-or-semitone", 2, "no worked answer")
def _(ground: Ground) -> None:
    ground.kind("tone-or-semitone", "work", lambda _: lambda facts, method: ())


@fault("a step points at a note that is not there", "accidental-in-force", 2, "points at n99")
def _(ground: Ground) -> None:
    ground.kind(
        "accidental-in-force", "work", lambda work: lambda *given: (*work(*given), Step("And look here.", ("n99",)))
    )


@fault("two options are right", "enharmonic-twin", 4, "2 options are right", edition="on-screen")
def _(ground: Ground) -> None:
    def with_another_right_one(choice: Any) -> Any:
        def wrong(kind: Any, facts: Any, answers: Any, slips: Any, *more: Any) -> Any:
            if len(answers) > 1:
                slips = (slip("named in full", answers[1].value[0], answers[1].text, "It is right."), *slips)
            return choice(kind, facts, answers[:1], slips, *more)

        return wrong

    ground.code(f"{QUESTIONS}.asking.choice", with_another_right_one)


@fault("two options look alike", "relative-key", 3, "two options look the same", edition="on-screen")
def _(ground: Ground) -> None:
    def doubled(choice: Any) -> Any:
        def wrong(*given: Any) -> Any:
            form = choice(*given)
            first, second, *rest = form.options
            return ChoiceForm((first, msgspec.structs.replace(second, text=first.text), *rest))

        return wrong

    ground.code(f"{QUESTIONS}.asking.choice", doubled)


@fault("the right option stands first", "name-the-signature", 3, "would be its share", edition="on-screen")
def _(ground: Ground) -> None:
    def right_first(choice: Any) -> Any:
        def wrong(kind: Any, facts: Any, answers: Any, *more: Any) -> Any:
            form = choice(kind, facts, answers, *more)
            values = [one.value for one in form.options]
            place = values.index(answers[0].value[0])
            order = [form.options[place], *(one for at, one in enumerate(form.options) if at != place)]
            return ChoiceForm(
                tuple(msgspec.structs.replace(one, id=letter) for one, letter in zip(order, "abcd", strict=False))
            )

        return wrong

    ground.code(f"{QUESTIONS}.asking.choice", right_first)


@fault("every question has the same answer", "how-many-in", 2, "questions have one answer")
def _(ground: Ground) -> None:

    ground.kind("how-many-in", "set", lambda setter: lambda scope, rng, *more: setter(scope, Random(5), *more))

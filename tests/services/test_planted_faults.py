"""Faults planted on purpose, one a test: `verify` finds every one of them, and finds nothing without them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import msgspec
import pytest

from services.planting import Ground
from stavewright.questions.documents import ChoiceForm, SheetPicture, Step
from stavewright.questions.kind import Draft, Posed, answer, slip
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.services.spread import dead_slips
from stavewright.services.verify import verify_case
from stavewright.syllabus.scope import scope_for
from stavewright.theory.chord import ChordLabel
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.wiring import composed_melodies

SEEDS = 40
QUESTIONS = "stavewright.questions"


@dataclass(frozen=True)
class Fault:
    """What is planted, in which kind it must show, and the words of the problem that must be told."""

    name: str
    kind: str
    grade: int
    edition: str
    plant: Callable[[Ground], None]
    told: str


FAULTS: list[Fault] = []


def fault(name: str, kind: str, grade: int, told: str, edition: str = "written") -> Callable[..., None]:
    def keep(plant: Callable[[Ground], None]) -> None:
        FAULTS.append(Fault(name, kind, grade, edition, plant, told))

    return keep


def found(one: Fault) -> list[str]:
    verified = verify_case(one.kind, one.grade, one.edition, seed=0, count=SEEDS, melodies=composed_melodies())
    return [*verified.problems, *dead_slips([verified.slips], after=SEEDS)]


@pytest.fixture
def ground(monkeypatch: pytest.MonkeyPatch) -> Iterator[Ground]:
    one = Ground(monkeypatch)
    yield one
    one.clear()


# --- the solver, or the setter, is wrong ------------------------------------------------------------------------------


@fault("the solver reads one clef wrongly", "name-the-note", 1, "the setter meant")
def _(ground: Ground) -> None:
    def wrong_in_the_bass(solve: Any) -> Any:
        return lambda facts: solve(replaced(facts, place=facts.place + 2) if facts.clef == "bass" else facts)

    ground.kind("name-the-note", "solve", wrong_in_the_bass)


@fault("the solver forgets the raised 7th", "write-the-scale", 2, "the setter meant")
def _(ground: Ground) -> None:
    def natural(row: Any) -> Any:
        return lambda tonic, form, *more: row(tonic, form.replace("harmonic minor", "natural minor"), *more)

    ground.code(f"{QUESTIONS}.kinds.write_the_scale.scale_row", natural)


@fault("the solver counts the gap, not the notes", "interval-number", 2, "the setter meant")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.kinds.interval_number._number", lambda number: lambda facts: number(facts) - 1)


@fault("the solver transposes the other way", "transpose-the-melody", 5, "the setter meant")
def _(ground: Ground) -> None:
    ground.kind("transpose-the-melody", "solve", lambda solve: lambda facts: solve(replaced(facts, up=not facts.up)))


@fault("the parallel key is taken for the relative", "relative-key", 3, "the setter meant")
def _(ground: Ground) -> None:
    ground.code("stavewright.theory.key.Key.relative", lambda _: Key.parallel)


@fault("the degree is off by one", "degree-number", 2, "the setter meant")
def _(ground: Ground) -> None:
    def off_by_one(solve: Any) -> Any:
        def wrong(facts: Any) -> Any:
            model, *rest = solve(facts)
            value = model.value[0]
            if value.number is None:
                return (model, *rest)
            number = value.number % 7 + 1
            return (answer(Value(number=number), str(number), model.reason), *rest)

        return wrong

    ground.kind("degree-number", "solve", off_by_one)


@fault("the setter means another answer than it prints", "name-the-interval", 4, "the setter meant")
def _(ground: Ground) -> None:
    def meaning_major(setter: Any) -> Any:
        def wrong(*given: Any) -> Any:
            draft = setter(*given)
            return draft and replace(draft, expected=str(draft.expected).replace("minor", "major"))

        return wrong

    ground.kind("name-the-interval", "set", meaning_major)


@fault("a key is proved without its leading note", "key-of-a-melody", 3, "the setter meant|options")
def _(ground: Ground) -> None:
    def always_major(prove: Any) -> Any:
        def wrong(pitches: Any, fifths: int) -> Any:
            proof = prove(pitches, fifths)
            return replace(proof, key=proof.key and (proof.key.relative if proof.key.is_minor else proof.key))

        return wrong

    ground.code(f"{QUESTIONS}.kinds.key_of_a_melody.prove_key", always_major)


@fault("the solver reads inversions by the top note", "chord-and-inversion", 5, "the setter meant")
def _(ground: Ground) -> None:
    ground.code(
        f"{QUESTIONS}.kinds.chord_and_inversion._label",
        lambda label: lambda facts: ChordLabel(label(facts).degree, (label(facts).inversion + 1) % 3),
    )


@fault("compound time is taken for simple", "describe-the-metre", 3, "the setter meant")
def _(ground: Ground) -> None:
    ground.code("stavewright.theory.metre.TimeSignature.kind", lambda _: property(lambda self: "simple"))


@fault("a term is given its neighbour's meaning", "term-meaning", 2, "the setter meant")
def _(ground: Ground) -> None:
    from stavewright.syllabus.terms import core_terms

    def next_one(term_of: Any) -> Any:
        def wrong(key: str) -> Any:
            known = sorted(core_terms(2), key=lambda term: term.key)
            return known[([term.key for term in known].index(key) + 1) % len(known)]

        return wrong

    ground.code(f"{QUESTIONS}.kinds.term_meaning.term_of", next_one)


@fault("a double reed is called single", "instrument-facts", 5, "the setter meant")
def _(ground: Ground) -> None:
    def single(said: Any) -> Any:
        return lambda one, ask: said(one, ask).replace("double", "single")

    ground.code(f"{QUESTIONS}.kinds.instrument_facts.said", single)


@fault("bars are counted from the upbeat", "find-in-the-extract", 3, "the setter meant")
def _(ground: Ground) -> None:
    def from_nought(found: Any) -> Any:
        return lambda facts: tuple(replaced(place, bar=place.bar + 1) for place in found(facts))

    ground.code(f"{QUESTIONS}.kinds.find_in_the_extract._found", from_nought)


@fault("a false statement is called true", "true-of-the-extract", 3, "the setter meant")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.kinds.true_of_the_extract.judge", lambda judge: lambda *given: (True, judge(*given)[1]))


@fault("a plagal cadence is called perfect", "name-the-cadence", 5, "the setter meant|options")
def _(ground: Ground) -> None:
    def perfect(cadence: Any) -> Any:
        return lambda *labels: {"plagal": "perfect"}.get(cadence(*labels), cadence(*labels))

    ground.code(f"{QUESTIONS}.kinds.name_the_cadence.cadence", perfect)


# --- theory is wrong --------------------------------------------------------------------------------------------------


@fault("theory calls diminished 5ths perfect", "name-the-interval", 4, "the setter meant")
def _(ground: Ground) -> None:
    def confused(between: Any) -> Any:
        def wrong(low: Pitch, high: Pitch) -> Interval:
            one = between(low, high)
            return Interval("P", 5) if one.short == "d5" else one

        return wrong

    ground.code(f"{QUESTIONS}.solving.intervals.between", confused)


@fault("theory makes a dot worth a third", "total-value", 2, "the setter meant|seed")
def _(ground: Ground) -> None:
    def wrong(ticks: Any) -> Any:
        return property(lambda self: ticks.__get__(self) * 8 // 9 if self.dots == 1 else ticks.__get__(self))

    ground.code("stavewright.theory.duration.Duration.ticks", wrong)


# --- marking is wrong -------------------------------------------------------------------------------------------------


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
        def wrong(question: Any, given: Any, earlier: Any = None) -> Any:
            got = mark(question, given, earlier)
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


# --- slips, working, options ------------------------------------------------------------------------------------------


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


@fault("two options are right", "name-the-note", 1, "2 options are right", edition="on-screen")
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
    from random import Random

    ground.kind("how-many-in", "set", lambda setter: lambda scope, rng, *more: setter(scope, Random(5), *more))


# --- the music is wrong -----------------------------------------------------------------------------------------------


def redrawn(posed: Posed, change: Callable[[Any], Any]) -> Posed:
    """The same question with the music of its prompt changed."""
    blocks = tuple(
        msgspec.structs.replace(block, score=document_of(change(score_of(block.score))))
        if hasattr(block, "score")
        else block
        for block in posed.blocks
    )
    return Posed(blocks, posed.form)


def replaced(facts: Any, **changes: Any) -> Any:
    return msgspec.structs.replace(facts, **changes)


@fault("a sign is not printed", "name-the-interval", 4, "is written so that it reads")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.showing.two_notes.with_accidentals", lambda _: lambda score: score)


@fault("a bar does not add up", "key-of-a-melody", 2, "holds .* ticks")
def _(ground: Ground) -> None:
    def short(score: Any) -> Any:
        (stave,) = score.staves
        bars = [*stave.bars]
        bars[1] = replace(bars[1], voices=(bars[1].events[:-1],))
        return replace(score, staves=(replace(stave, bars=tuple(bars)),), brackets=())

    def pose(posing: Any) -> Any:
        return lambda *given: redrawn(posing(*given), short)

    ground.kind("key-of-a-melody", "pose", pose)


@fault("the music goes beyond the grade", "name-the-note", 1, "not in the grade's scope")
def _(ground: Ground) -> None:
    ground.kind("name-the-note", "set", lambda setter: lambda scope, *more: setter(scope_for(5), *more))


@fault("the answer is drawn on another line", "write-the-note", 3, "is drawn without")
def _(ground: Ground) -> None:
    def lower(draw: Any) -> Any:
        def wrong(facts: Any, value: Value) -> Any:
            notes = tuple(replaced(note, octave=note.octave - 1) for note in value.notes or ())
            return draw(facts, replaced(value, notes=notes))

        return wrong

    ground.kind("write-the-note", "draw", lower)


@fault("facts do not survive storage", "total-value", 2, "storage")
def _(ground: Ground) -> None:
    def in_a_list(setter: Any) -> Any:
        def wrong(*given: Any) -> Any:
            draft = setter(*given)
            return draft and Draft(replaced(draft.facts, run=list(draft.facts.run)), draft.expected)

        return wrong

    ground.kind("total-value", "set", in_a_list)


# --- the sheet says too much ------------------------------------------------------------------------------------------


def saying(change: Callable[[Any, str], Any], id_: str) -> Callable[[Any], Any]:
    """A pose that changes one block with the model answer in hand."""
    from stavewright.questions.catalogue import kind

    def make(posing: Any) -> Any:
        def wrong(facts: Any, wording: Wording) -> Posed:
            posed = posing(facts, wording)
            model = kind(id_).solve(facts)[0].text
            return Posed(tuple(change(block, model) for block in posed.blocks), posed.form)

        return wrong

    return make


@fault("the text alternative names the note", "name-the-note", 1, "the sheet says the answer")
def _(ground: Ground) -> None:
    def named(block: Any, model: str) -> Any:
        return msgspec.structs.replace(block, alt=f"The note {model} on a stave.") if hasattr(block, "alt") else block

    ground.kind("name-the-note", "pose", saying(named, "name-the-note"))


@fault("the prompt says the answer", "primary-triads", 4, "the sheet says the answer")
def _(ground: Ground) -> None:
    def said(block: Any, model: str) -> Any:
        return (
            msgspec.structs.replace(block, text=f"{block.text} (It is {model}.)") if hasattr(block, "text") else block
        )

    ground.kind("primary-triads", "pose", saying(said, "primary-triads"))


@fault("the prompt says the number", "interval-number", 2, "the sheet says the answer")
def _(ground: Ground) -> None:
    def said(block: Any, model: str) -> Any:
        number = re.sub(r"\D", "", model)
        text = f"{getattr(block, 'text', '')} The answer: {number}."
        return msgspec.structs.replace(block, text=text) if hasattr(block, "text") else block

    ground.kind("interval-number", "pose", saying(said, "interval-number"))


@fault("the right option's text alternative differs", "write-the-interval", 4, "only one of its look", "on-screen")
def _(ground: Ground) -> None:
    def marked(choice: Any) -> Any:
        def wrong(kind: Any, facts: Any, answers: Any, *more: Any) -> Any:
            form = choice(kind, facts, answers, *more)
            return form and ChoiceForm(
                tuple(
                    msgspec.structs.replace(one, alt=f"{one.alt} Well written.")
                    if one.value == answers[0].value[0]
                    else one
                    for one in form.options
                )
            )

        return wrong

    ground.code(f"{QUESTIONS}.asking.choice", marked)


@fault("a picture is named after what it shows", "name-the-note", 2, "the sheet has the id")
def _(ground: Ground) -> None:
    def named(_: Any) -> Any:
        def wrong(id_: str, number: int, block: Any) -> Any:
            if not hasattr(block, "score"):
                return block
            return SheetPicture(f"{id_}-{next(score_of(block.score).notes()).pitch.short}", block.alt)

        return wrong

    ground.code(f"{QUESTIONS}.sheet._block", named)


@fault("a block is named after the answer", "which-clef", 2, "a block of the prompt has the id")
def _(ground: Ground) -> None:
    def named(block: Any, model: str) -> Any:
        return msgspec.structs.replace(block, id=model.replace(" ", "-"))

    ground.kind("which-clef", "pose", saying(named, "which-clef"))


@fault("the sheet carries the music as data", "name-the-tonic-triad", 2, "the sheet has .*(score|alter)")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.sheet._block", lambda _: lambda id_, number, block: block)


@fault("the sheet carries what each option says", "value-name", 2, "the sheet has value", "on-screen")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.sheet._options", lambda _: lambda id_, options: tuple(options))


@fault("a US sheet is in UK words", "value-name", 3, "UK words in a US question", "on-screen")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.wording.Wording.say", lambda _: lambda self, text: text)


@fault("a reason shows the program", "enharmonic-twin", 4, "a sentence shows the program")
def _(ground: Ground) -> None:
    def careless(solve: Any) -> Any:
        return lambda facts: tuple(replaced(one, reason=f"It is {facts!r}.") for one in solve(facts))

    ground.kind("enharmonic-twin", "solve", careless)


# --- the tests --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("one", FAULTS, ids=lambda one: one.name)
def test_a_planted_fault_is_found(one: Fault, ground: Ground) -> None:
    """Without the fault nothing is found; with it, at least one problem is, and for the right reason."""
    assert found(one) == []
    one.plant(ground)
    problems = found(one)
    assert [problem for problem in problems if re.search(one.told, problem)], problems[:3]


def test_faults_of_many_kinds_are_planted() -> None:
    """At least twenty faults, no two of one name, in kinds of every topic."""
    from stavewright.questions.catalogue import kinds

    assert len(FAULTS) >= 20
    assert len({one.name for one in FAULTS}) == len(FAULTS)
    assert {kinds()[one.kind].topic for one in FAULTS} == {kind.topic for kind in kinds().values()}

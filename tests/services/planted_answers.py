"""Faults planted in solvers, setters and theory: answers that are wrong."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from services.planting import QUESTIONS, Ground, a_beat_too_long, fault, replaced
from stavewright.questions.kind import answer
from stavewright.questions.values import Value
from stavewright.theory.chord import ChordLabel
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


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


@fault("theory makes a bar of 3/4 a beat too long", "beam-the-bar", 1, "holds .* ticks, where 3/4 asks for")
def _(ground: Ground) -> None:
    ground.code("stavewright.theory.metre.TimeSignature.ticks", a_beat_too_long)

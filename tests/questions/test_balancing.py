"""The right option is not the one most like the others more often than chance and few candidates allow."""

from __future__ import annotations

from random import Random

import pytest

from stavewright.questions.asking import answers_of
from stavewright.questions.balancing import beside, features
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.values import Value, WrittenNote
from stavewright.services.set_questions import set_questions
from stavewright.tunes.composed import ComposedMelodies


def likest(options: dict[str, frozenset]) -> list[str]:
    """The options that have most in common with the others: what a test-wise pupil would pick, knowing nothing."""
    shared = {one: sum(len(mine & theirs) for other, theirs in options.items() if other != one)
              for one, mine in options.items()}  # fmt: skip
    return [one for one, count in shared.items() if count == max(shared.values())]


@pytest.mark.parametrize(
    ("kind", "grade", "most"),
    [
        ("name-the-tonic-triad", 2, 0.55), ("name-the-interval", 4, 0.6), ("invert-the-interval", 4, 0.5),
        ("key-of-a-melody", 3, 0.45), ("relative-key", 3, 0.45), ("chromatic-scale", 4, 0.7),
        ("write-the-signature", 4, 0.5), ("degree-name", 4, 0.45), ("complete-the-scale", 3, 0.5),
        ("write-the-scale", 3, 0.65),
    ],
)  # fmt: skip
def test_picking_what_is_most_like_the_others_seldom_pays(kind: str, grade: int, most: float) -> None:
    """Before this was looked after, a pupil who did so had 95 % of the tonic triads and 78 % of the intervals right."""
    won = []
    for one in set_questions(
        kind=kind, grade=grade, edition="on-screen", count=60, seed=500, melodies=ComposedMelodies()
    ):
        form = one.response[0]
        assert isinstance(form, ChoiceForm)
        picks = likest({option.id: features(option.value) for option in form.options if option.value is not None})
        right = answers_of(one)[0].value[0].choice
        won.append((right in picks) / len(picks))
    assert sum(won) / len(won) <= most


def test_the_likeliest_wrong_option_is_always_there() -> None:
    wrong = [Value(words=words) for words in ("D minor", "A major", "F major", "B minor", "A minor", "G major")]
    for seed in range(30):
        assert wrong[0] in beside(Value(words="D major"), wrong, Random(seed))


def test_the_right_one_takes_every_place_in_likeness() -> None:
    """Never the likest, or never the least like, would tell as much as always."""
    wrong = [Value(words=words) for words in ("D minor", "A major", "F major", "B minor", "A minor", "G major")]
    places = set()
    for seed in range(60):
        options = [Value(words="D major"), *beside(Value(words="D major"), wrong, Random(seed))]
        sets = [features(one) for one in options]
        shared = [sum(len(a & b) for b in sets) - len(a) for a in sets]
        places.add(sum(count > shared[0] for count in shared[1:]))
    assert min(places) == 0
    assert max(places) >= 2


def test_few_wrong_options_are_all_taken() -> None:
    few = [Value(number=4), Value(number=2)]
    assert beside(Value(number=3), few, Random(1)) == few
    assert beside(Value(number=3), [], Random(1)) == []


def test_what_two_written_notes_have_in_common() -> None:
    """Place and sign are two things: a forgotten sharp leaves the place alike."""
    plain, sharp = (Value(notes=(WrittenNote("F", octave=4, accidental=sign),)) for sign in (None, "sharp"))
    assert (0, "F", 4) in features(plain) & features(sharp)
    assert (0, "sharp") in features(sharp) - features(plain)

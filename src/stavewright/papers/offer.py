"""What an edition offers a paper at a grade: families of questions, each in a form that is in use."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.papers.expected import Chances, target
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.syllabus.edition import Edition, Recipe, recipes
from stavewright.syllabus.errors import BadSyllabus


@dataclass(frozen=True, slots=True)
class Offer:
    """One family of questions in one form: marks an item, fewest and most items in a paper, share of its topic.

    `edition` is the edition whose form is used; `expected` the chance of full marks at each of the three abilities.
    """

    topic: str
    kind: str
    edition: str
    marks: int
    items: tuple[int, int]
    share: float
    extract: bool
    expected: Chances


def offers(grade: int, edition: Edition) -> tuple[Offer, ...]:
    """Every family that papers of the grade and edition may set, in print order.

    Where an edition uses two forms of a kind they share its share.

    Raises:
        BadSyllabus: a recipe for a kind that there is not.

    >>> from stavewright.syllabus.edition import edition
    >>> [one.kind for one in offers(1, edition("written", 1)) if one.topic == "intervals"]
    ['interval-number', 'write-the-interval']
    """
    known = kinds()
    found: list[Offer] = []
    for one in recipes():
        if one.kind not in known:
            raise BadSyllabus(f"recipes.toml: there is no kind {one.kind!r}")
        kind = known[one.kind]
        if not max(one.since, kind.since) <= grade <= one.until:
            continue
        found += offers_of(one, grade, edition.forms_of(one.kind, one.topic, [n for n in one.marks if n in kind.forms]))
    return tuple(found)


def offers_of(recipe: Recipe, grade: int, forms: tuple[str, ...]) -> list[Offer]:
    """The recipe in each of these editions' forms."""
    kind = kind_of(recipe.kind)
    return [
        Offer(
            recipe.topic, recipe.kind, name, recipe.marks[name], recipe.items, recipe.share / len(forms),
            recipe.extract, target(kind, grade, name),
        )
        for name in forms
    ]  # fmt: skip

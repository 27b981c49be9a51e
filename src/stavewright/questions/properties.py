"""One thing that can be said of an extract: what it is about, and the bar, number or word it names."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

Named = Annotated[int, Meta(ge=0, le=2000)]


class Property(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A thing to find, or a statement to judge.

    `about` names the rule ("highest", "same-rhythm", "interval"...). `bar` and `other` are printed bar numbers,
    `number` counts (notes of a tuplet, beats), `word` is a note, a value, an interval or a sign in plain UK words.
    """

    about: Annotated[str, Meta(max_length=40)]
    bar: Named = 0
    other: Named = 0
    number: Named = 0
    word: Annotated[str, Meta(max_length=60)] = ""

    @property
    def tokens(self) -> frozenset[str]:
        """What a question about it gives away or asks, so that no question of a paper answers another.

        >>> sorted(Property("same-rhythm", bar=2, other=5).tokens)
        ['extract:same-rhythm:2', 'extract:same-rhythm:5']
        """
        if self.about in ("same-rhythm", "same-notes", "sequence"):
            return frozenset(f"extract:{self.about}:{bar}" for bar in (self.bar, self.other) if bar)
        return frozenset({f"extract:{self.about}"})

"""The word game of terms: guess the letters; a wrong one adds a part to a figure; hints lower what a win counts for.

The rules are those of an old paper game for two. Letters are guessed without accents and capitals; spaces, hyphens and
apostrophes stand open from the start. A game is a value: every move gives a new one, so that any move can be undone.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, replace
from typing import Final

from stavewright.recall.errors import BadMove
from stavewright.syllabus.terms import Term

GOES: Final = 8
"""Wrong letters until the figure is whole."""
FULL_WORTH: Final = 10
HINTS: Final = {"theme": 1, "language": 1, "first letter": 2, "vowels": 3, "meaning": 4}
"""The hints and what each takes from the worth of a win. The meaning given away is no meaning recalled."""
VOWELS: Final = frozenset("aeiou")
_OPEN: Final = frozenset(" -'.\u2019")


def letters_of(sign: str) -> str:
    """The plain letters that stand for one printed sign: no accent, no capital.

    >>> letters_of("Ü"), letters_of("ß"), letters_of("é"), letters_of("-")
    ('u', 'ss', 'e', '')
    """
    plain = unicodedata.normalize("NFKD", sign.casefold())
    return "".join(one for one in plain if one.isalpha() and not unicodedata.combining(one))


@dataclass(frozen=True, slots=True)
class Game:
    """One game: the term, the letters tried in order, the hints taken, the goes that are allowed.

    `mercy` are extra goes given on the way. `said` is what the player says the term means, once it is found.

    >>> from stavewright.syllabus.terms import term_of
    >>> game = Game(term_of("Lento|Italian")).guess("e").guess("x")
    >>> game.shown, game.wrong, game.stage
    ('_e___', ('x',), 1)
    """

    term: Term
    tried: tuple[str, ...] = ()
    hints: tuple[str, ...] = ()
    goes: int = GOES
    mercy: int = 0

    def __post_init__(self) -> None:
        if self.goes < 1:
            raise BadMove(f"a game has at least one go, not {self.goes}")

    @property
    def letters(self) -> frozenset[str]:
        """Every letter of the term, as it is guessed."""
        return frozenset("".join(map(letters_of, self.term.term)))

    @property
    def opened(self) -> frozenset[str]:
        """The letters that stand open: guessed, or given by a hint."""
        first = letters_of(self.term.term[0])[:1] if "first letter" in self.hints else ""
        return frozenset((*self.tried, *first, *(VOWELS if "vowels" in self.hints else ())))

    @property
    def shown(self) -> str:
        """The term with "_" for every letter that is not open yet."""
        opened = self.opened
        return "".join(
            sign if sign in _OPEN or frozenset(letters_of(sign)) <= opened else "_" for sign in self.term.term
        )

    @property
    def wrong(self) -> tuple[str, ...]:
        """The wrong letters, in order."""
        return tuple(one for one in self.tried if one not in self.letters)

    @property
    def stage(self) -> int:
        """How many parts of the figure stand."""
        return min(len(self.wrong), self.goes + self.mercy)

    @property
    def won(self) -> bool:
        """Whether the whole term stands open."""
        return "_" not in self.shown

    @property
    def lost(self) -> bool:
        """Whether the figure was whole before the term was."""
        return not self.won and len(self.wrong) >= self.goes + self.mercy

    @property
    def over(self) -> bool:
        """Whether no letter can be guessed any more."""
        return self.won or self.lost

    @property
    def worth(self) -> int:
        """What a win counts for, after the hints taken; at least 1."""
        return max(1, FULL_WORTH - sum(HINTS[one] for one in self.hints))

    def guess(self, letter: str) -> Game:
        """Try a letter; one tried before costs nothing.

        Raises:
            BadMove: not one letter, or the game is over.
        """
        plain = letters_of(letter.strip())
        if len(letter.strip()) != 1 or len(plain) != 1:
            raise BadMove(f"guess one letter at a time, not {letter!r}")
        if self.over:
            raise BadMove("this game is over: begin another")
        return self if plain in self.tried else replace(self, tried=(*self.tried, plain))

    def guess_term(self, text: str) -> Game:
        """Say the whole term: right opens it all, wrong costs one go.

        Raises:
            BadMove: the game is over.
        """
        if self.over:
            raise BadMove("this game is over: begin another")
        said = "".join(map(letters_of, text))
        if said == "".join(map(letters_of, self.term.term)):
            return replace(self, tried=(*self.tried, *sorted(self.letters - set(self.tried))))
        return replace(self, tried=(*self.tried, f"({said or '?'})"))

    def hint(self, name: str) -> Game:
        """Take a hint: "theme", "language", "first letter", "vowels" or "meaning".

        Raises:
            BadMove: no such hint, it was taken before, or the game is over.
        """
        if name not in HINTS:
            raise BadMove(f"there is no hint {name!r}; the hints are {', '.join(HINTS)}")
        if name in self.hints or self.over:
            raise BadMove("this game is over" if self.over else f"the hint {name!r} was taken before")
        return replace(self, hints=(*self.hints, name))

    def told(self, name: str) -> str:
        """What a hint says.

        Raises:
            BadMove: the hint was not taken.
        """
        if name not in self.hints:
            raise BadMove(f"the hint {name!r} was not taken")
        vowels = [one for sign in self.term.term for one in letters_of(sign) if one in VOWELS]
        return {
            "theme": self.term.theme,
            "language": self.term.language,
            "first letter": self.term.term[0],
            "vowels": " ".join(vowels) or "none",
            "meaning": self.term.meaning,
        }[name]

    def with_mercy(self, goes: int = 1) -> Game:
        """Give extra goes: the figure gets extra parts.

        Raises:
            BadMove: no goes to give.
        """
        if goes < 1:
            raise BadMove("mercy is at least one go")
        return replace(self, mercy=self.mercy + goes)

    @property
    def may_count_as_recall(self) -> bool:
        """Whether saying the meaning now would be recall: won, and the meaning not given away by a hint."""
        return self.won and "meaning" not in self.hints

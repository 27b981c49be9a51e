"""How hard a term is to guess letter by letter: expected wrong guesses of a player who knows how words look.

The player tries a letter with a chance that grows with how many words of the list that fit what stands open have it:
nearly always the likeliest letter, at times another. The estimate is the mean over many games from a fixed seed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from random import Random

from stavewright.recall.word_game import letters_of

GAMES = 24
_KEEN = 3.0
"""How much the likeliest letter is preferred."""
_DOUBT = 0.6
"""What a letter weighs that no fitting word has, in words of the list: the player does not know the list by heart."""
_ALPHABET = "abcdefghijklmnopqrstuvwxyz"


def expected_wrong(word: str, words: Sequence[str], *, games: int = GAMES, seed: int = 1) -> float:
    """The mean number of wrong letters until `word` stands open, for a player who has seen words like `words`.

    >>> pool = ("Allegro", "Andante", "Adagio", "Largo", "Lento", "Presto", "Vivace", "Moderato")
    >>> expected_wrong("Andante", pool) < expected_wrong("Gigue", pool)
    True
    """
    plain = _plain(word)
    lists = _sets(tuple(words))
    return sum(_game(plain, lists, Random(f"{seed}/{word}/{number}")) for number in range(games)) / games


@lru_cache(maxsize=8)
def _sets(words: tuple[str, ...]) -> tuple[tuple[int, frozenset[str]], ...]:
    return tuple((len(_plain(word)), frozenset(_plain(word))) for word in words)


def _plain(word: str) -> str:
    return "".join(map(letters_of, word))


def _game(plain: str, lists: Sequence[tuple[int, frozenset[str]]], rng: Random) -> int:
    there, opened, wrong = frozenset(plain), set[str](), set[str]()
    while not there <= opened:
        fitting = [letters for length, letters in lists if opened <= letters and not wrong & letters
                   and abs(length - len(plain)) <= 2]  # fmt: skip
        counts = Counter(letter for letters in fitting for letter in letters)
        left = [letter for letter in _ALPHABET if letter not in opened and letter not in wrong]
        weights = [(counts[letter] + _DOUBT) ** _KEEN for letter in left]
        (letter,) = rng.choices(left, weights)
        (opened if letter in there else wrong).add(letter)
    return len(wrong)

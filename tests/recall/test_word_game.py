"""The word game: what is open, what wrong letters and hints cost, when a win is recall. Rules of the old paper game."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.recall.errors import BadMove
from stavewright.recall.hard_words import expected_wrong
from stavewright.recall.word_game import FULL_WORTH, HINTS, Game, letters_of
from stavewright.syllabus.terms import Term, all_terms, core_terms, term_of

TERMS = st.sampled_from(all_terms())
LETTERS = st.lists(st.sampled_from("abcdefghijklmnopqrstuvwxyz"), max_size=26)


def _term(text: str) -> Term:
    return Term(text, (), "French", "a meaning", (), "tempo slow", 1, True, "common practice", False)


def _play(term: Term, letters: list[str]) -> Game:
    game = Game(term)
    for letter in letters:
        if not game.over:
            game = game.guess(letter)
    return game


@given(TERMS, LETTERS)
def test_only_guessed_letters_stand_open(term: Term, letters: list[str]) -> None:
    """A letter of the term stands open just when it was guessed; spaces, hyphens and apostrophes always do."""
    game = _play(term, letters)
    for sign, seen in zip(term.term, game.shown, strict=True):
        hidden = bool(letters_of(sign)) and not set(letters_of(sign)) <= set(game.tried)
        assert seen == ("_" if hidden else sign)


@given(TERMS, LETTERS)
def test_each_wrong_letter_adds_one_part(term: Term, letters: list[str]) -> None:
    """The figure has as many parts as there were wrong letters, and is never more than whole."""
    game = _play(term, letters)
    assert game.stage == len(set(game.tried) - game.letters) <= game.goes
    assert not (game.won and game.lost)


@given(TERMS)
def test_every_term_of_the_list_can_be_won(term: Term) -> None:
    """Guessing the term's own letters opens it, whatever accents it has."""
    assert _play(term, sorted(Game(term).letters)).won


def test_accents_and_capitals_are_guessed_as_plain_letters() -> None:
    game = Game(_term("Très Élargi")).guess("e").guess("r")
    assert game.shown == "_rè_ É__r__"
    assert Game(_term("süß")).guess("s").shown == "s_ß"


def test_a_letter_tried_again_costs_nothing() -> None:
    once = Game(term_of("Lento|Italian")).guess("x")
    assert once.guess("x") == once == once.guess("X")


def test_the_figure_is_whole_and_the_game_over() -> None:
    game = Game(term_of("Lento|Italian"), goes=3)
    for letter in "xyz":
        game = game.guess(letter)
    assert game.lost
    assert game.stage == 3
    with pytest.raises(BadMove, match="over"):
        game.guess("l")
    assert not game.with_mercy().lost
    assert game.with_mercy().guess("l").shown == "L____"


def test_every_hint_lowers_what_the_win_counts_for() -> None:
    game = Game(term_of("Lento|Italian"))
    for name, price in HINTS.items():
        assert game.hint(name).worth == FULL_WORTH - price
        assert game.hint(name).told(name)
    everything = game
    for name in HINTS:
        everything = everything.hint(name)
    assert everything.worth == 1
    assert game.hint("vowels").shown == "_e__o"
    assert game.hint("first letter").shown == "L____"


def test_a_win_is_recall_only_if_the_meaning_was_not_given_away() -> None:
    game = Game(term_of("Lento|Italian"))
    assert not game.may_count_as_recall
    assert game.guess_term("lento").may_count_as_recall
    assert not game.hint("meaning").guess_term("LENTO").may_count_as_recall


def test_the_whole_term_may_be_said_and_a_wrong_one_costs_a_go() -> None:
    game = Game(term_of("Lento|Italian")).guess_term("largo")
    assert (game.stage, game.won) == (1, False)
    assert game.guess_term("Lento").won


def test_what_is_no_move_is_refused() -> None:
    game = Game(term_of("Lento|Italian"))
    for wrong in ("", "ab", "3", " "):
        with pytest.raises(BadMove, match="one letter"):
            game.guess(wrong)
    with pytest.raises(BadMove, match="no hint"):
        game.hint("answer")
    with pytest.raises(BadMove, match="before"):
        game.hint("theme").hint("theme")
    with pytest.raises(BadMove, match="at least one go"):
        Game(game.term, goes=0)


def test_rare_letters_make_a_word_hard() -> None:
    """A word of common letters needs fewer wrong guesses than one of rare letters, in the same list."""
    words = tuple(term.term for term in core_terms(5))
    easy, hard = expected_wrong("Andante", words), expected_wrong("Gigue", words)
    assert easy < hard
    assert expected_wrong("Andante", words) == easy, "the same list and seed give the same estimate"

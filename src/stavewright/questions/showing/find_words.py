"""Asking for a thing in an extract, in words."""

from __future__ import annotations

from stavewright.questions.properties import Property

TUPLETS = {
    2: "duplet", 3: "triplet", 4: "quadruplet", 5: "quintuplet", 6: "sextuplet", 7: "septuplet", 8: "octuplet",
    9: "nonuplet",
}  # fmt: skip
_NOTES = {
    "highest": "highest note",
    "lowest": "lowest note",
    "longest": "longest note (count tied notes as one)",
    "shortest": "shortest note",
}
# What one bar does, and what two bars do.
_BARS = {
    "same-rhythm": ("has the same rhythm as bar {bar}", "have the same rhythm as bar {bar}"),
    "same-notes": ("repeats bar {bar} exactly", "repeat bar {bar} exactly"),
    "sequence": (
        "repeats the pattern of bar {bar} higher or lower (a sequence)",
        "repeat the pattern of bar {bar} higher or lower (a sequence)",
    ),
    "run-up": (
        "has at least four notes and moves up by step from beginning to end",
        "have at least four notes and move up by step from beginning to end",
    ),
    "run-down": (
        "has at least four notes and moves down by step from beginning to end",
        "have at least four notes and move down by step from beginning to end",
    ),
    "interval": (
        "has two notes next to each other that are {word} apart",
        "have two notes next to each other that are {word} apart",
    ),
    "largest-leap": ("has the largest leap between two of its notes next to each other",) * 2,
    "syncopation": (
        "has syncopation (a note off the beat is held through a beat)",
        "have syncopation (a note off the beat is held through a beat)",
    ),
    "tuplet": ("has a {word}", "have a {word}"),
    "value": ("has {word}", "have {word}"),
    "held-over": ("begins with a note tied from the bar before", "begin with a note tied from the bar before"),
    "accidental": ("has an accidental", "have an accidental"),
    "rest": ("has a rest", "have a rest"),
    "loudest": ("has the loudest dynamic mark", "have the loudest dynamic mark"),
    "quietest": ("has the quietest dynamic mark", "have the quietest dynamic mark"),
    "marked": ("has a note marked {word}", "have a note marked {word}"),
}
_HAIRPINS = {"crescendo": "gradually louder", "diminuendo": "gradually quieter"}


def one_of(word: str) -> str:
    """A word with its article: ``"a minor 6th"``, ``"an octave"``.

    >>> one_of("augmented 4th"), one_of("8th"), one_of("quaver")
    ('an augmented 4th', 'an octave', 'a quaver')
    """
    said = word.replace("8th", "octave") if word in ("8th", "perfect 8th") else word
    return f"{'an' if said[0] in 'aeiou8' or said.startswith('11') else 'a'} {said}"


def by_notes(about: str) -> bool:
    """Whether the answer is one note, not bars."""
    return about in _NOTES


def search_words(search: Property, count: int) -> str:
    """The question in words.

    >>> search_words(Property("same-rhythm", bar=2), 1)
    'Which other bar has the same rhythm as bar 2?'
    """
    if search.about in _NOTES:
        return f"Find the {_NOTES[search.about]}. Say which bar it is in, and which note of that bar it is."
    which = "Which bar" if count == 1 else "Which two bars"
    if search.about == "hairpin":
        begin = which.replace("Which", "In which")
        return f"{begin} does the music begin to get {_HAIRPINS.get(search.word, search.word)}?"
    if search.about in ("same-rhythm", "same-notes", "sequence"):
        which = which.replace("bar", "other bar")
    pattern = _BARS[search.about][0 if count == 1 else 1]
    if search.about in ("interval", "value"):
        word = one_of(search.word)
    elif search.about == "tuplet":
        word = TUPLETS.get(search.number, f"group of {search.number}")
    else:
        word = search.word
    return f"{which} {pattern.format(bar=search.bar, word=word)}?"

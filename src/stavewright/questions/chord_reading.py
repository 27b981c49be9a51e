"""Reading chord labels: the many ways of writing one chord brought to one form."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from stavewright.questions.reading import read_words
from stavewright.theory.chord import ROMANS, ChordLabel
from stavewright.theory.degree import degree_from_name
from stavewright.theory.errors import UnknownChordError, UnknownDegreeError

_ARABIC = re.compile(r"([1-7])(7?[a-d]?)")
_FIGURES = re.compile(r"(?<=[IViv])[\s_^]+(?=[a-d0-9])")
_CAPITAL = re.compile(r"([IVivx]+7?)\s?([A-D])")
_BETWEEN_FIGURES = re.compile(r"(?<=\d)[\s-]+(?=\d)")
_DIMINISHED = re.compile(r"(?<=[IVivx])\s?\(?dim(?:inished)?\b\.?", re.IGNORECASE)
_SHORTER = ((re.compile(r"\binv\b\.?", re.IGNORECASE), "inversion"), (re.compile(r"\broot\Z"), "root position"))
_CHORD = re.compile(r"^(?:the )?chord (?:of )?", re.IGNORECASE)
_POSITIONS = (
    ("root position", ""), ("first inversion", "b"), ("1st inversion", "b"), ("second inversion", "c"),
    ("2nd inversion", "c"),
)  # fmt: skip


@lru_cache(maxsize=2048)
def read_label(text: str) -> str:
    """One spelling for one chord label: a Roman capital, 7 for a seventh, a letter for the inversion.

    Letters, figures, arabic numbers and technical names all come to it; small numerals too, since many write them for
    minor chords and many do not. The small v alone keeps its own meaning: the minor chord of a natural minor key. What
    is no label is only folded as words are.

    >>> [read_label(text) for text in ("I6", "1b", "Ib", "ii", "II", "iio6", "V6/5", "dominant", "v")]
    ['Ib', 'Ib', 'Ib', 'II', 'II', 'IIb', 'V7b', 'V', 'v']
    """
    bare = unicodedata.normalize("NFKC", _CHORD.sub("", text.strip().rstrip(".")))
    bare = " ".join(re.sub(r"[(),]", " ", _DIMINISHED.sub("", bare)).split())
    for short, full in _SHORTER:
        bare = short.sub(full, bare)
    written = _FIGURES.sub("", _BETWEEN_FIGURES.sub("/", bare)).replace("°", "o")
    if (capital := _CAPITAL.fullmatch(written)) is not None:
        written = f"{capital[1]}{capital[2].lower()}"
    arabic = _ARABIC.fullmatch(written)
    if arabic is not None:
        written = f"{ROMANS[int(arabic[1]) - 1]}{arabic[2]}"
    try:
        label = ChordLabel.parse(written)
    except UnknownChordError:
        return _in_words(bare)
    small = written.startswith("v") and not written.startswith("vi")
    return f"v{label.text[1:]}" if small else label.text


def _in_words(text: str) -> str:
    words = read_words(text).removesuffix(" chord").removesuffix(" triad")
    ending = ""
    if words.endswith(" 7th"):
        words, ending = words.removesuffix(" 7th"), "7"
    for position, letter in _POSITIONS:
        if words.endswith(f" {position}"):
            words, ending = words.removesuffix(f" {position}"), letter
            if letter and words.endswith(letter) and words[:-1].upper() in ROMANS:
                words = words[:-1]  # the letter as well as the words
    try:
        return f"{ROMANS[degree_from_name(words) - 1]}{ending}"
    except UnknownDegreeError:
        if ending or words in {numeral.lower() for numeral in ROMANS}:
            return f"{words.upper()}{ending}"
        return words

"""The names of notes in other vocabularies: German H and B, fixed do; read from answers, and written in sentences.

Answers are kept in English names, whatever the reader's vocabulary.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache
from typing import Final

from stavewright.theory.errors import StavewrightError
from stavewright.theory.pitch import STEPS, NoteName, name_of

NOTE_NAMES: Final = ("english", "german", "fixed-do")
"""The vocabularies of note names."""

_DO: Final = dict(zip(STEPS, ("do", "re", "mi", "fa", "sol", "la", "si"), strict=True))
_FROM_DO: Final = {name: step for step, name in _DO.items()} | {"ut": "C", "so": "G", "ti": "B"}
_IRREGULAR: Final = {
    ("A", -1): "As", ("E", -1): "Es", ("B", -1): "B", ("B", -2): "Heses", ("A", -2): "Ases", ("E", -2): "Eses",
}  # fmt: skip
_ALSO: Final = {"asas": ("A", -2), "bes": ("B", -2), "hes": ("B", -1)}
_MODES: Final = {
    "dur": "major", "major": "major", "maj": "major", "maggiore": "major", "majeur": "major", "mayor": "major",
    "moll": "minor", "minor": "minor", "min": "minor", "minore": "minor", "mineur": "minor", "menor": "minor",
}  # fmt: skip
_MODE: Final = "|".join(_MODES)
_SHARP: Final = r"#|♯|sharp|diesis|di[eè]se|sostenido"
_FLAT: Final = r"b|♭|flat|bemolle|b[eé]mol"
_DO_ANY: Final = "|".join(sorted(_FROM_DO, key=len, reverse=True))
_DO_NAME: Final = re.compile(rf"({_DO_ANY})[ -]?(?:(double |doppio |doble )?({_SHARP}|{_FLAT})|(##|bb|x)|natural)?")
_LETTER_SIGN: Final = re.compile(r"([a-h])[ -]?(#|♯|sharp|♭|flat|b|natural)")
_PARTS: Final = re.compile(r"\s*(?:,|;|\band\b|\bund\b|\be\b|\bet\b|\by\b)\s*")


class UnknownNoteNames(StavewrightError):
    """A vocabulary of note names other than english, german and fixed-do."""


def check_note_names(names: str) -> str:
    """The vocabulary, if it is one.

    Raises:
        UnknownNoteNames: it is none.
    """
    if names not in NOTE_NAMES:
        raise UnknownNoteNames(f"note names are {', '.join(NOTE_NAMES)}, not {names!r}")
    return names


def german(name: NoteName) -> str:
    """A note in German: B natural is H, B flat is B.

    Source: Gehrkens, Music Notation and Terminology (1914), on the German names of the notes; common practice.

    >>> [german(NoteName.parse(one)) for one in ("F#", "Bb", "B", "Eb", "Ab", "C##", "Bbb")]
    ['Fis', 'B', 'H', 'Es', 'As', 'Cisis', 'Heses']
    """
    if (name.step, name.alter) in _IRREGULAR:
        return _IRREGULAR[name.step, name.alter]
    letter = "H" if name.step == "B" else name.step
    return letter + ("is" * name.alter if name.alter > 0 else "es" * -name.alter)


def fixed_do(name: NoteName) -> str:
    """A note in fixed do.

    >>> fixed_do(NoteName.parse("F#")), fixed_do(NoteName.parse("B"))
    ('fa sharp', 'si')
    """
    return name.text.replace(name.step, _DO[name.step], 1)


@lru_cache(maxsize=4)
def _german_names() -> dict[str, NoteName]:
    found = {german(name_of(step, alter)).casefold(): name_of(step, alter) for step in STEPS for alter in range(-2, 3)}
    return found | {text: name_of(*place) for text, place in _ALSO.items()}


def _one_german(text: str) -> NoteName | None:
    low = text.casefold()
    found = _german_names().get(low)
    if found is not None:
        return found
    # A letter with its sign said in English, "B flat" too, can mean but one note.
    signed = _LETTER_SIGN.fullmatch(low)
    if signed is None:
        return None
    step = "B" if signed[1] == "h" else signed[1].upper()
    return name_of(step, {"n": 0, "f": -1, "b": -1, "♭": -1}.get(signed[2][0], 1))


def _one_in_do(text: str) -> NoteName | None:
    low = "".join(
        char for char in unicodedata.normalize("NFD", text.casefold()) if not unicodedata.combining(char)
    )
    found = _DO_NAME.fullmatch(low)
    if found is not None:
        size = 2 if found[2] or found[4] else 1
        sign = found[3] or found[4]
        if sign is None:
            return name_of(_FROM_DO[found[1]], 0)
        sharp = sign in ("##", "x") or re.fullmatch(_SHARP, sign) is not None
        return name_of(_FROM_DO[found[1]], size if sharp else -size)
    return None


def _one_english(text: str) -> NoteName | None:
    try:
        return NoteName.parse(text)
    except StavewrightError:
        return None


_READERS: Final[dict[str, Callable[[str], NoteName | None]]] = {"german": _one_german, "fixed-do": _one_in_do}


def to_english(text: str, names: str) -> str | None:
    """A note, a key or a list of notes typed in a vocabulary, in English; None where it is none of these.

    In the German vocabulary B is B flat, and H is B. In fixed do the English letters are read too, for nothing there
    is called by them.

    >>> to_english("fis-Moll", "german"), to_english("B", "german"), to_english("H", "german")
    ('F sharp minor', 'B flat', 'B')
    >>> to_english("sol diesis minore", "fixed-do"), to_english("H", "fixed-do"), to_english("legato", "german")
    ('G sharp minor', None, None)
    """
    check_note_names(names)
    if names == "english":
        return None
    said = " ".join(text.split()).rstrip(".!")
    key = re.fullmatch(rf"(.+?)[ -]*\b({_MODE})", said, re.IGNORECASE)
    if key is not None:
        tonic = _read_one(key[1], names)
        return _within(said, names) if tonic is None else f"{tonic.text} {_MODES[key[2].casefold()]}"
    parts = [part for part in _PARTS.split(said) if part] or [said]
    notes = [_read_one(part, names) for part in parts]
    if any(note is None for note in notes):
        spaced = [_read_one(part, names) for part in said.split()]
        notes = spaced if spaced and all(note is not None for note in spaced) else notes
    if any(note is None for note in notes):
        return _within(said, names)
    return ", ".join(note.text for note in notes if note is not None)


_AROUND: Final = frozenset(
    "harmonic melodic natural minor major dur moll scale triad chord of the in key and or note tonic on form ascending "
    "descending up down sharp flat double sharps flats".split()
)


def _within(said: str, names: str) -> str | None:
    """Notes among words that say no more than which scale, key or chord it is: "H harmonic minor"."""
    words: list[str] = []
    found = False
    for word in re.findall(r"[^\W\d_]+[#♯♭]?|\d+|\S", said):
        around = word.casefold() in _AROUND or word.isdigit() or word in ",:;()"
        note = None if around else _read_one(word, names)
        if note is None and not around:
            return None
        found = found or note is not None
        words.append(_MODES.get(word.casefold(), word) if note is None else note.text)
    return re.sub(r" ([,:;])", r"\1", " ".join(words)) if found else None


def _read_one(text: str, names: str) -> NoteName | None:
    found = _READERS[names](text.strip())
    return _one_english(text.strip()) if found is None and names == "fixed-do" else found


_SPOKEN: Final = re.compile(
    r"(?<![\w.#♯♭-])([A-G])(?:( double)?[ -](sharp|flat)| natural)?(?: (major|minor))?(?![\w#♯♭'’-]|\.[A-Z])"
)
_AS_A_NOTE: Final = re.compile(
    r"\s+(?:to|up|down|and|or|is|are|was|has|have|in|on|as|by|above|below|becomes?|stands?|from|goes|go|at|too|not|instead|"
    r"with|again|for|but|lies|itself|comes?|then|would|sounds?|here|alone|must|may|can|will|does|makes?|needs?|belongs?|"
    r"two|three|shares?|between|rises|falls|moves|keeps|counts?|begins|ends|gives|of)\b|\s*[^\w\s]|\s*$|\s+[A-Z0-9(]"
)
"""What follows a capital A that is a note; before any other word it is an article."""
_A_SIGN: Final = re.compile(
    r",? (?:or )?(?:sharp|flat|natural)\b"
    r"| (?:makes|lifts|raises|lowers|lasts|takes|moves|is like|goes up to the|sign)\b"
)
"""What follows "A sharp" where it is a sign and no note."""
_AN_INTERVAL: Final = re.compile(r" (?:\d|second|third|sixth|seventh|key|scale|chord|triad|interval|form)")
_SHORT: Final = re.compile(r"(?<![\w.#♯♭-])([A-G])(##|#|bb|b|♯|♭|𝄪|𝄫)?(?![\w#♯♭'’/-]|\.[A-Z])")


def _small(part: str, names: str, letters: str) -> str:
    """One part of a jotting: a minor key, or names in capitals."""
    if _SMALL.fullmatch(part) is None:
        return short_in_names(part, names, letters=letters)
    return _put(NoteName.parse(part), names).lower()


_SMALL: Final = re.compile(r"[a-g](##|#|bb|b|♯|♭)?")


def _put(name: NoteName, names: str) -> str:
    return german(name) if names == "german" else fixed_do(name)


def in_names(sentence: str, names: str, *, letters: str = "notes") -> str:
    """An English sentence with its notes and keys in another vocabulary.

    `letters` says what bare capital letters are: "notes"; "labels" (some are letters printed under notes or brackets);
    "numbered" (only those with an octave number are notes).

    >>> in_names("Name the relative minor of B flat major.", "german")
    'Name the relative minor of B major.'
    >>> in_names("From F sharp up to B is a perfect 4th. A minim lasts two crotchets.", "fixed-do")
    'From fa sharp up to si is a perfect 4th. A minim lasts two crotchets.'
    """
    if names == "english":
        return sentence

    def swap(found: re.Match[str]) -> str:
        letter, double, sign, mode = found.groups()
        natural = " natural" if " natural" in found[0] else ""
        signed = sign or natural
        if letter == "A" and (_A_SIGN.match(sentence, found.end()) if signed else _is_article(sentence, found, mode)):
            return found[0]
        if not (sign or mode or natural or letters == "notes") and not _is_note(sentence, found, letters):
            return found[0]
        size = 2 if double else 1
        name = name_of(letter, 0 if sign is None else size if sign == "sharp" else -size)
        return _put(name, names) + natural + (f" {mode}" if mode else "")

    return _SPOKEN.sub(swap, sentence)


_LABELLED: Final = re.compile(r"(?:marked|letters?|brackets?|places?|under|phrase)\s+(?:[A-G](?:,| and)\s*)*\(?$|\($")
_RUN: Final = re.compile(r"\bA(?:, [B-G])*,? and [B-G]\b")


def _is_note(sentence: str, found: re.Match[str], letters: str) -> bool:
    """Whether a bare letter is a note where some letters are labels."""
    after = sentence[found.end() :]
    if re.match(r" \d", after):
        return True
    if letters == "numbered" or after.startswith(":") or _LABELLED.search(sentence[: found.start()]):
        return False
    return not any(run.start() <= found.start() < run.end() for run in _RUN.finditer(sentence))


def _is_article(sentence: str, found: re.Match[str], mode: str | None) -> bool:
    """Whether a capital A begins "A minim" or "A minor 3rd" and names no note."""
    if mode is None:
        return _AS_A_NOTE.match(sentence, found.end()) is None
    before = sentence[: found.start()].rstrip()
    opening = not before or before[-1] in ".:;!?(“"
    return opening and _AN_INTERVAL.match(sentence, found.end()) is not None


def short_in_names(jotting: str, names: str, *, letters: str = "notes") -> str:
    """A jotting with its short note names in another vocabulary; a small letter by itself is a minor key.

    >>> short_in_names("F# G A B = 4", "german"), short_in_names("Db / bb", "german")
    ('Fis G A H = 4', 'Des / b')
    """
    if names == "english":
        return jotting
    parts = re.split(r"( [/>] )", jotting)
    if any(_SMALL.fullmatch(part) for part in parts):
        return "".join(_small(part, names, letters) for part in parts)

    def swap(found: re.Match[str]) -> str:
        if letters != "notes" and not found[2]:
            return found[0]
        name = NoteName.parse(found[1] + (found[2] or ""))
        return german(name) if names == "german" else _DO[name.step] + (found[2] or "")

    return _SHORT.sub(swap, jotting)

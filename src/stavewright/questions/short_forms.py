"""The short forms that pupils write, spelt out: m6, F#m, 3 flats as a figure and a sign, 6th minor."""

from __future__ import annotations

import re

_LETTERS = {"M": "major", "m": "minor", "P": "perfect", "A": "augmented", "D": "diminished"}
_INTERVAL = re.compile(r"((?:compound |comp\.? )?)(?:([MmPp])\s?|([AaDd]))(1[0-5]|[1-9])(?:st|nd|rd|th|ve)?")
_KEY = re.compile(r"([A-Ga-g])\s?(##|#|bb|b|[ -]?sharp|[ -]?flat)?\s?([mM])")
_NAMED_SIGN = re.compile(r"(?:([A-G])s|([A-EG])f)((?: ?(?:major|minor|maj|min|m|M)\.?)?)")  # "Ff" is a dynamic
_EIGHTH = re.compile(r"((?:double )?(?:dotted )?)8th( (?:note|rest)s?)", re.IGNORECASE)
_COUNT = re.compile(r"([0-7])\s?(#|b)'?s?")
_COUNT_FIRST = re.compile(r"([1-7])\s?(#|b)'?s?(?=\s*[:(,])")
_TRITONE = re.compile(
    r"(?:(?P<before>.+?)(?: or| and)?(?: an?| the)? tritone)|(?:tritone(?: or| and)?(?: an?)? (?P<after>.+))"
)
_JOINED = re.compile(r"\b([a-g])[ -]?(sharp|flat)?(sharp|flat|major|minor|maj|min)\b")
_QUALITY = "major|minor|perfect|augmented|diminished"
_FIGURE = re.compile(rf"\b({_QUALITY}|maj|min|ma|mi|perf|aug|dim)(?=\d)")
_ARTICLE = re.compile(rf"an? (?=(?:compound )?(?:{_QUALITY}) \d)")
_UNORDERED = re.compile(rf"((?:{_QUALITY}) )(1[0-5]|[1-9])(?:st|nd|rd|th|ve)?|(8)ve")
_BACKWARDS = re.compile(rf"(\d+(?:st|nd|rd|th)) ({_QUALITY})|((?:{_QUALITY}) \w+) compound")
_INTERVAL_OF = re.compile(rf"(?:an? |the )?(?:interval of (?:an? )?)?((?:compound )?(?:{_QUALITY}) \w+)(?: interval)?")
_OVER_AN_OCTAVE = re.compile(rf"(?:an? )?8th (?:and|plus) (?:an? )?((?:{_QUALITY}) \d+(?:st|nd|rd|th))")
_NO_SIGNS = re.compile(r"(?:no|0|zero) (?:sharps?|flats?)(?:(?: or| and)?(?: no| 0)? (?:sharps?|flats?))?")
_SIGNS = re.compile(r"(no|one|two|three|four|five|six|seven|[0-7]) (sharp|flat)s?")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven")
_OF_A_KEY = re.compile(
    r"(?:it is )?(?:in )?(?:the )?(?:key )?(?:of |is )?([a-g](?: sharp| flat)? (?:major|minor))(?: key)?"
)
_TONIC = r"([a-g](?: sharp| flat)?)"
_FORM = r"(harm|mel|nat)(?:onic|odic|ural)?"
_FORMS = {"harm": "harmonic", "mel": "melodic", "nat": "natural"}
_OF_A_SCALE = re.compile(
    rf"(?:(?:it is )?(?:the |a )?scale (?:of |on |in |is )+)?{_TONIC} (?:{_FORM} )?(major|minor)"
    rf"(?: in the| in its| the)?(?: {_FORM}(?: minor)?)?(?: form)?(?: scale)?"
)
_FORM_FIRST = re.compile(
    rf"(?:the |a )?{_FORM} (?:form of )?(?:the )?"
    rf"(?:minor(?: scale)? (?:of|on|in|from) {_TONIC}(?: minor)?|{_TONIC} minor(?: scale)?)"
)
_LIST = re.compile(
    r"(?:(one|two|three|four|five|six|seven|[1-7]) ((?:sharp|flat)s?) )?((?:[a-g](?: sharp| flat)?(?: and)? ?)+)"
)
_DEGREE = re.compile(r"\b(sub|super) (dominant|mediant|tonic)\b")
_DEGREE_NOTE = re.compile(r"(supertonic|mediant|subdominant|dominant|submediant|tonic) note")
_CUT_SHORT = {
    "subdom": "subdominant", "sub dom": "subdominant", "dom": "dominant", "submed": "submediant",
    "sub med": "submediant", "med": "mediant", "lead note": "leading note", "superton": "supertonic",
}  # fmt: skip
_NATURAL = re.compile(r"\b([a-g]) natural\b(?! minor)")


def _ordinal(number: str) -> str:
    return number + {"1": "st", "2": "nd", "3": "rd"}.get(number, "th")


def spell_out(text: str) -> str:
    """An answer with its one-letter short forms spelt out; the case of the letter M decides, so read it before folding.

    Short names of intervals and keys as in Open Music Theory v1, "Intervals" and "Major keys and signatures".

    >>> spell_out("m6"), spell_out("M6"), spell_out("F#m"), spell_out("3b")
    ('minor 6th', 'major 6th', 'F # minor', '3 flats')
    >>> spell_out("Fs"), spell_out("Bf major"), spell_out("8th note")
    ('F sharp', 'B flat major', 'eighth note')
    """
    text = text.strip().rstrip(".")
    if (found := _NAMED_SIGN.fullmatch(text)) is not None:
        mode = found[3].strip()
        text = f"{found[1] or found[2]} {'sharp' if found[1] else 'flat'} {_LETTERS.get(mode, mode)}".strip()
    if (found := _EIGHTH.fullmatch(text)) is not None:
        return f"{found[1]}eighth{found[2]}"
    if (found := _INTERVAL.fullmatch(text)) is not None:
        letter = found[2] if found[2] in ("M", "m") else (found[2] or found[3]).upper()
        wide = "compound " if found[1] else ""
        return f"{wide}{_LETTERS[letter]} {_ordinal(found[4])}"
    if (found := _KEY.fullmatch(text)) is not None:
        return " ".join(part for part in (found[1], (found[2] or "").strip(" -"), _LETTERS[found[3]]) if part)
    if (found := _COUNT.fullmatch(text)) is not None:
        return f"{found[1]} {'sharp' if found[2] == '#' else 'flat'}s"
    return _COUNT_FIRST.sub(lambda found: f"{found[1]} {'sharp' if found[2] == '#' else 'flat'}s", text, count=1)


def take_apart(text: str) -> str:
    """Words written together taken apart, in folded text.

    >>> take_apart("fsharp minor"), take_apart("cmajor"), take_apart("dim5")
    ('f sharp minor', 'c major', 'dim 5')
    """
    return _JOINED.sub(lambda found: " ".join(one for one in found.groups() if one), _FIGURE.sub(r"\1 ", text))


def put_in_order(words: str) -> str:
    """Folded words of one answer in the usual order, the same meaning said in the usual way.

    >>> put_in_order("6th minor"), put_in_order("minor 6"), put_in_order("8th and a major 3rd")
    ('minor 6th', 'minor 6th', 'compound major 3rd')
    >>> put_in_order("the key of f sharp minor"), put_in_order("no sharps and no flats"), put_in_order("sub dominant")
    ('f sharp minor', 'no sharps or flats', 'subdominant')
    >>> put_in_order("subdom")
    'subdominant'
    """
    words = _NATURAL.sub(r"\1", _DEGREE.sub(r"\1\2", _CUT_SHORT.get(words, words)))
    if (found := _DEGREE_NOTE.fullmatch(words)) is not None:
        return found[1]
    if "interval" in words and (found := _INTERVAL_OF.fullmatch(words)) is not None:
        words = found[1]
    if (found := _ARTICLE.match(words)) is not None:
        words = words[found.end() :]
    if (found := _TRITONE.fullmatch(words)) is not None:
        return f"{put_in_order(found['before'] or found['after'])} tritone"
    wide = "compound " if words.startswith("compound ") else ""
    rest = words.removeprefix("compound ")
    if (found := _UNORDERED.fullmatch(rest)) is not None:
        return f"{wide}{found[1] or ''}{_ordinal(found[2] or found[3])}"
    if (found := _BACKWARDS.fullmatch(rest)) is not None:
        return f"{wide}{found[2]} {found[1]}" if found[1] else f"compound {found[3]}"
    if (found := _OVER_AN_OCTAVE.fullmatch(words)) is not None:
        return f"compound {found[1]}"
    if _NO_SIGNS.fullmatch(words) is not None:
        return "no sharps or flats"
    if (found := _SIGNS.fullmatch(words)) is not None:
        count = found[1] if found[1].isdigit() else str(_NUMBERS.index(found[1]))
        return f"{count} {found[2]}{'' if count == '1' else 's'}"
    if (found := _OF_A_KEY.fullmatch(words)) is not None:
        return found[1]
    if (found := _OF_A_SCALE.fullmatch(words)) is not None and not (found[2] and found[4]):
        form = found[2] or found[4]
        return f"{found[1]} {_FORMS[form]} {found[3]}" if form else f"{found[1]} {found[3]}"
    if (found := _FORM_FIRST.fullmatch(words)) is not None:
        return f"{found[2] or found[3]} {_FORMS[found[1]]} minor"
    if (found := _LIST.fullmatch(words)) is not None:
        named = found[3].replace(" and ", " ")
        return named if found[1] is None else f"{put_in_order(f'{found[1]} {found[2]}')} {named}"
    return words

"""The many ways of saying a value, a time signature, a full bar or one note, brought to one."""

from __future__ import annotations

import re

_APART = re.compile(r"\b(hemidemi|demisemi|hemi|demi|semi) (?=hemi|demi|semi|quaver|breve)")
_SPELLINGS = {"crochet": "crotchet", "crochets": "crotchets", "doubly dotted": "double dotted"}
_SPELT = re.compile(r"\b(" + "|".join(_SPELLINGS) + r")\b")
_WITH_DOTS = re.compile(r"(\w+(?: rest)?) with (?:(an?|one|1|its)|two|2) dots?")
_DOT_AFTER = re.compile(r"(\w*(?:breve|minim|crotchet|quaver)(?: note| rest)?) ((?:double )?dotted)")
_TIME_SIGNS = {"𝄴": "c", "𝄵": "cut c", "¢": "cut c", "c time": "c", "cut c time": "cut c"}
_TIME = re.compile(r"(\d{1,2}) ?(?:/|over)? ?(\d{1,2})(?: time)?")
_FIGURES = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_SPOKEN_TIME = re.compile(rf"({'|'.join(_FIGURES)})(?: over)? (two|four|eight)(?: time)?")
_COUNTED = re.compile(
    rf"^(one|{'|'.join(_FIGURES)}) (?=(?:main |(?:double )?dotted )?(?:beats?|\w*(?:breve|minim|crotchet|quaver)s?)\b)"
)
_EACH_BAR = re.compile(r"(?: per| to (?:a|the|each|every)| in (?:the|each|every|one)| each| every|(?<! in) a) bar$")
_EACH_BEAT = re.compile(
    r"(\w+) beats(?: in a bar)? (?:each|of|and each)(?: (?:beat|one))?(?: is| being)? (?:an?|one) "
    r"((?:double )?(?:dotted )?\w*(?:breve|minim|crotchet|quaver))(?: each)?"
)
_SHORT_US = re.compile(
    r"((?:double )?dotted )?(double whole|whole|half|quarter|eighth|8th|sixteenth|16th|thirty second|32nd)( rest)?"
)
_UK_OF_US = {
    "double whole": "breve", "whole": "semibreve", "half": "minim", "quarter": "crotchet", "eighth": "quaver",
    "8th": "quaver", "sixteenth": "semiquaver", "16th": "semiquaver", "thirty second": "demisemiquaver",
    "32nd": "demisemiquaver",
}  # fmt: skip
_NOTE = re.compile(r"(?:it is |it s )?(?:the )?(?:note )?([a-g](?: (?:double )?(?:sharp|flat)| natural)?)(?: note)?")


def full_value(words: str) -> str:
    """A US value cut short, in folded words, as the UK value; a bare "8th" stays the interval that it may be.

    Names: LilyPond Music Glossary, "duration names".

    >>> full_value("dotted half"), full_value("quarter"), full_value("eighth"), full_value("8th")
    ('dotted minim', 'crotchet', 'quaver', '8th')
    """
    found = _SHORT_US.fullmatch(words)
    if found is None or words == "8th":
        return words
    return f"{found[1] or ''}{_UK_OF_US[found[2]]}{found[3] or ''}"


def one_way(words: str) -> str:
    """Folded words of one answer with values, time signatures, bars and single notes said in the usual way.

    Source: common practice; the split spellings and "crochet" are what pupils write (from memory).

    >>> one_way("demi semi quaver rest"), one_way("crochet"), one_way("minim with a dot")
    ('demisemiquaver rest', 'crotchet', 'dotted minim')
    >>> one_way("6 8"), one_way("3/4 time"), one_way("four four"), one_way("2 over 2")
    ('6/8', '3/4', '4/4', '2/2')
    >>> one_way("there are 3 crotchet beats in each bar"), one_way("the note f sharp")
    ('3 crotchet beats in a bar', 'f sharp')
    >>> one_way("minim dotted"), one_way("c time"), one_way("two dotted crotchets")
    ('dotted minim', 'c', '2 dotted crotchets')
    >>> one_way("3 beats in each bar each one a crotchet")
    '3 crotchet beats in a bar'
    """
    words = _APART.sub(r"\1", words)
    words = _SPELT.sub(lambda found: _SPELLINGS[found[1]], words)
    if (found := _WITH_DOTS.fullmatch(words)) is not None:
        return f"{'' if found[2] else 'double '}dotted {found[1]}"
    if (found := _DOT_AFTER.fullmatch(words)) is not None:
        return f"{found[2]} {found[1]}"
    if words in _TIME_SIGNS:
        return _TIME_SIGNS[words]
    if (found := _TIME.fullmatch(words)) is not None and not words.isdigit():
        return f"{found[1]}/{found[2]}"
    if (found := _SPOKEN_TIME.fullmatch(words)) is not None:
        return f"{_FIGURES.index(found[1]) + 2}/{_FIGURES.index(found[2]) + 2}"
    if (found := _NOTE.fullmatch(words)) is not None:
        return found[1]
    words = _EACH_BAR.sub(" in a bar", words.removeprefix("there are "))
    words = _COUNTED.sub(lambda found: f"{('one', *_FIGURES).index(found[1]) + 1} ", words)
    words = re.sub(r" beats (?:per|to a|in each|in every) bar(?= )", " beats in a bar", words)
    return _EACH_BEAT.sub(r"\1 \2 beats in a bar", words)

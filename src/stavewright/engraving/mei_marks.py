"""The letters of MEI for the signs of a score: names on the left are the score's, on the right MEI's."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final
from xml.sax.saxutils import escape

from stavewright.engraving.errors import EngravingError
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

VALUES: Final = {
    "breve": "breve",
    "semibreve": "1",
    "minim": "2",
    "crotchet": "4",
    "quaver": "8",
    "semiquaver": "16",
    "demisemiquaver": "32",
    "hemidemisemiquaver": "64",
}
ACCIDENTALS: Final = {"sharp": "s", "flat": "f", "natural": "n", "double-sharp": "x", "flat-flat": "ff"}
CLEFS: Final = {"treble": ("G", 2), "bass": ("F", 4), "alto": ("C", 3), "tenor": ("C", 4)}
ARTICULATIONS: Final = {
    "staccato": "stacc",
    "staccatissimo": "spicc",
    "accent": "acc",
    "strong-accent": "marc",
    "tenuto": "ten",
    "up-bow": "upbow",
    "down-bow": "dnbow",
}
# The form "lower" is the mordent with the stroke through it, "upper" the one without (seen in verovio's pictures).
ORNAMENTS: Final = {
    "fermata": "fermata",
    "trill": "trill",
    "turn": 'turn form="upper"',
    "inverted-turn": 'turn form="lower"',
    "mordent": 'mordent form="lower"',
    "upper-mordent": 'mordent form="upper"',
    "arpeggio": "arpeg",
    "breath": "breath",
}
BAR_LINES: Final = {"single": "single", "double": "dbl", "final": "end", "repeat-end": "rptend", "none": "invis"}

# Note signs in words ("Allegro (♩ = 96)") are set in the music font, one size with the letters.
_NOTE_SIGNS: Final = {
    "\U0001d15d": "\ueca2",
    "\U0001d157\U0001d165": "\ueca3",
    "\U0001d15e": "\ueca3",
    "\U0001d158\U0001d165\U0001d16e": "\ueca7",
    "\U0001d158\U0001d165": "\ueca5",
    "\U0001d15f": "\ueca5",
    "\u2669": "\ueca5",
    "\u266a": "\ueca7",
    "\U0001d160": "\ueca7",
}
_SIGN = re.compile("(" + "|".join(_NOTE_SIGNS) + r")(\.?)")
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_SAFE_ID = re.compile(r"[A-Za-z0-9_.-]+\Z")
_SAFE_PREFIX = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*\Z")


def words(text: str) -> str:
    """Words as XML text, escaped; signs that XML cannot hold are refused.

    Raises:
        EngravingError: a control character or half a surrogate pair.

    >>> words("f < ff & p")
    'f &lt; ff &amp; p'
    """
    bad = _NOT_XML.search(text)
    if bad:
        sign = f"U+{ord(bad.group()):04X}"
        raise EngravingError(f"the words {text!r} hold the sign {sign}, which cannot be printed: leave it out")
    return escape(text, {'"': "&quot;"})


def tempo_words(text: str) -> str:
    """Tempo words as MEI text: note signs in them become glyphs of the music font.

    >>> tempo_words("Allegro")
    'Allegro'
    """

    def glyph(found: re.Match[str]) -> str:
        dot = "\uecb7" if found.group(2) else ""
        return f'\u200a<rend glyph.auth="smufl" fontname="Leland">{_NOTE_SIGNS[found.group(1)]}{dot}</rend>'

    return _SIGN.sub(glyph, words(text))


def value(duration: Duration) -> str:
    """The attributes of a written value.

    >>> value(Duration("crotchet", dots=1))
    'dur="4" dots="1"'
    """
    dots = f' dots="{duration.dots}"' if duration.dots else ""
    return f'dur="{VALUES[duration.type]}"{dots}'


def signature(fifths: int) -> str:
    """A key signature's letters: "2s", "3f", "0".

    Raises:
        EngravingError: more than seven sharps or flats.
    """
    if not -7 <= fifths <= 7:
        raise EngravingError(f"a key signature has at most 7 sharps or flats, not {abs(fifths)}")
    return f"{abs(fifths)}{'s' if fifths > 0 else 'f' if fifths < 0 else ''}"


def drawn_signature(signs: Sequence[Pitch]) -> str:
    """A signature drawn sign by sign, each on its own line or space, right or wrong; nothing for no signs.

    >>> drawn_signature((Pitch("F", 1, 5),))
    '<keySig><keyAccid accid="s" pname="f" oct="5"/></keySig>'
    """
    if not signs:
        return ""
    letters = {2: "x", 1: "s", 0: "n", -1: "f", -2: "ff"}
    drawn = "".join(
        f'<keyAccid accid="{letters[sign.alter]}" pname="{sign.step.lower()}" oct="{sign.octave}"/>' for sign in signs
    )
    return f"<keySig>{drawn}</keySig>"


def safe_id(own: str) -> str:
    """An event's own id, when it may stand in an XML id.

    Raises:
        EngravingError: it holds other signs than letters, figures, dots, dashes and underscores.
    """
    if not _SAFE_ID.match(own):
        raise EngravingError(f"the id {own!r} may hold only letters, figures, '.', '-' and '_'")
    return own


def safe_prefix(prefix: str) -> str:
    """The prefix of one picture's ids, when it may begin an XML id.

    Raises:
        EngravingError: it is empty or begins with anything but a letter or underscore.
    """
    if not _SAFE_PREFIX.match(prefix):
        raise EngravingError(f"the prefix {prefix!r} must begin with a letter; then letters, figures, '.', '-' and '_'")
    return prefix

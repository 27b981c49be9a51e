"""What is asked about instruments: how a property is read, said, and mixed up."""

from __future__ import annotations

from stavewright.theory.instrument import Instrument, instrument

SOUNDED = {
    "bowed": "with a bow",
    "blown": "by blowing",
    "plucked": "by plucking strings",
    "struck": "by striking",
    "unpitched": "by striking",
}
REEDS = {"single": "a single reed", "double": "a double reed", "none": "no reed"}

_MANY = ("timpani", "cymbals")
_TWO_STAVES = ("harp", "piano")

# Families that one instrument is taken for, with the reason; the saxophone and the flute are metal and still woodwind.
_ODD_FAMILIES = {
    "flute": ("went by the metal", "brass"),
    "piccolo": ("went by the metal", "brass"),
    "alto saxophone": ("went by the metal", "brass"),
    "xylophone": ("went by the wood", "woodwind"),
    "cor anglais": ("went by the word horn", "brass"),
    "piano": ("went by the strings inside", "strings"),
    "harp": ("went by the many notes at once", "keyboard"),
    "glockenspiel": ("went by the rows of bars", "keyboard"),
    "double bass": ("went by the word bass", "brass"),
}
_USUAL_FAMILIES = {
    "strings": (
        ("mixed up strings and woodwind", "woodwind"),
        ("took all wooden instruments for woodwind", "woodwind"),
    ),
    "woodwind": (("took everything blown for brass", "brass"), ("mixed up strings and woodwind", "strings")),
    "brass": (("took everything blown for woodwind", "woodwind"), ("went by the loud sound", "percussion")),
    "percussion": (("took all metal for brass", "brass"), ("went by the wood", "woodwind")),
    "keyboard": (("went by the hammers inside", "percussion"), ("went by the strings inside", "strings")),
}


def said(one: Instrument, ask: str) -> str:
    """The answer about one instrument: its family, reeds, clef, or how it is played.

    >>> from stavewright.theory.instrument import instrument
    >>> said(instrument("oboe"), "reeds"), said(instrument("viola"), "clef"), said(instrument("tuba"), "playing")
    ('a double reed', 'alto clef', 'by blowing')
    """
    if ask == "family":
        return one.family
    if ask == "reeds":
        return REEDS[one.reeds or "none"]
    if ask == "clef":
        return f"{one.clefs[0]} clef"
    return SOUNDED[one.sounded]


def has(one: Instrument, ask: str, what: str) -> bool:
    """Whether an instrument has a property: a family, reeds, clef, way of playing, or a direction it can be given.

    >>> from stavewright.theory.instrument import instrument
    >>> has(instrument("trombone"), "direction", "con sordino"), has(instrument("flute"), "reeds", "a double reed")
    (True, False)
    """
    if ask == "direction":
        return one.has_technique(what)
    if ask == "reeds" and one.reeds is None:
        return False
    if ask == "clef":
        return f"{what.removesuffix(' clef')}" in one.clefs
    return said(one, ask) == what


def it_is(name: str) -> str:
    """An instrument and its verb.

    >>> it_is("oboe"), it_is("timpani")
    ('The oboe is', 'The timpani are')
    """
    return f"The {name} {'are' if name in _MANY else 'is'}"


def belongs(name: str) -> str:
    """Which family an instrument belongs to, without a full stop.

    >>> belongs("viola")
    'The viola belongs to the string family'
    """
    family = instrument(name).family
    verb = "belong" if name in _MANY else "belongs"
    return f"The {name} {verb} to the {'string' if family == 'strings' else family} family"


def because(name: str, ask: str) -> str:
    """What is true of an instrument in the matter that is asked, as a sentence.

    >>> because("oboe", "reeds")
    'The oboe belongs to the woodwind family and has a double reed.'
    >>> because("harp", "clef")
    'Music for the harp is usually written on two staves, in the treble and bass clefs.'
    """
    one = instrument(name)
    played = f"{it_is(name).rsplit(' ', 1)[1]} played {SOUNDED[one.sounded]}"
    if ask == "family":
        return f"{belongs(name)}: {'they are' if name in _MANY else 'it is'} played {SOUNDED[one.sounded]}."
    if ask == "playing":
        return f"{belongs(name)} and {played}."
    if ask == "reeds":
        return f"{belongs(name)} and {'have' if name in _MANY else 'has'} {said(one, 'reeds')}."
    if not one.clefs:
        return f"The {name} {'have' if name in _MANY else 'has'} no fixed pitch, so no usual clef."
    if name in _TWO_STAVES:
        return f"Music for the {name} is usually written on two staves, in the treble and bass clefs."
    others = f" (sometimes also the {' and the '.join(one.clefs[1:])} clef)" if one.clefs[1:] else ""
    return f"Music for the {name} is usually written in the {one.clefs[0]} clef{others}."


def told(name: str, ask: str) -> str:
    """What a pupil needs to hear of a wrong instrument; where reeds are asked, one that has none by nature is placed.

    >>> told("clarinet", "reeds"), told("violin", "reeds")[:39]
    ('The clarinet belongs to the woodwind family and has a single reed.', 'The violin belongs to the string family')
    """
    plain = ask == "direction" or (ask == "reeds" and instrument(name).reeds is None)
    return because(name, "family" if plain else ask)


def in_short(name: str, ask: str) -> str:
    """An instrument and the matter that is asked, for going through several.

    >>> in_short("viola", "clef"), in_short("oboe", "reeds"), in_short("cello", "direction")
    ('viola: alto clef', 'oboe: a double reed', 'cello: strings, with a bow')
    """
    one = instrument(name)
    if ask == "clef":
        usual = "treble and bass clefs" if name in _TWO_STAVES else f"{one.clefs[0]} clef" if one.clefs else "no pitch"
        return f"{name}: {usual}"
    if ask in ("reeds", "playing", "family"):
        return f"{name}: {said(one, ask)}"
    return f"{name}: {one.family}, {SOUNDED[one.sounded]}"


def wrong_families(one: Instrument) -> tuple[tuple[str, str], ...]:
    """What a pupil takes its family for, each with the reason.

    >>> from stavewright.theory.instrument import instrument
    >>> wrong_families(instrument("flute"))[0]
    ('went by the metal', 'brass')
    """
    odd = _ODD_FAMILIES.get(one.name)
    return (*((odd,) if odd else ()), *_USUAL_FAMILIES[one.family])


def wrong_reeds(one: Instrument) -> tuple[tuple[str, str], ...]:
    """What a pupil takes its reeds for, each with the reason.

    >>> from stavewright.theory.instrument import instrument
    >>> wrong_reeds(instrument("clarinet"))[0]
    ('gave it a double reed', 'a double reed')
    """
    if one.reeds == "single":
        return (("gave it a double reed", REEDS["double"]), ("forgot the reed", REEDS["none"]))
    if one.reeds == "double":
        return (("gave it a single reed", REEDS["single"]), ("forgot the reed", REEDS["none"]))
    return (("gave every woodwind a reed", REEDS["single"]), ("mixed it up with the oboe", REEDS["double"]))


def wrong_clefs(one: Instrument) -> tuple[tuple[str, str], ...]:
    """Which clefs a pupil takes for its usual one, each with the reason.

    >>> from stavewright.theory.instrument import instrument
    >>> wrong_clefs(instrument("viola"))[0]
    ('took it for a low instrument', 'bass clef')
    """
    if one.clefs[0] == "alto":
        return (("took it for a low instrument", "bass clef"), ("took the violin's clef", "treble clef"))
    if one.clefs[0] == "bass":
        like = "took its family's usual clef" if one.family in ("woodwind", "brass") else "took the violin's clef"
        return ((like, "treble clef"), ("took the viola's clef", "alto clef"))
    return (("took it for a low instrument", "bass clef"), ("took the viola's clef", "alto clef"))


def wrong_playing(one: Instrument) -> tuple[tuple[str, str], ...]:
    """How a pupil thinks it is played, each with the reason.

    >>> from stavewright.theory.instrument import instrument
    >>> wrong_playing(instrument("harp"))[0]
    ('took all strings for bowed', 'with a bow')
    """
    if one.family == "strings":
        plucked = ("took all strings for plucked", SOUNDED["plucked"])
        bowed = ("took all strings for bowed", SOUNDED["bowed"])
        return ((bowed if one.sounded == "plucked" else plucked), ("mixed up the families", SOUNDED["struck"]))
    if one.family == "keyboard":
        return (("went by the strings inside", SOUNDED["plucked"]), ("mixed up the families", SOUNDED["blown"]))
    if one.family == "percussion":
        return (("mixed up the families", SOUNDED["blown"]), ("mixed it up with strings", SOUNDED["plucked"]))
    return (("mixed it up with strings", SOUNDED["bowed"]), ("mixed up the families", SOUNDED["struck"]))

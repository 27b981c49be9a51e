"""The instruments as a table: family, reeds, clefs, transposition, range, strings, techniques."""

from __future__ import annotations

from typing import Final

__all__ = ["FAMILY_ORDER", "TABLE"]

# One instrument a line, eight fields between bars:
#   name | family | how it sounds | reeds | clefs | sounding compared with written | usual range | outer limits
# Ranges are sounding pitches. A family line's techniques stand in instrument.py.
#
# Transposition: Schmidt-Jones, Understanding Your French Horn (m10672), with Gehrkens, Music Notation and Terminology
# (1914) Appendix B, Butterfield and others, Integrated Musicianship 12a, and the MuseScore 3.2.3 instruments table;
# tenor horn, descant recorder: from memory.
# Usual range: MuseScore table, amateur. Outer limits: the widest of that table's professional range and Gehrkens
# Appendix B. No range is given where neither source has one.
# Families, reeds, clefs: Gehrkens Appendix B; flutes, horn's bass clef and percussion, common practice.
TABLE: Final = """
violin               | strings    | bowed      | -      | treble             | =        | G3 E6   | G3 G7
viola                | strings    | bowed      | -      | alto treble        | =        | C3 G5   | C3 A6
cello                | strings    | bowed      | -      | bass tenor treble  | =        | C2 G4   | C2 F#6
double bass          | strings    | bowed      | -      | bass               | down P8  | E1 D4   | C1 G4
harp                 | strings    | plucked    | -      | treble bass        | =        | B0 A7   | B0 A7
guitar               | strings    | plucked    | -      | treble             | down P8  | E2 B5   | E2 B5
piccolo              | woodwind   | blown      | none   | treble             | up P8    | D5 A7   | C5 C8
flute                | woodwind   | blown      | none   | treble             | =        | C4 A6   | B3 D7
alto flute           | woodwind   | blown      | none   | treble             | down P4  | G3 E6   | G3 G6
bass flute           | woodwind   | blown      | none   | treble             | down P8  | -       | -
descant recorder     | woodwind   | blown      | none   | treble             | up P8    | -       | -
treble recorder      | woodwind   | blown      | none   | treble             | =        | F4 E6   | E4 C7
oboe                 | woodwind   | blown      | double | treble             | =        | Bb3 Eb6 | Bb3 C7
cor anglais          | woodwind   | blown      | double | treble             | down P5  | E3 A5   | E3 B5
bassoon              | woodwind   | blown      | double | bass tenor         | =        | Bb1 A4  | Bb1 E5
contrabassoon        | woodwind   | blown      | double | bass               | down P8  | Bb0 A3  | Bb0 C4
clarinet in E flat   | woodwind   | blown      | single | treble             | up m3    | -       | -
clarinet in B flat   | woodwind   | blown      | single | treble             | down M2  | D3 F6   | D3 Bb6
clarinet in A        | woodwind   | blown      | single | treble             | down m3  | -       | -
bass clarinet        | woodwind   | blown      | single | treble             | down M9  | C#2 Eb5 | Bb1 G5
soprano saxophone    | woodwind   | blown      | single | treble             | down M2  | -       | -
alto saxophone       | woodwind   | blown      | single | treble             | down M6  | C#3 Bb5 | C#3 Eb6
tenor saxophone      | woodwind   | blown      | single | treble             | down M9  | Ab2 F5  | Ab2 Bb5
baritone saxophone   | woodwind   | blown      | single | treble             | down M13 | -       | -
trumpet in D         | brass      | blown      | -      | treble             | up M2    | -       | -
trumpet in C         | brass      | blown      | -      | treble             | =        | -       | -
trumpet in B flat    | brass      | blown      | -      | treble             | down M2  | E3 Ab5  | E3 C#6
trumpet in A         | brass      | blown      | -      | treble             | down m3  | -       | -
cornet in E flat     | brass      | blown      | -      | treble             | up m3    | -       | -
cornet in B flat     | brass      | blown      | -      | treble             | down M2  | E3 G5   | E3 Bb5
flugelhorn           | brass      | blown      | -      | treble             | down M2  | -       | -
horn in F            | brass      | blown      | -      | treble bass        | down P5  | F2 A4   | G1 F5
tenor horn           | brass      | blown      | -      | treble             | down M6  | -       | -
trombone             | brass      | blown      | -      | bass tenor         | =        | E2 B4   | C2 D5
euphonium            | brass      | blown      | -      | bass               | =        | -       | -
euphonium in B flat  | brass      | blown      | -      | treble             | down M9  | -       | -
tuba                 | brass      | blown      | -      | bass               | =        | E1 Bb3  | Bb0 C5
E flat bass          | brass      | blown      | -      | treble             | down M13 | -       | -
B flat bass          | brass      | blown      | -      | treble             | down M16 | -       | -
timpani              | percussion | struck     | -      | bass               | =        | D2 C4   | C2 D4
glockenspiel         | percussion | struck     | -      | treble             | up P15   | -       | -
xylophone            | percussion | struck     | -      | treble             | up P8    | -       | -
tubular bells        | percussion | struck     | -      | treble             | =        | -       | -
side drum            | percussion | unpitched  | -      | -                  | =        | -       | -
bass drum            | percussion | unpitched  | -      | -                  | =        | -       | -
cymbals              | percussion | unpitched  | -      | -                  | =        | -       | -
triangle             | percussion | unpitched  | -      | -                  | =        | -       | -
tambourine           | percussion | unpitched  | -      | -                  | =        | -       | -
gong                 | percussion | unpitched  | -      | -                  | =        | -       | -
piano                | keyboard   | struck     | -      | treble bass        | =        | A0 C8   | A0 C8
celesta              | keyboard   | struck     | -      | treble bass        | up P8    | -       | -
harpsichord          | keyboard   | plucked    | -      | treble bass        | =        | -       | -
organ                | keyboard   | blown      | -      | treble bass        | =        | -       | -
"""

FAMILY_ORDER: Final = {
    "strings": ("violin", "viola", "cello", "double bass"),
    "woodwind": ("flute", "oboe", "clarinet in B flat", "bassoon"),
    "brass": ("trumpet in B flat", "horn in F", "trombone", "tuba"),
}
"""The standard members of each orchestral family from the highest to the lowest. Source: common practice."""

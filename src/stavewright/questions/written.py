"""What a note is on paper: clef, place and printed sign, as the facts of a question hold them."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

ClefName = Annotated[str, Meta(pattern=r"^(treble|bass|alto|tenor)\Z", max_length=6)]
Sign = Annotated[str, Meta(pattern=r"^(sharp|flat|natural|double-sharp|flat-flat)\Z", max_length=12)]
PitchText = Annotated[str, Meta(pattern=r"^[A-G](#{1,2}|b{1,2})?-?[0-9]\Z", max_length=5)]
ValueName = Annotated[
    str,
    Meta(
        pattern=r"^(breve|semibreve|minim|crotchet|quaver|semiquaver|demisemiquaver|hemidemisemiquaver)\Z",
        max_length=20,
    ),
]
KeyText = Annotated[str, Meta(pattern=r"^[A-G]( sharp| flat)? (major|minor)\Z", max_length=13)]
NameText = Annotated[str, Meta(pattern=r"^[A-G]( sharp| flat)?\Z", max_length=7)]
ScaleForm = Annotated[
    str, Meta(pattern=r"^(major|(natural|harmonic|melodic|harmonic or melodic) minor)\Z", max_length=25)
]
Direction = Annotated[str, Meta(pattern=r"^(up|down|both)\Z", max_length=4)]
LowOctave = Annotated[int, Meta(ge=0, le=7)]
StavePlace = Annotated[int, Meta(ge=-16, le=24)]


class Written(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A note on the stave: its place (0 is the bottom line, 1 the space above it), its sign, a tie to the next."""

    place: StavePlace
    accidental: Sign | None = None
    tie: bool = False

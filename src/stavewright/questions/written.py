"""What a note is on paper: clef, place and printed sign, as the facts of a question hold them."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

ClefName = Annotated[str, Meta(pattern="^(treble|bass|alto|tenor)$", max_length=6)]
Sign = Annotated[str, Meta(pattern="^(sharp|flat|natural|double-sharp|flat-flat)$", max_length=12)]
PitchText = Annotated[str, Meta(pattern="^[A-G](#{1,2}|b{1,2})?-?[0-9]$", max_length=5)]
ValueName = Annotated[
    str,
    Meta(
        pattern="^(breve|semibreve|minim|crotchet|quaver|semiquaver|demisemiquaver|hemidemisemiquaver)$", max_length=20
    ),
]
StavePlace = Annotated[int, Meta(ge=-16, le=24)]


class Written(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A note on the stave: its place (0 is the bottom line, 1 the space above it), its sign, a tie to the next."""

    place: StavePlace
    accidental: Sign | None = None
    tie: bool = False

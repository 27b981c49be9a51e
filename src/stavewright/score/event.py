"""What stands in a bar: notes, chords, rests, and gaps left for the pupil."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.score.errors import BadScore
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

ACCIDENTALS = ("sharp", "flat", "natural", "double-sharp", "flat-flat")
MARKS = (
    "staccato", "staccatissimo", "accent", "strong-accent", "tenuto", "fermata", "up-bow", "down-bow",
    "trill", "turn", "inverted-turn", "mordent", "upper-mordent", "arpeggio", "breath",
)  # fmt: skip
GRACES = ("acciaccatura", "appoggiatura")


def _check_common(accidentals: tuple[str | None, ...], marks: tuple[str, ...], grace: str | None, name: str) -> None:
    for accidental in accidentals:
        if accidental is not None and accidental not in ACCIDENTALS:
            raise BadScore(f"event {name or '?'}: accidental {accidental!r} is not one of {', '.join(ACCIDENTALS)}")
    for mark in marks:
        if mark not in MARKS:
            raise BadScore(f"event {name or '?'}: mark {mark!r} is not one of {', '.join(MARKS)}")
    if grace is not None and grace not in GRACES:
        raise BadScore(f"event {name or '?'}: grace {grace!r} is not one of {', '.join(GRACES)}")


@dataclass(frozen=True, slots=True)
class Note:
    """One written note: its pitch, its value, and every sign that belongs to it.

    `accidental` is the sign that is *printed* (None: nothing is printed, the signature or an earlier sign holds).
    `beam` is the number of the beam group inside the bar (None: its own flag). `tie` says that a tie leads to the
    next note. `label` is a word printed under the note ("a", "1", "?"), `lyric` a sung syllable.

    Raises:
        BadScore: a sign that is not in the closed sets ACCIDENTALS, MARKS, GRACES.

    >>> from stavewright.theory.duration import Duration
    >>> Note(Pitch("F", 1, 4), Duration("crotchet"), accidental="sharp").pitch.short
    'F#4'
    """

    pitch: Pitch
    duration: Duration
    id: str = ""
    accidental: str | None = None
    tie: bool = False
    beam: int | None = None
    stem: str | None = None
    marks: tuple[str, ...] = ()
    grace: str | None = None
    slur: str | None = None
    lyric: str | None = None
    label: str | None = None

    def __post_init__(self) -> None:
        _check_common((self.accidental,), self.marks, self.grace, self.id)

    def signed(self, accidental: str | None) -> Note:
        """The same note with another printed sign (or none). Written out, for whole melodies are signed at a time."""
        return Note(
            self.pitch,
            self.duration,
            self.id,
            accidental,
            self.tie,
            self.beam,
            self.stem,
            self.marks,
            self.grace,
            self.slur,
            self.lyric,
            self.label,
        )

    @property
    def ticks(self) -> int:
        """The time the note takes in its bar, in ticks (a grace note takes none)."""
        return 0 if self.grace else self.duration.ticks

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """The pitch, as a chord of one."""
        return (self.pitch,)

    @property
    def accidentals(self) -> tuple[str | None, ...]:
        """The printed sign, as a chord of one has it."""
        return (self.accidental,)


@dataclass(frozen=True, slots=True)
class Chord:
    """Notes struck together on one stem, written from the lowest up.

    Raises:
        BadScore: no pitch, or signs that are not one a pitch.
    """

    pitches: tuple[Pitch, ...]
    duration: Duration
    id: str = ""
    accidentals: tuple[str | None, ...] = ()
    tie: bool = False
    beam: int | None = None
    stem: str | None = None
    marks: tuple[str, ...] = ()
    slur: str | None = None
    label: str | None = None

    def __post_init__(self) -> None:
        if not self.pitches:
            raise BadScore(f"chord {self.id or '?'} has no pitch: give at least one, lowest first")
        if not self.accidentals:
            object.__setattr__(self, "accidentals", (None,) * len(self.pitches))
        if len(self.accidentals) != len(self.pitches):
            raise BadScore(
                f"chord {self.id or '?'} needs one accidental (or None) for each of {len(self.pitches)} pitches"
            )
        _check_common(self.accidentals, self.marks, None, self.id)

    @property
    def ticks(self) -> int:
        """The time the chord takes in its bar, in ticks."""
        return self.duration.ticks


@dataclass(frozen=True, slots=True)
class Rest:
    """A written silence. `whole_bar` is the rest that fills any bar, whatever its length."""

    duration: Duration
    id: str = ""
    whole_bar: bool = False
    beam: int | None = None
    label: str | None = None

    @property
    def ticks(self) -> int:
        """The time the rest takes in its bar, in ticks."""
        return self.duration.ticks


@dataclass(frozen=True, slots=True)
class Gap:
    """Room left empty on the stave, as long as its value: here the pupil writes."""

    duration: Duration
    id: str = ""
    label: str | None = None

    @property
    def ticks(self) -> int:
        """The time the gap takes in its bar, in ticks."""
        return self.duration.ticks


Event = Note | Chord | Rest | Gap

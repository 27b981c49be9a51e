"""Proving the key of an extract from its signature and its notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.theory.key import Key, key_of
from stavewright.theory.pitch import NoteName, Pitch

__all__ = ["KeyProof", "prove_key"]


@dataclass(frozen=True, slots=True)
class KeyProof:
    """What the notes prove about the key: the key, or None, with the reason and the keys still open.

    ``candidates`` holds the one proved key, or both relatives where neither is proved: then either must
    be taken, and the one on whose tonic the melody ends comes first.
    """

    key: Key | None
    reason: str
    candidates: tuple[Key, ...]


def prove_key(notes: Sequence[NoteName | Pitch], fifths: int) -> KeyProof:
    """Prove the key of a melody from its signature, its last note and its accidentals.

    A major key is proved when the melody ends on its tonic and no note is foreign to the signature. A minor key is
    proved when it ends on its tonic, has the raised 7th, and nothing foreign but the raised 6th and 7th. ``notes`` are
    as they sound, in order; ``fifths`` is the signature, sharps counted up. A profile of how often each note comes
    proves nothing, and is not used.
    Source: common practice (signature, leading note, last note).

    Raises:
        UnknownKeyError: more than seven signs.

    >>> notes = [NoteName("A"), NoteName("C"), NoteName("G", 1), NoteName("A")]
    >>> prove_key(notes, 0).key.text
    'A minor'
    """
    major, minor = key_of(fifths, "major"), key_of(fifths, "minor")
    # Distances from the major tonic along the line of fifths; its own notes lie from -1 to 5.
    places = [note.name.fifths - fifths if isinstance(note, Pitch) else note.fifths - fifths for note in notes]
    if not places:
        return KeyProof(None, "there are no notes to judge by", (major, minor))
    foreign = {place for place in places if not -1 <= place <= 5}
    last = places[-1]
    if last == 0 and not foreign:
        return KeyProof(major, f"it ends on {major.tonic.text} and every note fits the key signature", (major,))
    if last == 3 and 8 in foreign and foreign <= {6, 8}:
        raised = minor.leading_note.text
        return KeyProof(minor, f"it ends on {minor.tonic.text} and has {raised}, the raised 7th", (minor,))
    open_ = (minor, major) if last == 3 else (major, minor)
    return KeyProof(None, _doubt(major, minor, last, foreign), open_)


def _doubt(major: Key, minor: Key, last: int, foreign: set[int]) -> str:
    if last not in (0, 3):
        return f"it ends on neither {major.tonic.text} nor {minor.tonic.text}"
    if last == 3 and not foreign:
        return f"it ends on {minor.tonic.text} but has no {minor.leading_note.text}, the raised 7th of {minor.text}"
    allowed = {6, 8} if last == 3 else set()
    names = [NoteName.from_fifths(major.fifths + place).text for place in sorted(foreign - allowed)]
    tonic = minor if last == 3 else major
    if not names:
        return f"it has the raised 6th of {minor.text} but not its raised 7th"
    return f"it ends on {tonic.tonic.text}, but {' and '.join(names)} {'are' if len(names) > 1 else 'is'} foreign to it"

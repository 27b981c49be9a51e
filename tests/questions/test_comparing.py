"""Comparing answers, form by form."""

from __future__ import annotations

from stavewright.questions.comparing import compare, compare_all
from stavewright.questions.kind import Marking
from stavewright.questions.values import Place, Value, WrittenNote, WrittenValue

NOTES = Marking("minus-one-per-fault")


def row(*names: str, signature: int | None = None, clef: str | None = None) -> Value:
    """Semibreves from names such as "F4#" (step, octave, printed sign)."""
    signs = {"#": "sharp", "b": "flat", "n": "natural", "": None}
    notes = tuple(WrittenNote(n[0], octave=int(n[1]), type="semibreve", accidental=signs[n[2:]]) for n in names)
    return Value(notes=notes, signature=signature, clef=clef)


def test_a_signature_reads_like_accidentals() -> None:
    """A scale written with its signature and one written with accidentals are the same notes."""
    with_signs = row("D4", "E4", "F4#", "G4", "A4", "B4", "C5#", "D5", signature=0)
    with_signature = row("D4", "E4", "F4", "G4", "A4", "B4", "C5", "D5", signature=2)
    assert compare(with_signs, row("D4", "E4", "F4#", "G4", "A4", "B4", "C5#", "D5"), NOTES).same
    assert compare(Value(notes=with_signature.notes, signature=2), Value(notes=with_signs.notes), NOTES).faults == 0


def test_an_accidental_holds_at_its_own_octave_only() -> None:
    """An accidental lasts at its own line or space; another octave needs its own sign (Gehrkens 1914, §24)."""
    right = row("F4#", "F4#")
    assert compare(row("F4#", "F4"), right, NOTES).same
    assert compare(row("F4#", "F5"), row("F4#", "F5#"), NOTES).faults == 1


def test_courtesy_accidentals_are_free() -> None:
    """A sign that only confirms what already holds is never a fault (from memory, common practice)."""
    assert compare(row("C4n", "E4n"), row("C4", "E4"), NOTES).same


def test_missing_and_extra_notes_are_faults() -> None:
    """Each missing or extra note counts once."""
    assert compare(row("C4"), row("C4", "E4"), NOTES).faults == 1
    assert compare(row("C4", "E4", "G4"), row("C4", "E4"), NOTES).faults == 1


def test_the_octave_may_be_forgiven() -> None:
    """Where the octave is not asked, only letter and sign count."""
    assert compare(row("C5"), row("C4"), Marking(octave=False)).same
    assert not compare(row("C5"), row("C4"), Marking()).same


def test_a_signature_that_is_asked_for_counts_when_it_is_left_out() -> None:
    """One cause costs once: the notes are read under the signature that should stand there."""
    signed = Marking("minus-one-per-fault", signed=True)
    right = row("D4", "F4", signature=2)
    assert compare(row("D4", "F4", signature=2), right, signed).same
    assert compare(row("D4", "F4"), right, signed).faults == 1
    assert compare(row("D4", "F4"), right, NOTES).same
    assert compare(row("D4", "F4", signature=1), right, signed).faults == 1
    assert compare(row("D4", "F4"), row("D4", "F4", signature=0), signed).same
    assert compare(row("D4", "F4#"), row("D4", "F4#"), signed).same


def test_the_signs_of_a_signature_are_places() -> None:
    """In a written signature the place and the sign itself count, also without note values."""
    right = Value(notes=(WrittenNote("F", octave=5, accidental="sharp"),))
    assert compare(right, right, NOTES).same
    assert compare(Value(notes=(WrittenNote("F", octave=4, accidental="sharp"),)), right, NOTES).faults == 1
    assert compare(Value(notes=(WrittenNote("F", octave=5, accidental="flat"),)), right, NOTES).faults == 1


def test_beams_are_groups_not_numbers() -> None:
    """Two beamings are the same when they join the same notes, whatever their numbers."""
    a = Value(rhythm=tuple(WrittenValue("quaver", beam=n) for n in (1, 1, 2, 2)))
    b = Value(rhythm=tuple(WrittenValue("quaver", beam=n) for n in (7, 7, 3, 3)))
    c = Value(rhythm=tuple(WrittenValue("quaver", beam=n) for n in (1, 1, 1, 1)))
    assert compare(a, b, Marking(beams=True)).same
    assert not compare(a, c, Marking(beams=True)).same
    assert compare(a, c, Marking()).same


def test_bar_lines_may_stand_alone() -> None:
    """A missing line and an extra one in its stead are one fault."""
    assert compare(Value(bar_lines=(4, 8)), Value(bar_lines=(4, 8)), Marking()).same
    assert compare(Value(bar_lines=(4, 9)), Value(bar_lines=(4, 8)), Marking()).faults == 1


def test_places_are_a_set() -> None:
    """Places count without order."""
    one, two = Place(1), Place(2, 3)
    assert compare(Value(places=(two, one)), Value(places=(one, two)), Marking()).same
    assert compare(Value(places=(one,)), Value(places=(one, two)), Marking()).faults == 1


def test_another_form_is_no_answer() -> None:
    """A number is not words."""
    assert not compare(Value(number=3), Value(words="3"), Marking()).same


def test_a_time_signature_that_belongs_to_a_rhythm_is_one_item() -> None:
    """Figures or sign, 4/4 and C are one; a wrong or missing one is one fault (common practice)."""
    row = (WrittenValue("minim"), WrittenValue("minim"))
    right = Value(rhythm=row, time="4/4")
    assert compare(Value(rhythm=row, time="C"), right, Marking()).same
    assert compare(Value(rhythm=row, time="2/4"), right, Marking()).faults == 1
    assert compare(Value(rhythm=row, time="no time"), right, Marking()).faults == 1
    assert compare(Value(rhythm=row), right, Marking()).faults == 1
    assert compare(Value(rhythm=row, time="2/2"), Value(rhythm=row), Marking()).same


def test_two_forms_are_compared_together() -> None:
    """Where a question asks for two things, each counts its own items, and what is missing is wrong in all of them."""
    right = (Value(places=(Place(2), Place(3))), Value(choice="b"))
    assert compare_all(right, right, Marking()).same
    assert compare_all((right[0], Value(choice="a")), right, Marking()).faults == 1
    assert compare_all(right[:1], right, Marking()).faults == 1
    assert compare_all((), right, Marking()).faults == 3


def test_a_heading_that_is_asked_for_must_be_written() -> None:
    """Where clef and signature are a part of the task, each one left out or wrong is one fault and no more."""
    notes = (WrittenNote("F", octave=4, type="minim"), WrittenNote("C", octave=5, type="minim"))
    right = Value(notes=notes, clef="treble", signature=2)
    asked = Marking(heading=True)
    assert compare(right, right, asked).same
    assert compare(Value(notes=notes), right, Marking()).same, "printed already, so it need not be said"
    assert compare(Value(notes=notes), right, asked).faults == 2
    assert compare(Value(notes=notes, clef="treble", signature=1), right, asked).faults == 1
    bare = Value(notes=notes, clef="treble")
    assert compare(Value(notes=notes, clef="treble", signature=0), bare, asked).same
    assert compare(Value(notes=notes, clef="treble", signature=2), bare, asked).faults == 1

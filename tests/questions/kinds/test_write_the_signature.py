"""Write a key signature."""

from __future__ import annotations

import partitura
import pytest

from questions.asking_many import asked, drafts
from questions.drawn_by_verovio import places_of_signature
from questions.rules_of_kinds import keeps_the_rules
from stavewright.questions.catalogue import kind
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.write_the_signature import KIND, WriteTheSignature
from stavewright.questions.score_mirror import score_of
from stavewright.questions.setting.signature import laid_out
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import ALL_KEYS
from stavewright.theory.pitch import Pitch


def signs(text: str, sign: str) -> Value:
    return Value(notes=tuple(WrittenNote(place[0], octave=int(place[1]), accidental=sign) for place in text.split()))


# Open Music Theory, version 1 (2014), keySignatures: pictures of seven sharps and seven flats in four clefs.
PICTURES = [
    ("treble", "C sharp major", "F5 C5 G5 D5 A4 E5 B4", "sharp"),
    ("treble", "C flat major", "B4 E5 A4 D5 G4 C5 F4", "flat"),
    ("alto", "C sharp major", "F4 C4 G4 D4 A3 E4 B3", "sharp"),
    ("alto", "C flat major", "B3 E4 A3 D4 G3 C4 F3", "flat"),
    ("tenor", "C sharp major", "F3 C4 G3 D4 A3 E4 B3", "sharp"),
    ("tenor", "C flat major", "B3 E4 A3 D4 G3 C4 F3", "flat"),
    ("bass", "C sharp major", "F3 C3 G3 D3 A2 E3 B2", "sharp"),
    ("bass", "C flat major", "B2 E3 A2 D3 G2 C3 F2", "flat"),
]


@pytest.mark.parametrize("clef, key, places, sign", PICTURES)
def test_the_pictures(clef, key, places, sign):
    assert KIND.solve(WriteTheSignature(clef, key))[0].value[0] == signs(places, sign)


def test_sharps_in_the_tenor_clef_have_two_layouts():
    # Both are in print (common practice).
    found = [one.value[0] for one in KIND.solve(WriteTheSignature("tenor", "D major"))]
    assert found == [signs("F3 C4", "sharp"), signs("F4 C4", "sharp")]
    assert len(KIND.solve(WriteTheSignature("tenor", "B flat major"))) == 1


def test_every_slip():
    facts = WriteTheSignature("bass", "F sharp minor")
    found = {one.name: one.value[0] for one in KIND.slips(facts)}
    assert found == {
        "wrong order": signs("G3 C3 F3", "sharp"),
        "a sign in the wrong octave": signs("F3 C3 G2", "sharp"),
        "laid out as in the treble clef": signs("A3 E3 B3", "sharp"),
        "signature of the major key on the same note": signs("F3 C3 G3 D3 A2 E3", "sharp"),
        "one sign too few": signs("F3 C3", "sharp"),
        "one sign too many": signs("F3 C3 G3 D3", "sharp"),
        "sharps and flats mixed": signs("B2 E3 A2", "flat"),
        "raised 7th in the signature": Value(
            notes=(*signs("F3 C3 G3", "sharp").notes, WrittenNote("E", octave=3, accidental="sharp"))
        ),
    }
    major = {one.name for one in KIND.slips(WriteTheSignature("treble", "E flat major"))}
    assert "signature of the minor key on the same note" in major
    assert "laid out as in the bass clef" in major


@pytest.mark.parametrize("wrong", ["C5 F5", "F4 C5", "F5", "F5 C5 G5", "F5 C4"])
def test_order_place_and_number_count(wrong):
    right = KIND.solve(WriteTheSignature("treble", "D major"))[0].value[0]
    assert not compare(signs(wrong, "sharp"), right, KIND.marking).same
    assert not compare(signs("F5 C5", "flat"), right, KIND.marking).same
    assert compare(signs("F5 C5", "sharp"), right, KIND.marking).same


def test_setter_and_solver_agree_on_every_key_in_every_clef():
    for key in ALL_KEYS:
        for clef in ("treble", "bass", "alto", "tenor"):
            right = KIND.solve(WriteTheSignature(clef, key.text))[0].value[0]
            assert compare(laid_out(key, clef), right, KIND.marking).same


def test_partitura_counts_the_same_signs():
    for _, draft in drafts("write-the-signature", 30):
        tonic, _, mode = draft.facts.key.rpartition(" ")
        name = tonic.replace(" sharp", "#").replace(" flat", "b") + ("m" if mode == "minor" else "")
        fifths, _ = partitura.utils.music.key_name_to_fifths_mode(name)
        notes = draft.expected.notes
        assert len(notes) == abs(fifths)
        assert {note.accidental for note in notes} == {"sharp" if fifths > 0 else "flat"}


@pytest.mark.parametrize("method", KIND.methods)
def test_the_working_counts_the_signs(method):
    for key in ALL_KEYS:
        if key.fifths:
            steps = KIND.work(WriteTheSignature("treble", key.text), method)
            assert 2 <= len(steps) <= 6
            number = str(abs(key.fifths))
            assert any(number in step.jotting for step in steps)


def test_any_answer_can_be_drawn():
    odd = Value(notes=(WrittenNote("F", octave=2), WrittenNote("B", octave=6, accidental="double-sharp", type="minim")))
    score = KIND.draw(WriteTheSignature("alto", "D major"), odd)
    assert [sign.short for sign in score.staves[0].signs] == ["F2", "B##6"]
    assert faults(score) == []


def test_questions_are_fair_and_stay_in_scope():
    count = 0
    for _, draft, question in asked("write-the-signature", 25):
        count += 1
        assert draft.facts.key in {key.text for key in scope_for(question.grade).keys}
        for option in getattr(question.response[0], "options", ()):
            assert faults(score_of(option.score)) == []
    assert count == 25 * 5 * 2


def test_the_pool_counts_what_can_be_set():
    found = {repr(draft.facts) for _, draft in drafts("write-the-signature", 800, grades=(2,))}
    assert kind("write-the-signature").pool(scope_for(2)) == len(found)


def test_the_rules_of_all_kinds():
    keeps_the_rules("write-the-signature")


@pytest.mark.parametrize("clef", ["treble", "bass", "alto", "tenor"])
def test_verovio_draws_every_signature_on_the_same_places(clef: str) -> None:
    """Order and octave of each sign, for all 28 keys with signs, as verovio's own tables print them."""
    for key in ALL_KEYS:
        if key.fifths:
            notes = KIND.solve(WriteTheSignature(clef, key.text))[0].value[0].notes
            places = tuple(CLEFS[clef].place(Pitch(note.step, 0, note.octave)) for note in notes)
            assert places == places_of_signature(clef, key.fifths), key.text

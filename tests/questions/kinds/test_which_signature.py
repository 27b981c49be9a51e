"""The rightly written key signature among several."""

from __future__ import annotations

import partitura
import pytest

from questions.asking_many import asked, drafts
from questions.drawn_by_verovio import places_of_signature
from questions.rules_of_kinds import keeps_the_rules
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.which_signature import KIND, WhichSignature
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.syllabus.scope import scope_for
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import ALL_KEYS
from stavewright.theory.pitch import Pitch


def signs(text: str, sign: str) -> Value:
    return Value(notes=tuple(WrittenNote(place[0], octave=int(place[1]), accidental=sign) for place in text.split()))


# Open Music Theory, version 1 (2014), keySignatures: the pictures in four clefs; the counts, Gehrkens (1914) §83, §89.
@pytest.mark.parametrize(
    "clef, key, places, sign",
    [
        ("treble", "G major", "F5", "sharp"),
        ("treble", "C sharp minor", "F5 C5 G5 D5", "sharp"),
        ("treble", "E flat major", "B4 E5 A4", "flat"),
        ("alto", "B major", "F4 C4 G4 D4 A3", "sharp"),
        ("alto", "F minor", "B3 E4 A3 D4", "flat"),
        ("tenor", "D major", "F3 C4", "sharp"),
        ("tenor", "B flat minor", "B3 E4 A3 D4 G3", "flat"),
        ("bass", "F sharp minor", "F3 C3 G3", "sharp"),
        ("bass", "G flat major", "B2 E3 A2 D3 G2 C3", "flat"),
    ],
)
def test_the_pictures(clef: str, key: str, places: str, sign: str) -> None:
    assert KIND.solve(WhichSignature(clef, key))[0].value[0] == signs(places, sign)


def test_both_tenor_layouts_are_right() -> None:
    """Both are in print (common practice), so neither may stand as a wrong option beside the other."""
    right = KIND.solve(WhichSignature("tenor", "A major"))
    assert [one.value[0] for one in right] == [signs("F3 C4 G3", "sharp"), signs("F4 C4 G4", "sharp")]
    for _, draft, question in asked("which-signature", 40, grades=(5,)):
        options = question.response[0].options
        assert sum(is_right(one.value, KIND.solve(draft.facts), KIND) for one in options) == 1


def test_every_slip() -> None:
    """Worked by hand."""
    found = {one.name: one.value[0] for one in KIND.slips(WhichSignature("bass", "A major"))}
    assert found == {
        "last two signs in the wrong order": signs("F3 G3 C3", "sharp"),
        "a sign in the wrong octave": signs("F3 C3 G2", "sharp"),
        "laid out as in the treble clef": signs("A3 E3 B3", "sharp"),
        "last sign a place too low": signs("F3 C3 F3", "sharp"),
        "flats for sharps": signs("F3 C3 G3", "flat"),
        "one sign too few": signs("F3 C3", "sharp"),
        "one sign too many": signs("F3 C3 G3 D3", "sharp"),
    }
    one = {slip.name for slip in KIND.slips(WhichSignature("treble", "F major"))}  # B flat has one place on the stave
    assert one == {"laid out as in the bass clef", "last sign a place too low", "sharps for flats", "one sign too many"}


def test_a_key_without_signs_is_refused() -> None:
    with pytest.raises(BadDocument, match="no key signature"):
        WhichSignature("treble", "A minor")


def test_every_option_is_a_picture_in_the_clef() -> None:
    for _, draft, question in asked("which-signature", 15):
        form = question.response[0]
        assert isinstance(form, ChoiceForm)
        for option in form.options:
            stave = score_of(option.score).staves[0]
            assert stave.clef == draft.facts.clef
            assert stave.signs


def test_the_wrong_options_differ_from_question_to_question() -> None:
    names = set()
    for _, draft in drafts("which-signature", 40, grades=(3,)):
        names |= {slip.name for slip in KIND.slips(draft.facts)[:3]}
    assert len(names) >= 6


def test_partitura_counts_the_same_signs() -> None:
    for _, draft in drafts("which-signature", 40):
        tonic, mode = draft.facts.key.rsplit(" ", 1)
        name = tonic.replace(" sharp", "#").replace(" flat", "b") + ("m" if mode == "minor" else "")
        fifths, _ = partitura.utils.music.key_name_to_fifths_mode(name)
        notes = KIND.solve(draft.facts)[0].value[0].notes
        assert len(notes) == abs(fifths)
        assert {note.accidental for note in notes} == {"sharp" if fifths > 0 else "flat"}


def test_the_pool_counts_what_can_be_set() -> None:
    found = {draft.facts for _, draft in drafts("which-signature", 3000, grades=(3,))}
    assert len(found) == KIND.pool(scope_for(3))


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("which-signature")


@pytest.mark.parametrize("clef", ["treble", "bass", "alto", "tenor"])
def test_verovio_draws_every_signature_on_the_same_places(clef: str) -> None:
    """Order and octave of each sign, for all 28 keys with signs, as verovio's own tables print them."""
    for key in ALL_KEYS:
        if key.fifths:
            notes = KIND.solve(WhichSignature(clef, key.text))[0].value[0].notes
            places = tuple(CLEFS[clef].place(Pitch(note.step, 0, note.octave)) for note in notes)
            assert places == places_of_signature(clef, key.fifths), key.text

"""Write a named scale."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import answer_words, asked, drafts
from questions.rules_of_kinds import keeps_the_rules
from stavewright.questions.catalogue import kind
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.write_the_scale import EITHER, KIND, WriteTheScale
from stavewright.questions.score_mirror import score_of
from stavewright.questions.setting.scales import spelled
from stavewright.questions.solving.scales import names_of, scale_row
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import ALL_KEYS


def facts(
    tonic="A", form="melodic minor", direction="both", signature="none", clef="treble", octave=4
) -> WriteTheScale:
    return WriteTheScale(clef, tonic, octave, form, direction, signature)


# Clementi, Introduction to the Art of Playing on the Piano Forte (1801), scales: rising 6-7, then falling 7-6.
CLEMENTI = [
    ("A", "F sharp G sharp", "G F"), ("E", "C sharp D sharp", "D C"), ("B", "G sharp A sharp", "A G"),
    ("F sharp", "D sharp E sharp", "E D"), ("C sharp", "A sharp B sharp", "B A"),
    ("G sharp", "E sharp F double sharp", "F sharp E"), ("D sharp", "B sharp C double sharp", "C sharp B"),
    ("B flat", "G A", "A flat G flat"), ("F", "D E", "E flat D flat"), ("C", "A B", "B flat A flat"),
]  # fmt: skip


@pytest.mark.parametrize("tonic, rising, falling", CLEMENTI)
def test_the_melodic_minors_of_clementi(tonic, rising, falling):
    text = answer_words("write-the-scale", facts(tonic))[0]
    assert f" {rising} {tonic} {falling} " in f" {text} "


def test_the_harmonic_minor_keeps_its_raised_seventh_both_ways():
    # Gehrkens, Music Notation and Terminology (1914) §86, 88.
    text = answer_words("write-the-scale", facts("G sharp", "harmonic minor"))[0]
    assert text.count("F double sharp") == 2


def test_signs_follow_the_signature():
    with_signature = KIND.solve(facts("D", "harmonic minor", "up", "printed"))[0].value[0]
    assert [n.accidental for n in with_signature.notes] == [None] * 6 + ["sharp", None]
    assert with_signature.signature == -1
    without = KIND.solve(facts("D", "harmonic minor", "up"))[0].value[0]
    assert [n.accidental for n in without.notes] == [None] * 5 + ["flat", "sharp", None]


def test_another_octave_on_the_stave_is_taken_and_no_other():
    found = KIND.solve(facts("D", "major", "up", octave=4))
    starts = [one.value[0].notes[0].octave for one in found]
    assert starts == [4, 5]
    assert found[1].text.endswith("D, 1 octave higher")


def test_reminders_cost_nothing_and_missing_signs_do():
    right = KIND.solve(facts("G", "major", "up", "printed"))[0].value[0]
    notes = list(right.notes)
    notes[6] = WrittenNote("F", octave=5, type="semibreve", accidental="sharp")
    assert compare(Value(notes=tuple(notes), signature=1), right, KIND.marking).same
    notes[6] = WrittenNote("F", octave=5, type="semibreve", accidental="natural")
    assert compare(Value(notes=tuple(notes), signature=1), right, KIND.marking).faults == 1


def test_a_minor_scale_with_no_form_named_may_be_harmonic_or_melodic():
    texts = answer_words("write-the-scale", facts("A", EITHER, "up"))
    assert "A B C D E F G sharp A" in texts
    assert "A B C D E F sharp G sharp A" in texts
    assert "A B C D E F G A" not in texts


def test_a_scale_put_as_in_another_clef_stays_on_the_stave():
    """A pupil who reads the bass clef for the treble writes on the stave, and the printed signature holds there too."""
    named = {one.name: one for one in KIND.slips(facts("E flat", "major", "down", signature="printed"))}
    wrong = named["placed as in the bass clef"].value[0].notes
    # E flat in the bass clef is in the 3rd space, where the treble clef has C (common practice).
    assert [(note.step, note.octave, note.accidental) for note in wrong[:3]] == [
        ("C", 5, None),
        ("B", 4, None),
        ("A", 4, None),
    ]


def test_the_working_ends_with_the_semitones():
    """Semitones: 3-4 and 7-8 in major, 2-3 and 5-6 in natural minor, 7-8 too in harmonic (Gehrkens 1914, scales)."""
    last = {form: KIND.work(facts("D", form, "up"), "usual")[-1].text for form in ("major", "harmonic minor")}
    assert last["major"].endswith("degrees 3 and 4, 7 and 8.")
    assert last["harmonic minor"].endswith("degrees 2 and 3, 5 and 6, 7 and 8.")
    both = KIND.work(facts("D", "melodic minor", "both"), "usual")[-1].text
    assert both.endswith("2 and 3, 7 and 8 going up, 2 and 3, 5 and 6 coming down.")


def test_every_slip():
    words = {one.name: one.text for one in KIND.slips(facts("E", "melodic minor", "both"))}
    assert words["melodic same both ways"] == "E F sharp G A B C sharp D sharp E D sharp C sharp B A G F sharp E"
    assert words["raised 7th forgotten"] == "E F sharp G A B C D E D C B A G F sharp E"
    assert words["harmonic for melodic"] == "E F sharp G A B C D sharp E D sharp C B A G F sharp E"
    assert words["accidentals forgotten"] == "E F G A B C D E D C B A G F E"
    assert words["major for minor"].startswith("E F sharp G sharp A B C sharp D sharp E")
    assert words["placed as in the bass clef"].startswith("C D sharp E F G")
    harmonic = {one.name: one.text for one in KIND.slips(facts("D", "harmonic minor", "down"))}
    assert harmonic["raised 7th forgotten"] == "D C B flat A G F E D"
    assert harmonic["6th raised as well"] == "D C sharp B A G F E D"
    assert harmonic["wrong direction"] == "D E F G A B flat C sharp D"
    natural = {one.name: one.text for one in KIND.slips(facts("D", "natural minor", "up"))}
    assert natural["7th raised"] == "D E F G A B flat C sharp D"
    major = {one.name: one.text for one in KIND.slips(facts("D", "major", "up"))}
    assert major["7th a semitone too low"] == "D E F sharp G A B C D"
    assert major["minor for major"] == "D E F G A B flat C sharp D"
    assert major["one sign too many"] == "D E F sharp G sharp A B C sharp D"


def test_a_written_signature_is_a_part_of_the_answer():
    asked_for = facts("D", "major", "up", "write")
    right = KIND.solve(asked_for)[0].value[0]
    slips = {one.name: one.value[0] for one in KIND.slips(asked_for)}
    assert right.signature == 2
    assert slips["accidentals forgotten"].signature == 0
    assert slips["one sign too many"].signature == 3
    assert all(note.accidental is None for note in slips["one sign too many"].notes)


M21 = {
    "major": music21.scale.MajorScale,
    "natural minor": music21.scale.MinorScale,
    "harmonic minor": music21.scale.HarmonicMinorScale,
    "melodic minor": music21.scale.MelodicMinorScale,
}


def test_music21_writes_the_same_scales():
    checked = 0
    for _, draft in drafts("write-the-scale", 40):
        shown = draft.facts
        if shown.direction == "both":
            continue
        form = "harmonic minor" if shown.form == EITHER else shown.form
        tonic = shown.tonic.replace(" sharp", "#").replace(" flat", "-")
        low = music21.pitch.Pitch(f"{tonic}{shown.octave}")
        falling = shown.direction == "down"
        way = music21.scale.Direction.DESCENDING if falling else music21.scale.Direction.ASCENDING
        found = M21[form](low).getPitches(low, low.transpose(12), direction=way)
        names = {str(p.nameWithOctave) for p in found}
        right = KIND.solve(shown)[0].value[0]
        row = KIND.draw(shown, right)
        mine = {note.pitch.short.replace("b", "-") for note in row.notes()}
        assert mine == names, shown
        checked += 1
    assert checked > 100


def test_questions_are_fair():
    count = 0
    for _, draft, question in asked("write-the-scale", 20):
        count += 1
        options = getattr(question.response[0], "options", ())
        for option in options:
            assert faults(score_of(option.score)) == []
        low, high = scope_for(question.grade).range_of(draft.facts.clef)
        right = KIND.solve(draft.facts)[0].value[0]
        places = [note.pitch.diatonic for note in KIND.draw(draft.facts, right).notes()]
        assert low.diatonic <= min(places)
        assert max(places) <= high.diatonic
    assert count == 20 * 5 * 2


def test_the_pool_counts_what_can_be_set():
    found = {repr(draft.facts) for _, draft in drafts("write-the-scale", 3000, grades=(1,))}
    assert kind("write-the-scale").pool(scope_for(1)) == len(found)


def test_any_answer_can_be_drawn():
    odd = Value(notes=(WrittenNote("F", octave=2, type="nonsense", accidental="odd"),), clef="none", signature=-3)
    assert faults(KIND.draw(facts(), odd)) == []
    assert faults(KIND.draw(facts(), Value(notes=()))) == []


def test_the_rules_of_all_kinds():
    keeps_the_rules("write-the-scale")


def test_setter_and_solver_spell_every_scale_alike():
    """Tones and semitones letter by letter (setter) give what the line of fifths gives (solver), in all thirty keys."""
    for key in ALL_KEYS:
        for form in ("natural minor", "harmonic minor", "melodic minor") if key.is_minor else ("major",):
            for direction in ("up", "down", "both"):
                assert spelled(key.tonic, form, direction) == names_of(scale_row(key.tonic, form, direction, 4))

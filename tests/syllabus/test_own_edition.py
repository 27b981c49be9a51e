"""A teacher's own edition: what it says, and what is said about its faults."""

from __future__ import annotations

from pathlib import Path

import pytest

from stavewright.syllabus.edition import edition
from stavewright.syllabus.errors import BadSyllabus, UnknownEdition
from stavewright.syllabus.own_edition import read_edition

BOTH = ("written", "on-screen")
OURS = b"""
id = "our-school"
title = "Our school"
minutes = [40, 45, 50, 55, 60]
[marks]
notes = 20
scales = [0, 0, 30, 30, 30]
[forms]
scales = "on-screen"
name-the-note = ["written", "on-screen"]
[retired]
which-clef = "not in our lessons"
"""


def test_what_the_file_says_goes_before_its_base() -> None:
    """Marks, minutes, forms and retired kinds are as the file says, one number or one a grade."""
    found = read_edition(OURS, 3)
    assert (found.id, found.title, found.minutes) == ("our-school", "Our school", 50)
    assert found.marks == {"notes": 20, "scales": 30}
    assert read_edition(OURS, 1).marks == {"notes": 20}
    assert found.forms_of("write-the-scale", "scales", BOTH) == ("on-screen",)
    assert found.forms_of("name-the-note", "notes", BOTH) == BOTH
    assert found.forms_of("write-the-note", "notes", BOTH) == ("written",)
    assert found.forms_of("which-clef", "notes", BOTH) == ()
    assert found.reason("which-clef", "notes") == "not in our lessons"


def test_what_the_file_leaves_out_is_as_in_the_base() -> None:
    """An edition that says only its name is its base under another name."""
    found, base = read_edition(b'id = "ours"\nbase = "on-screen"', 4), edition("on-screen", 4)
    assert (found.marks, found.minutes, found.forms) == (base.marks, base.minutes, base.forms)


def test_only_some_kinds() -> None:
    """`kinds` are the only ones asked."""
    found = read_edition(b'id = "ours"\nkinds = ["name-the-note"]', 2)
    assert found.forms_of("name-the-note", "notes", BOTH) == ("written",)
    assert found.forms_of("write-the-note", "notes", BOTH) == ()
    assert found.reason("write-the-note", "notes") == "not among the kinds of ours"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("id = ", "not TOML"),
        ("title = 'x'", "missing required field `id`"),
        ('id = "Our School"', "id"),
        ('id = "ours"\ncolour = "red"', "unknown field `colour`; an edition has the fields id, base"),
        ('id = "ours"\nbase = "spoken"', "base: no edition 'spoken'"),
        ('id = "written"', "give yours a name of its own"),
        ('id = "ours"\n[marks]\nspeling = 10', "no topic 'speling': the topics are notes, values"),
        ('id = "ours"\n[marks]\nnotes = [1, 2]', "marks, notes: 2 numbers; give one number, or one for each of the 5"),
        ('id = "ours"\n[marks]\nnotes = -5', "-5 is not 0 to 200"),
        ('id = "ours"\n[marks]\nnotes = 0', "add up to 0"),
        ('id = "ours"\nminutes = 0', "minutes: 0 is not 1 to 600"),
        ('id = "ours"\n[forms]\nnotes = "spoken"', "forms, notes: no edition 'spoken'"),
        ('id = "ours"\n[forms]\nnotes = []', "name at least one edition"),
        ('id = "ours"\n[retired]\nwhich-clef = ""', "retired"),
    ],
)
def test_faults_are_named(text: str, said: str) -> None:
    """A fault says where it is and what would be right."""
    with pytest.raises(BadSyllabus) as fault:
        read_edition(text.encode(), 3, "ours.toml")
    assert said in str(fault.value)
    assert str(fault.value).startswith("ours.toml")


def test_all_faults_are_told_together() -> None:
    """Two faults are two lines to mend, told at once."""
    with pytest.raises(BadSyllabus) as fault:
        read_edition(b'id = "written"\n[marks]\nspeling = 10\n[forms]\nkeys = "spoken"', 3)
    assert all(word in str(fault.value) for word in ("name of its own", "speling", "spoken"))


def test_bytes_that_are_no_text_are_refused() -> None:
    """A file that is not UTF-8 is refused with a name, not with a crash."""
    with pytest.raises(BadSyllabus, match="UTF-8"):
        read_edition(b"\xff\xfe", 3)


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_a_mix_has_half_of_each(grade: int) -> None:
    """A mix has a hundred marks, each topic within half a mark of half-way, and the forms of both."""
    mix = edition("written+on-screen", grade)
    one, other = edition("written", grade), edition("on-screen", grade)
    assert mix.total == 100
    for topic in {*one.marks, *other.marks}:
        half = (one.marks.get(topic, 0) + other.marks.get(topic, 0)) / 2
        assert abs(mix.marks.get(topic, 0) - half) <= 0.5
    assert mix.forms_of("name-the-note", "notes", BOTH) == BOTH
    assert mix.forms_of("copy-the-bars", "notes", ("written",)) == ("written",)


def test_a_mix_of_something_unknown_is_refused() -> None:
    """Only editions that there are can be mixed, each once."""
    for name in ("written+spoken", "written+written", ""):
        with pytest.raises(UnknownEdition, match="written"):
            edition(name, 3)


def test_the_example_in_the_docs_is_sound() -> None:
    """The edition shown in docs/editions.md is read at every grade, and has a hundred marks."""
    page = (Path(__file__).parents[2] / "docs" / "editions.md").read_text("utf-8")
    example = page.split("```toml\n")[1].split("```")[0]
    for grade in (1, 2, 3, 4, 5):
        found = read_edition(example.encode(), grade)
        assert found.total == 100
        assert found.forms_of("name-the-note", "notes", BOTH) == BOTH

"""Editions compared: forms, reasons, kinds retired."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from papers.small_papers import drawn, paper_of, posed
from stavewright.cli.main import cli
from stavewright.papers.offer import offers
from stavewright.papers.rotation import Rotation
from stavewright.questions.catalogue import kinds
from stavewright.services.choose_edition import choose_edition, own_edition
from stavewright.services.compare_editions import COUNTS, GONE, OTHER_FORM, compare, standing
from stavewright.services.documents import as_json
from stavewright.services.set_paper import set_paper
from stavewright.syllabus.edition import EDITIONS, edition
from stavewright.syllabus.errors import BadSyllabus, UnknownEdition
from stavewright.wiring import composed_melodies, music_writer


def test_every_kind_is_asked_or_has_a_reason() -> None:
    """In each edition a kind has a form, or a reason why it is not asked."""
    rows = compare(5)
    assert {row.id for row in rows} == set(kinds())
    for row in rows:
        for name in EDITIONS:
            assert (name in row.forms) != bool(row.reasons.get(name))


def test_a_retired_kind_is_not_set(monkeypatch) -> None:
    """A kind retired from an edition is not set in it, and the comparison says why."""
    from stavewright.syllabus import edition as editions

    def gone(edition: str) -> dict[str, str]:
        return {"which-clef": "no longer asked"} if edition == "written" else {}

    monkeypatch.setattr(editions, "retired", gone)
    written, screen = (editions.edition.__wrapped__(name, 3) for name in EDITIONS)
    assert "which-clef" not in {one.kind for one in offers(3, written)}
    assert "which-clef" in {one.kind for one in offers(3, screen)}
    row = next(one for one in compare(3, (written, screen)) if one.id == "which-clef")
    assert row.reasons == {"written": "no longer asked"}


def test_the_command_prints_both_editions() -> None:
    """`stavewright editions` names both editions and what differs, also as JSON."""
    shown = CliRunner().invoke(cli, ["editions", "--grade", "3"])
    assert "written: pen and paper" in shown.output
    assert "on-screen: on a screen" in shown.output
    document = json.loads(CliRunner().invoke(cli, ["editions", "--grade", "3", "--json"]).output)
    assert {one["id"] for one in document["editions"]} == set(EDITIONS)


OURS = b"""
id = "our-school"
title = "Our school"
[marks]
notes = 14
intervals = 10
keys = 10
[forms]
intervals = "on-screen"
[retired]
which-clef = "not in our lessons"
"""


def made(grade: int, chosen, seed: int = 1):
    return set_paper(
        grade=grade, edition=Rotation(chosen), seed=seed, melodies=composed_melodies(), write_music=music_writer()
    )


def test_a_paper_of_ones_own_edition() -> None:
    """Its marks, its forms, and none of what it leaves out."""
    paper = made(3, own_edition(OURS, 3, "ours.toml"))
    assert (paper.edition, paper.total, paper.id) == ("our-school", 34, "grade-3-our-school-1")
    by_topic = {"notes": 0, "intervals": 0, "keys": 0}
    for question in paper.questions():
        by_topic[question.topic] += question.marks
        assert question.edition == ("on-screen" if question.topic == "intervals" else "written")
        assert question.kind != "which-clef"
    assert by_topic == {"notes": 14, "intervals": 10, "keys": 10}


@pytest.mark.parametrize("grade", [1, 3, 5])
def test_a_mixed_paper_has_forms_of_both(grade: int) -> None:
    """A mix uses the forms of both editions, in about equal parts, and still no facts twice."""
    paper = made(grade, choose_edition(["on-screen", "written"], grade))
    marks = dict.fromkeys(EDITIONS, 0)
    for question in paper.questions():
        marks[question.edition] += question.marks
    assert paper.edition == "written+on-screen"
    assert paper.total == 100
    assert min(marks.values()) >= 25
    asked = [(question.kind, bytes(question.facts)) for question in paper.questions()]
    assert len(set(asked)) == len(asked)


def test_wrong_names_in_an_edition_are_told() -> None:
    """A kind that there is not is answered with the near one; a file cannot be mixed with a name."""
    with pytest.raises(BadSyllabus, match=r"ours.toml: .*did you mean which-clef\?"):
        own_edition(b'id = "ours"\n[retired]\nwich-clef = "gone"', 3, "ours.toml")
    with pytest.raises(BadSyllabus, match="did you mean intervals"):
        own_edition(b'id = "ours"\n[forms]\ninterval = "written"', 3, "ours.toml")
    with pytest.raises(UnknownEdition, match="stands alone"):
        choose_edition(["written", ("ours.toml", OURS)], 3)


def test_what_still_counts_of_an_older_paper() -> None:
    """Each question of a written paper counts on the screen, is asked in another form, or is gone, with the reason."""
    paper = made(1, edition("written", 1))
    rows = standing(paper, (edition("written", 1), edition("on-screen", 1)))
    assert [row.id for row in rows] == [question.id for question in paper.questions()]
    for row in rows:
        assert row.stands["written"] == COUNTS
        forms = next(one.forms for one in compare(1) if one.id == row.kind)
        if "on-screen" not in forms:
            assert row.stands["on-screen"] == GONE
            assert row.reasons["on-screen"]
        elif forms["written"] == forms["on-screen"]:
            assert row.stands["on-screen"] == COUNTS
        else:
            assert row.stands["on-screen"] == OTHER_FORM
            assert row.reasons["on-screen"] == f"was {forms['written']}, is now {forms['on-screen']}"
    assert {row.stands["on-screen"] for row in rows} == {COUNTS, GONE, OTHER_FORM}


def test_a_kind_of_an_earlier_grade_or_for_practice_no_longer_counts() -> None:
    """What papers of a grade do not set does not count, and the reason says until when it was asked."""
    questions = [
        posed(name, drawn(name, grade=4), id=f"q{number}", grade=4)
        for number, name in enumerate(("interval-number", "invert-the-interval"), 1)
    ]
    rows = {row.kind: row for row in standing(paper_of(questions, grade=4), (edition("written", 4),))}
    assert rows["interval-number"].stands == {"written": GONE}
    assert rows["interval-number"].reasons == {"written": "papers ask it up to grade 2 only"}
    assert rows["invert-the-interval"].reasons["written"].startswith("for practice")


def test_the_command_tells_what_still_counts(tmp_path) -> None:
    """`stavewright editions --paper` names every question; also as JSON; a broken name is refused."""
    file = tmp_path / "paper.json"
    file.write_bytes(as_json(made(1, edition("written", 1))))
    shown = CliRunner().invoke(cli, ["editions", "--paper", str(file), "--edition", "on-screen"])
    assert "of 100 marks still count as they stand" in shown.output
    assert "is now choice" in shown.output
    rows = json.loads(CliRunner().invoke(cli, ["editions", "--paper", str(file), "--json"]).output)
    assert set(rows[0]["stands"]) == set(EDITIONS)
    assert "name both to mix" in CliRunner().invoke(cli, ["editions", "--grade", "1", "--edition", "speaking"]).output


def test_the_command_sets_papers_of_any_mix(tmp_path) -> None:
    """`stavewright paper` takes two editions, or a file; a parallel of a paper of one's own needs the file again."""
    ours = tmp_path / "ours.toml"
    ours.write_bytes(OURS)
    base = ["paper", "--json-only", "--out", str(tmp_path)]
    mixed = CliRunner().invoke(cli, [*base, "--grade", "2", "--edition", "written", "--edition", "on-screen"])
    assert "grade-2-written+on-screen-1.json" in mixed.output
    own = CliRunner().invoke(cli, [*base, "--grade", "2", "--edition", str(ours)])
    assert "grade-2-our-school-1.json" in own.output
    paper = tmp_path / "grade-2-our-school-1.json"
    assert "name its file" in CliRunner().invoke(cli, [*base, "--like", str(paper)]).output
    again = CliRunner().invoke(cli, [*base, "--like", str(paper), "--edition", str(ours)])
    assert "grade-2-our-school-2.json" in again.output

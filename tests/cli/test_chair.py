"""`stavewright chair`: from a paper to a script to be marked, and from a pupil's findings to a judgement."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner

from stavewright.cli.chair import chair
from stavewright.papers.documents import Paper, Section
from stavewright.questions.asking import full
from stavewright.services.documents import as_json, read_chair
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies


def test_a_script_is_set_printed_and_its_marking_judged(tmp_path: Path) -> None:
    made = tuple(
        full(one)
        for one in set_questions(
            kind="name-the-interval", grade=4, edition="written", count=4, seed=5, melodies=composed_melodies()
        )
    )
    total = sum(one.marks for one in made)
    paper = Paper(
        id="p", grade=4, edition="written", seed=5, words="uk", total=total, time_minutes=5,
        sections=(Section("intervals", "Intervals", made),),
    )  # fmt: skip
    (tmp_path / "p.json").write_bytes(as_json(paper))
    got = CliRunner().invoke(chair, ["set", str(tmp_path / "p.json"), "--share", "1", "--out", str(tmp_path / "c")])
    assert got.exit_code == 0, got.output
    assert (tmp_path / "c" / "p-chair-1.pdf").read_bytes().startswith(b"%PDF")
    made_chair = read_chair((tmp_path / "c" / "p-chair-1.json").read_bytes())
    judged = {one.id: {"right": False, "slip": "a"} for one in made_chair.questions}
    (tmp_path / "f.json").write_text(json.dumps({"chair": "p-chair-1", "judged": judged}))
    files = [str(tmp_path / name) for name in ("p.json", "c/p-chair-1.json", "f.json")]
    got = CliRunner().invoke(chair, ["mark", *files])
    assert got.exit_code == 0, got.output
    assert "4 of 4 wrong answers found" in got.output.splitlines()[0]
    as_document = json.loads(CliRunner().invoke(chair, ["mark", *files, "--json"]).output)
    assert as_document["of"] == 8
    assert as_document["total"] == 4 + as_document["named"]

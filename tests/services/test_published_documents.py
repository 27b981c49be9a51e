"""Every document the commands print is valid: JSON by docs/schema, MusicXML by the published schema."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import msgspec
import pytest
from jsonschema import Draft202012Validator

from exchange.published_schema import faults_of
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.questions.catalogue import kinds
from stavewright.questions.sheet import sheet
from stavewright.services.documents import as_json, read_paper, read_script
from stavewright.services.output import written_out
from stavewright.services.set_paper import set_paper
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies, music_writer

SCHEMAS = Path(__file__).parents[2] / "docs" / "schema"
CASES = [(kind.id, grade) for kind in kinds().values() for grade in sorted({kind.since, 5})]
PAPERS = [(1, "written"), (3, "on-screen"), (5, "written"), (5, "on-screen")]


@lru_cache(maxsize=8)
def validator(name: str) -> Draft202012Validator:
    schema = json.loads((SCHEMAS / f"{name}.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def faults(document: bytes, name: str) -> list[str]:
    """What the published schema finds wrong with a document."""
    return [f"{one.json_path}: {one.message[:200]}" for one in validator(name).iter_errors(json.loads(document))]


def music(document: Any) -> Iterator[str]:
    """Every MusicXML document inside a JSON document."""
    if isinstance(document, dict):
        for key, value in document.items():
            if key == "musicxml" and value:
                yield value
            else:
                yield from music(value)
    elif isinstance(document, list):
        for value in document:
            yield from music(value)


@pytest.mark.parametrize(("kind", "grade"), CASES)
def test_questions_are_valid(kind: str, grade: int) -> None:
    """Stored question, teacher's view and pupil's sheet, in both editions and both words."""
    write = music_writer()
    for edition in kinds()[kind].forms:
        for words in ("uk", "us"):
            (question,) = set_questions(
                kind=kind, grade=grade, edition=edition, count=1, seed=50, melodies=composed_melodies(), words=words
            )
            printed = msgspec.json.encode(written_out(question, write))
            assert faults(printed, "question") == []
            assert faults(msgspec.json.encode(question), "stored-question") == []
            assert faults(msgspec.json.encode(sheet(question)), "sheet") == []
            for written in music(json.loads(printed)):
                assert faults_of(written) == []


@pytest.mark.parametrize(("grade", "edition"), PAPERS)
def test_papers_scripts_and_reports_are_valid(grade: int, edition: str) -> None:
    """What `paper`, `script` and `mark --json` write; and each is read back as it was."""
    paper = set_paper(grade=grade, edition=edition, seed=4, melodies=composed_melodies(), write_music=music_writer())
    assert faults(as_json(paper), "paper") == []
    assert as_json(read_paper(as_json(paper))) == as_json(paper)
    for written in music(json.loads(as_json(paper))):
        assert faults_of(written) == []
    for ability in (-3.0, 0.0, 3.0):
        script = fill(paper, ability=ability, seed=1)
        assert faults(as_json(script), "script") == []
        assert read_script(as_json(script)) == script
        assert faults(as_json(mark_script(paper, script)), "report") == []


@pytest.mark.parametrize(
    ("name", "document"),
    [
        ("script", b'{"paper": "g3", "answers": {"q1": [{"words": "F", "number": 3}]}}'),
        ("script", b'{"paper": "g3", "answers": {"q1": [{}]}}'),
        ("script", b'{"paper": "g3", "answers": {}, "admin": true}'),
        ("script", b'{"paper": "g3", "answers": {"q1": [{"notes": [{"step": "C", "octave": 99}]}]}}'),
        ("value", b'{"number": "3"}'),
        ("sheet", b'{"id": "q1", "marks": 1, "prompt": [], "response": [], "facts": {}}'),
    ],
)
def test_the_schemas_refuse_what_the_program_refuses(name: str, document: bytes) -> None:
    """The published schemas are as strict as the reader: closed, bounded, one form an answer."""
    assert faults(document, name)

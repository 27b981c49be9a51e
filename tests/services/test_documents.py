"""Documents from outside: broken and hostile ones are refused with a name and a place, never half read."""

from __future__ import annotations

import json

import pytest

from stavewright.questions.errors import BadAnswer, BadDocument
from stavewright.questions.values import Value
from stavewright.services.documents import read_decisions, read_findings, read_paper, read_script, read_value

HOSTILE = {
    "empty": b"",
    "not JSON": b"%PDF-1.7",
    "not UTF-8": b'{"paper": "\xff\xfe"}',
    "cut off": b'{"paper": "g3", "answers": {',
    "a list": b"[]",
    "a number": b"7",
    "deep brackets": b"[" * 100_000,
    "deep objects": b'{"paper":' * 50_000,
    "unknown field": b'{"paper": "g3", "answers": {}, "admin": true}',
    "missing field": b'{"answers": {}}',
    "wrong type": b'{"paper": 3, "answers": {}}',
    "answers not lists": b'{"paper": "g3", "answers": {"q1": {"words": "F"}}}',
    "two forms": b'{"paper": "g3", "answers": {"q1": [{"words": "F", "number": 3}]}}',
    "no form": b'{"paper": "g3", "answers": {"q1": [{}]}}',
    "huge number": b'{"paper": "g3", "answers": {"q1": [{"number": 99999999999999999999}]}}',
    "NaN": b'{"paper": "g3", "answers": {"q1": [{"number": NaN}]}}',
    "number as text": b'{"paper": "g3", "answers": {"q1": [{"number": "3"}]}}',
    "long words": b'{"paper": "g3", "answers": {"q1": [{"words": "' + b"a" * 501 + b'"}]}}',
    "long id": b'{"paper": "' + b"g" * 81 + b'", "answers": {}}',
    "octave out of bounds": b'{"paper": "g", "answers": {"q1": [{"notes": [{"step": "C", "octave": 99}]}]}}',
    "step out of bounds": b'{"paper": "g", "answers": {"q1": [{"notes": [{"step": "H"}]}]}}',
    "step with a newline": b'{"paper": "g", "answers": {"q1": [{"notes": [{"step": "C\\n"}]}]}}',
}


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_broken_script_is_refused_by_name(data: bytes) -> None:
    """Whatever is wrong, the error is a named one and says that it is the script."""
    with pytest.raises(BadDocument, match="script"):
        read_script(data)


def test_a_broken_paper_is_refused_by_name() -> None:
    """A paper without sections, or with a kind that does not exist, is refused."""
    with pytest.raises(BadDocument, match="paper"):
        read_paper(b"{}")
    with pytest.raises(BadDocument, match="sections"):
        read_paper(
            json.dumps(
                {
                    "id": "g3",
                    "grade": 3,
                    "edition": "written",
                    "seed": 1,
                    "words": "uk",
                    "total": 100,
                    "time_minutes": 90,
                    "sections": [],
                }
            ).encode()
        )


def test_too_large_a_document_is_not_even_parsed() -> None:
    """A document over the limit is refused by its size."""
    with pytest.raises(BadDocument, match="bytes"):
        read_script(b" " * (33 * 1024 * 1024))


def test_a_value_holds_one_form() -> None:
    """An answer is in exactly one response form."""
    assert read_value(b'{"number": 5}') == Value(number=5)
    with pytest.raises(BadAnswer, match="exactly one"):
        Value(number=5, words="5")
    with pytest.raises(BadAnswer, match="nothing"):
        Value()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "script: the file is empty"),
        (b" \n", "script: the file is empty"),
        (b"%PDF-1.7", "script: this is a PDF, for people to read: give the .json file of the script"),
        (b'{"id": "g3", "sections": []}', "script: this is a paper: give the .json file of the script"),
        (b'{"id": "g3", "script": {}, "questions": []}', "script: this is a chair: give the .json file of the script"),
        (b'{"paper": "g3", "by_topic": {}}', "script: this is a report: give the .json file of the script"),
        (b'{"chair": "c", "judged": {}}', "script: this is a list of findings: give the .json file of the script"),
    ],
)
def test_one_document_for_another_is_called_by_its_name(data: bytes, said: str) -> None:
    """A careless hand gives the PDF, or the paper twice: the message says what was given and what is wanted."""
    with pytest.raises(BadDocument) as refused:
        read_script(data)
    assert str(refused.value) == said


def test_the_message_names_the_question() -> None:
    """The decoder puts dots where the question's id stands; a person who typed the file needs the id."""
    with pytest.raises(BadDocument, match=r"\$\['q12'\]\['balance'\]\.marks|\$\['q12'\]"):
        read_decisions(b'{"q3": {}, "q12": {"balance": {"marks": -1}}}')
    with pytest.raises(BadDocument, match=r"\$\.judged\['q2'\]\.slip"):
        read_findings(b'{"chair": "c", "judged": {"q1": {"right": true}, "q2": {"right": false, "slip": "zz"}}}')
    with pytest.raises(BadDocument, match=r"\$\.answers\['q2'\]\[0\]"):
        read_script(b'{"paper": "g", "answers": {"q1": [{"words": "F"}], "q2": [{"words": 5}]}}')

"""Documents: the score mirror round trips, the sheet is shut, unknown fields are refused."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given

from exchange.any_score import scores
from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.score.stave import Score


@given(scores())
def test_the_score_mirror_round_trips(score: Score) -> None:
    """A score stored as a document and read back is the same score."""
    stored = msgspec.json.encode(document_of(score))
    assert score_of(msgspec.json.decode(stored, type=ScoreDocument)) == score


def test_unknown_fields_of_a_score_are_refused() -> None:
    """A closed document refuses what it does not know, at any depth."""
    good = {"staves": [{"clef": "treble", "bars": [{"voices": [[{"is": "rest", "value": "crotchet"}]]}]}]}
    assert msgspec.convert(good, ScoreDocument)
    good["staves"][0]["bars"][0]["voices"][0][0]["colour"] = "red"  # type: ignore[index]
    with pytest.raises(msgspec.ValidationError, match="colour"):
        msgspec.convert(good, ScoreDocument)


@pytest.mark.parametrize(
    "event",
    [
        {"is": "note", "step": "C", "value": "crochet"},
        {"is": "note", "step": "C", "value": "crotchet", "accidental": "cross"},
        {"is": "note", "step": "C", "value": "crotchet", "marks": ["smile"]},
        {"is": "note", "step": "C", "value": "crotchet", "grace": "slash"},
    ],
)
def test_well_formed_nonsense_is_refused(event: dict[str, object]) -> None:
    """A document of the right shape that is not music is refused by name."""
    document = {"staves": [{"clef": "treble", "bars": [{"voices": [[event]]}]}]}
    with pytest.raises(BadDocument):
        score_of(msgspec.convert(document, ScoreDocument))

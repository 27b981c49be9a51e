"""Single questions of one kind."""

from __future__ import annotations

import pytest

from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import TextBlock
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies


@pytest.mark.parametrize("kind", [id_ for id_ in kinds() if kind_of(id_).extract])
def test_an_extract_names_its_source(kind: str) -> None:
    """Music is shown with its composer or collection, in single questions as in papers (credits are owed)."""
    for question in set_questions(kind=kind, grade=5, edition="written", count=4, seed=1, melodies=composed_melodies()):
        said = [block.text for block in question.prompt if isinstance(block, TextBlock)]
        assert sum("composed by" in text for text in said) == 1

"""The figures: whole with the last go and not before, well-formed, said in words, drawn by us alone."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from stavewright.recall.errors import BadMove
from stavewright.recall.figures import FIGURES

NAMES = st.sampled_from(sorted(FIGURES))


@given(NAMES, st.integers(1, 26))
def test_the_figure_grows_with_every_go_and_is_whole_with_the_last(name: str, goes: int) -> None:
    """No part stands before a letter was wrong, the last go completes the figure, and no stage takes parts away."""
    figure = FIGURES[name]
    stages = [figure.standing(stage, goes) for stage in range(goes + 1)]
    assert stages[0] == ()
    assert len(stages[-1]) == len(figure.parts)
    assert all(before == after[: len(before)] for before, after in pairwise(stages))
    if goes <= len(figure.parts):
        assert all(len(before) < len(after) for before, after in pairwise(stages))


@given(NAMES, st.integers(1, 13), st.data())
def test_every_stage_is_sound_svg_with_words(name: str, goes: int, data: st.DataObject) -> None:
    """Each stage is well-formed SVG with title and description, and draws just the parts that stand."""
    stage = data.draw(st.integers(0, goes))
    figure = FIGURES[name]
    root = etree.fromstring(figure.svg(stage, goes))
    space = "{http://www.w3.org/2000/svg}"
    assert root.find(f"{space}title").text == f"The {name}"
    assert root.find(f"{space}desc").text == figure.said(stage, goes)
    assert "href" not in etree.tostring(root).decode()
    (group,) = root.findall(f"{space}g")
    assert (len(group) > 0) == (stage > 0)


def test_a_stage_the_game_does_not_have_is_refused() -> None:
    with pytest.raises(BadMove, match="no stage 9"):
        FIGURES["fiddle"].standing(9, 8)

"""Things to join get the room they need: no text runs into the lines between the two sides."""

from __future__ import annotations

from stavewright.engraving.layout import Choice, Pairs
from stavewright.engraving.measuring import height_of, width_of

CHAR = 1.95
LEFT = (Choice("a", "Al niente"), Choice("b", "Tremolo"), Choice("c", "Fine"))
RIGHT = (Choice("a", "the end"), Choice("b", "quick repetition, trembling"), Choice("c", "fading to nothing"))


def test_both_sides_have_room_for_the_longest() -> None:
    """The template gives both sides one width and 34 mm between them."""
    longest = len("quick repetition, trembling") * CHAR
    assert width_of(Pairs(LEFT, RIGHT), CHAR) > 2 * longest + 34
    assert width_of(Pairs(LEFT, LEFT), CHAR) < width_of(Pairs(LEFT, RIGHT), CHAR)


def test_more_things_take_more_height() -> None:
    assert height_of([Pairs(LEFT, RIGHT)], CHAR) > height_of([Pairs(LEFT[:2], RIGHT[:2])], CHAR) > 2 * 2 * CHAR

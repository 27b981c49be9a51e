"""Planting a fault in the program for the length of one test: in a record of a kind, or in a module's function."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import msgspec
import pytest

from stavewright.questions.catalogue import kind as kind_of

QUESTIONS = "stavewright.questions"
FAULTS: list[Fault] = []
"""Every planted fault, as the modules beside this one plant them."""


@dataclass(frozen=True)
class Fault:
    """What is planted, in which kind it must show, and the words of the problem that must be told."""

    name: str
    kind: str
    grade: int
    edition: str
    plant: Callable[[Ground], None]
    told: str


def fault(name: str, kind: str, grade: int, told: str, edition: str = "written") -> Callable[..., None]:
    """Keep the function below as a planted fault."""

    def keep(plant: Callable[[Ground], None]) -> None:
        # pytest, looking for examples, may run a file once more under a longer module name: the same lines, one fault.
        here = (plant.__code__.co_filename, plant.__code__.co_firstlineno)
        if here not in {(one.plant.__code__.co_filename, one.plant.__code__.co_firstlineno) for one in FAULTS}:
            FAULTS.append(Fault(name, kind, grade, edition, plant, told))

    return keep


def replaced(facts: Any, **changes: Any) -> Any:
    return msgspec.structs.replace(facts, **changes)


def a_beat_too_long(ticks: Any) -> Any:
    """The length of a bar, wrong for 3/4 alone."""
    return property(lambda time: ticks.__get__(time) * (4 if (time.beats, time.unit) == (3, 4) else 3) // 3)


@dataclass
class Ground:
    """Where faults are planted; `clear` takes every one out again."""

    monkeypatch: pytest.MonkeyPatch
    undo: list[Callable[[], None]] = field(default_factory=list)

    def kind(self, id_: str, name: str, make: Callable[[Any], Any]) -> None:
        """Replace one field of a frozen kind by what `make` makes of it."""
        self.value(kind_of(id_), name, make)

    def value(self, one: Any, name: str, make: Callable[[Any], Any]) -> None:
        """Replace one field of any frozen value."""
        sound = getattr(one, name)
        self.undo.append(lambda: object.__setattr__(one, name, sound))
        object.__setattr__(one, name, make(sound))

    def code(self, place: str, make: Callable[[Any], Any]) -> None:
        """Replace what stands at a dotted place by what `make` makes of it."""
        owner, _, name = place.rpartition(".")
        target = _resolved(owner)
        sound = target.__dict__[name] if isinstance(target, type) else getattr(target, name)
        self.monkeypatch.setattr(target, name, make(sound))

    def clear(self) -> None:
        while self.undo:
            self.undo.pop()()


def _resolved(place: str) -> Any:
    """The module, or the class in a module, at a dotted place."""
    from importlib import import_module

    try:
        return import_module(place)
    except ModuleNotFoundError:
        module, _, name = place.rpartition(".")
        return getattr(import_module(module), name)

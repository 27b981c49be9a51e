"""All question kinds, found by scanning `kinds/`: a new file there is a new kind, and nothing else changes."""

from __future__ import annotations

import difflib
import importlib
import pkgutil
from functools import lru_cache

from stavewright.questions import kinds as _kinds
from stavewright.questions.errors import UnknownKind
from stavewright.questions.kind import Kind


@lru_cache(maxsize=1)
def kinds() -> dict[str, Kind]:
    """Every kind by id, in id order.

    Raises:
        UnknownKind: a file of `kinds/` without a KIND, or whose id is not its file name.
    """
    found: dict[str, Kind] = {}
    for module in sorted(pkgutil.iter_modules(_kinds.__path__), key=lambda m: m.name):
        loaded = importlib.import_module(f"{_kinds.__name__}.{module.name}")
        one = getattr(loaded, "KIND", None)
        if not isinstance(one, Kind) or one.id != module.name.replace("_", "-"):
            raise UnknownKind(
                f"kinds/{module.name}.py needs a constant KIND whose id is {module.name.replace('_', '-')!r}"
            )
        found[one.id] = one
    return found


@lru_cache(maxsize=256)
def kind(id: str) -> Kind:
    """The kind with that id (only its own file is read).

    Raises:
        UnknownKind: naming near ids.

    >>> kind("name-the-note").topic
    'notes'
    """
    name = id.replace("-", "_")
    if name.isidentifier() and not name.startswith("_"):
        try:
            found = importlib.import_module(f"{_kinds.__name__}.{name}").KIND
        except ModuleNotFoundError:
            pass
        else:
            if isinstance(found, Kind) and found.id == id:
                return found
    names = [module.name.replace("_", "-") for module in pkgutil.iter_modules(_kinds.__path__)]
    near = difflib.get_close_matches(id, names, 3)
    hint = f"did you mean {' or '.join(near)}?" if near else "`stavewright kinds` lists them."
    raise UnknownKind(f"no question kind {id[:60]!r}: {hint}")

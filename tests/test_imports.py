"""What loads when: each check starts a fresh interpreter, since this one has long loaded everything."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parent.parent / "src" / "stavewright"
MUSIC = sorted([*(SOURCE / "theory").rglob("*.py"), *(SOURCE / "score").rglob("*.py")])

LIST_LOADED = "import sys, json; known = set(sys.modules); {code}; print(json.dumps(sorted(set(sys.modules) - known)))"
HEAVY = {"lxml", "msgspec", "music21", "numpy", "rapidfuzz", "rich", "sqlalchemy", "starlette", "typst", "verovio"}


def loaded_by(code: str) -> set[str]:
    """Top-level names of what a fresh interpreter has loaded after running this code."""
    answer = subprocess.run(
        [sys.executable, "-c", LIST_LOADED.format(code=code)], capture_output=True, text=True, check=True, timeout=60
    )
    return {name.partition(".")[0] for name in json.loads(answer.stdout.splitlines()[-1])}


@pytest.mark.parametrize("layer", ["theory", "score"])
def test_theory_and_score_load_the_standard_library_only(layer: str) -> None:
    """Every module of the two lowest layers together loads nothing that is not Python's own."""
    names = [
        ".".join(["stavewright", *file.relative_to(SOURCE).with_suffix("").parts])
        for file in MUSIC
        if layer in file.relative_to(SOURCE).parts and file.name != "__init__.py"
    ]
    assert names, f"no module found in {layer}"
    strangers = loaded_by("import " + ", ".join(names)) - sys.stdlib_module_names - {"stavewright"}
    assert strangers == set()


@pytest.mark.parametrize("file", MUSIC, ids=lambda file: str(file.relative_to(SOURCE)))
def test_theory_and_score_name_no_stranger_even_inside_functions(file: Path) -> None:
    """An import inside a function counts as much as one at the top."""
    named = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            named |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file.name} line {node.lineno}: imports are written in full"
            named.add((node.module or "").partition(".")[0])
    forbidden = {"random", "secrets", "time", "datetime", "os", "io", "pathlib", "uuid", "json", "importlib"}
    assert named <= (sys.stdlib_module_names | {"stavewright"}) - forbidden


@pytest.mark.parametrize("argument", ["--help", "--version"])
def test_help_loads_nothing_heavy(argument: str) -> None:
    """``stavewright --help`` answers before any engraver, reader or table is loaded."""
    loaded = loaded_by(f"from stavewright.cli.main import main; main([{argument!r}])")
    assert "click" in loaded
    assert loaded & HEAVY == set()


def test_a_heavy_import_would_be_seen() -> None:
    """The check above can fail: it sees a heavy module when one is loaded."""
    assert "lxml" in loaded_by("import lxml.etree") & HEAVY


@pytest.mark.parametrize(
    ("door", "behind"),
    [("door-engraving", {"engraving"}), ("door-xml", {"exchange", "tunes"}), ("door-later", set())],
)
def test_no_layer_is_left_out_of_a_door(door: str, behind: set[str]) -> None:
    """A heavy library has one door: every layer, the newest too, stands before it or is the door itself."""
    project = tomllib.loads((SOURCE.parent.parent / "pyproject.toml").read_text("utf-8"))
    [contract] = [one for one in project["tool"]["importlinter"]["contracts"] if one["id"] == door]
    before = {name.removeprefix("stavewright.") for name in contract["source_modules"]}
    layers = {one.parent.name for one in SOURCE.glob("*/__init__.py")} | {one.stem for one in SOURCE.glob("[a-z]*.py")}
    assert {"theory", "wiring"} <= layers
    allowed = {"storage", "web", "recall", "readiness"} if door == "door-later" else set()
    assert layers - before - behind - allowed == set()

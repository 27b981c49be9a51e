"""Every rule of docs/composing.md is the docstring of a test here."""

from __future__ import annotations

import ast
from pathlib import Path

HERE = Path(__file__).parent


def test_every_rule_has_its_test() -> None:
    """No rule is written down that nothing tests."""
    page = (HERE.parent.parent / "docs" / "composing.md").read_text("utf-8")
    rules = [line.removeprefix("- ") for line in page.splitlines() if line.startswith("- ")]
    tested = {
        ast.get_docstring(node)
        for path in HERE.glob("test_*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    }
    assert len(rules) > 25
    assert [rule for rule in rules if rule not in tested] == []

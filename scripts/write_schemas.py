"""Write the JSON Schema of every document to docs/schema/ (a test holds them up to date)."""

from __future__ import annotations

import json
from pathlib import Path

from stavewright.services.schemas import schemas

FOLDER = Path(__file__).parent.parent / "docs" / "schema"


def main() -> None:
    """Write them all."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, schema in schemas().items():
        (FOLDER / f"{name}.json").write_text(json.dumps(schema, indent=1, sort_keys=True) + "\n", "utf-8")


if __name__ == "__main__":
    main()

"""`make gallery` shows one card for every kind, with every picture said in words."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

from stavewright.questions.catalogue import kinds

SCRIPT = Path(__file__).parent.parent / "scripts" / "make_gallery.py"


def test_every_kind_has_one_card_and_a_link_to_it(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(SCRIPT), str(tmp_path)], check=True, capture_output=True)
    pages = {file.name: file.read_text("utf-8") for file in tmp_path.glob("*.html")}
    cards = [id_ for text in pages.values() for id_ in re.findall(r'<article class=card id="([^"]+)"', text)]
    assert sorted(cards) == sorted(kinds())
    links = re.findall(r'href="([^"#]+)#([^"]+)"', pages["index.html"])
    assert sorted(id_ for _, id_ in links) == sorted(kinds())
    assert all(f'id="{id_}"' in pages[file] for file, id_ in links)
    for text in pages.values():
        pictures = re.findall(r'<svg [^>]*role="img" aria-label="([^"]*)"', text)
        assert all(pictures), "a picture of music without words"
        assert "http" not in re.sub(r'xmlns(:\w+)?="[^"]*"', "", text), "a page stands alone"

"""Sets, works and marks graded music-theory papers, every answer worked afresh from the notes."""

from __future__ import annotations

__version__ = "0.1.0"

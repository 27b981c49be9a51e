"""Engraving: music as pictures (score to SVG) and papers as pages (documents to PDF)."""

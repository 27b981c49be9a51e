"""Drawn music and printed pages: the only door to Verovio and Typst."""

"""Music as a line of text: what a teacher types for a printed stave, read and written (docs/compact-music.md)."""

"""Real melodies, read in place from installed collections or a teacher's own folder."""

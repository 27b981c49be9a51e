"""Own melodies, rhythms and four-part writing, made by rule within what a grade may use."""

"""A question as a teacher types it: the facts of any kind read from words, and written as words."""

"""Keeping things in memory: the memory model, what to recall next, the drill of terms, the word game."""

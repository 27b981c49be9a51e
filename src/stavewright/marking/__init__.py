"""Marks for a pupil's answers: part marks, follow-through, and the slip behind a wrong answer."""

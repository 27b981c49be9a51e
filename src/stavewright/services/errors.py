"""What can go wrong in a use case besides the input it was given."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class NoCluster(StavewrightError):
    """Work was to run on a cluster that is not there, or whose library is not installed."""

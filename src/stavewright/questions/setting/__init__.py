"""What setters share: choosing facts that are fair to ask. Solvers never see it."""

"""What solvers share: working answers out afresh from the facts. Setters never see it."""

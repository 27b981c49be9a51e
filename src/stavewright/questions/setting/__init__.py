"""Drawing facts by chance within a scope: for setters only, never for solvers (an import contract holds them apart)."""

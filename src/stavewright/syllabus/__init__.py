"""Grades, scope, blueprints, terms and themes: data files and their typed loaders."""

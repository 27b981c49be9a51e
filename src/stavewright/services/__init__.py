"""One use case a file: what a person asks of the program, as one plain function."""

"""What a question is: kinds, blocks, response forms, answers, and one file for each kind."""

"""One file for each kind of question, each holding one constant ``KIND``; no kind leans on another."""

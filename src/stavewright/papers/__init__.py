"""Papers: the blueprint filled with questions, in balanced order, nothing asked or given away twice."""

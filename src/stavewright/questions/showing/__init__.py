"""Building what is printed: blocks, forms and scores for `pose` and `draw`."""

"""Question kinds, one file each: file name and id are the same word."""

"""Sizes of a book: the usual ones, and why each derived one is what it is."""

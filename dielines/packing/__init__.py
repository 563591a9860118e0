"""Boxes and shapes on as few sheets as can be, in whole units; nothing here knows a book."""

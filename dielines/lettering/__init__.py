"""Texts as single strokes of a pen, for machines that draw."""

"""Folded parts and bound books: order of layers, places, heights, thickness."""

"""Folded parts and books for other programs: FOLD 1.2 and glTF 2.0."""

"""How errors of cutting, scoring and taping add up in a book."""

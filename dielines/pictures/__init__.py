"""Pictures of folded parts and books, and of what was found wrong with them."""

"""The parts of a book on sheets of stock: layout, what it costs, and how to cut it by hand."""

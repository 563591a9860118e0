"""Which strips of the tape that a person owns fill the zones of a book."""

"""What must hold of a book before paper is cut; one rule a file in ``rules``."""

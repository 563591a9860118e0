"""The verbs of the template language, one a file; the folder is the list."""

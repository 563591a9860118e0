"""The rules: every file here is one, named for the fault that it finds."""

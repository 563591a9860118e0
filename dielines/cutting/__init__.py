"""What becomes of a drawing of a sheet before a machine cuts it, and in which order it is cut."""

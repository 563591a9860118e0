"""Real outlines on sheets: one whole number for each sheet, all free places found at once."""

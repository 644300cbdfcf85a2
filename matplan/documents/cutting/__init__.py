"""The cutting diagram: one board from its back, with what is set and cut."""

"""The sheet to take to the frame with a pencil: it has no job, and no place in a pack."""

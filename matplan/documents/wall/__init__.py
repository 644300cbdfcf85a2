"""Where frames hang: wall view and hanging list."""

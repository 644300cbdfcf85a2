"""What is cut from which stock sheet."""

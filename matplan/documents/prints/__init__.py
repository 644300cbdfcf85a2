"""What is printed: print sheet, caption insert, several prints on one sheet."""

"""The workbook that binds the documents."""

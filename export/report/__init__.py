"""The report: everything about a layup as one document, a file for each kind of chapter."""

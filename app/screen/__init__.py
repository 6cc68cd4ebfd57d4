"""What the commands print: plain text within 80 columns, one subject a file."""

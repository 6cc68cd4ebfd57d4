"""The bag: its size, its drape and its valve."""

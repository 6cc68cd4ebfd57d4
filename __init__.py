"""Underbag: see, size and draw a veneer layup before it goes under the vacuum bag."""

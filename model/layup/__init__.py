"""The layup: what was asked for, as one frozen record with every default filled in."""

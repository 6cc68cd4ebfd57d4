"""Reading layup files, with the place of everything that is wrong."""

"""The page at the bench: a layup's numbers, its picture, checks and papers, on this computer only."""

"""The form of a bend: the side that it lies on, what it is built of, and every board of it."""

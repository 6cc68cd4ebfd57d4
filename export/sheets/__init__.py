"""The sheets of a plan: what is drawn on each, from the primitives of the drawing model."""

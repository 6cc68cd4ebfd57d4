"""Documents to read: what they are made of, and how they are written as a page of HTML and as PDF."""

"""The values of a plan: what is measured or computed from it, one file a subject, each with its working."""

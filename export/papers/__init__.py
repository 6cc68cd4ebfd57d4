"""Papers: what hangs by the bench, and everything about a job in one document."""

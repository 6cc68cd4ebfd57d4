"""Text and screen: the command line and the reading of files."""

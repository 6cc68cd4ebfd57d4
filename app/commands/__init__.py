"""The commands of ``underbag``, one file each."""

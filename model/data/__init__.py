"""Tables of materials, defaults and limits, each row with its source and basis."""

"""What is known of a layup and computed from it; needs numpy and nothing else when imported."""

"""Plans, reports and scenes turned into bytes."""

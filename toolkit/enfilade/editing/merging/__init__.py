"""Two windows' changes brought together; what changed, in sentences."""

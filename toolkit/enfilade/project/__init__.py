"""The declared house: records, their file, and saving it."""

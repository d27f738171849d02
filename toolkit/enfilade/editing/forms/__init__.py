"""Fields read off the records, typed text read by them, rows added and removed."""

"""Rooms from the tape and from a scanned plan; walls taped again."""

"""Project in, findings out: one topic of the trade a module."""

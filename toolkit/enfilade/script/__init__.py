"""Lines to speak: figures bound to the record, and how they sound."""

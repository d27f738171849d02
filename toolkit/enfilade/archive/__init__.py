"""The studio's store: what was kept, found again, compared, and learnt from."""

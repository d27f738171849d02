"""Documents out."""

"""A run of cabinets and appliances, laid by typing widths."""

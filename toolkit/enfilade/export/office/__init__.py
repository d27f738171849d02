"""What the documents for an office program share."""

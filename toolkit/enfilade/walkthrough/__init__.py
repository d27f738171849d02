"""The walkthrough: what stands on each page, in which order, in sentences."""

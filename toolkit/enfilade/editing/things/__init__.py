"""What is added, where it stands, how it is moved, and the clear widths round it."""

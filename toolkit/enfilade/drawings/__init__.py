"""Project and findings in, one display list out; renderers only style it."""

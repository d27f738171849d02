"""Changes to the house, as pure functions: project in, project out."""

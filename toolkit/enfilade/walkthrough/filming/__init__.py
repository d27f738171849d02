"""The planning of shots: what each shows, where a camera can stand, through which lens, and what is in the way."""

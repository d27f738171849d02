"""A first draft of the script: what the record says of each room, in plain spoken sentences."""

from enfilade.walkthrough.drafting.draft import drafted

__all__ = ["drafted"]

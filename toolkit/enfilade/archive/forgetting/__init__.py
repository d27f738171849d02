"""A client who asks to be forgotten: names, addresses and photographs go out of every version, and what remains is
said."""

from enfilade.archive.forgetting.forget import Forgotten, finish, forget

__all__ = ["Forgotten", "finish", "forget"]

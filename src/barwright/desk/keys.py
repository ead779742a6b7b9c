"""Who may call the desk: a key that is good once, the cookie that it is changed for, and a token in every form."""

import hmac
import secrets
from dataclasses import dataclass, field

BYTES = 32


def _secret() -> str:
    return secrets.token_urlsafe(BYTES)


@dataclass(slots=True)
class Keys:
    """The secrets of one desk. They are made anew with each desk and are never written, but `joining`.

    `joining`: by which another desk of the same user gets a new key for the first; it stands in the state file.
    `cookie` is what the browser shows with every call, `token` what every form carries.
    """

    joining: str = field(default_factory=_secret)
    cookie: str = field(default_factory=_secret)
    token: str = field(default_factory=_secret)
    _once: set[str] = field(default_factory=set)

    def new_once(self) -> str:
        """A key that opens the desk one time."""
        key = _secret()
        self._once.add(key)
        return key

    def redeemed(self, key: str) -> bool:
        """Whether this key opens the desk; then it never does again."""
        known = next((each for each in self._once if hmac.compare_digest(each.encode(), key.encode())), None)
        if known is None:
            return False
        self._once.discard(known)
        return True


def same(one: str, other: str) -> bool:
    """Whether two secrets are equal, in a time that does not tell how nearly."""
    return hmac.compare_digest(one.encode(), other.encode())

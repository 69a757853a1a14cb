"""What a server is started with."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field

from sillwright.store import Address

SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Signs of a pairing code: none that look alike."""
CODE_LENGTH = 8


def new_code() -> str:
    """Return a pairing code: `7QK2-M4XD`, one of about 10^12."""
    signs = "".join(secrets.choice(SIGNS) for _ in range(CODE_LENGTH))
    return f"{signs[:4]}-{signs[4:]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Choices for one run of the server."""

    db: Address
    pairing_code: str = field(default_factory=new_code)
    ca_certificate: bytes | None = None
    """In trusted mode: the certificate, DER, that phones install once."""

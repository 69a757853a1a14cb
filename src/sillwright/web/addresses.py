"""Names and addresses under which phones may reach this machine; nothing is sent to find them."""

from __future__ import annotations

import ipaddress
import re
import socket

PRIVATE = (
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "127.0.0.0/8",
    "fc00::/7",
    "fe80::/10",
    "::1/128",
)
"""Networks that no site on the internet is in. RFC 1918, RFC 3927, RFC 4193, RFC 4291."""


def own_names() -> tuple[str, ...]:
    """Return the private names and addresses of this machine, the likeliest to be found by a phone first."""
    host = host_name()
    names = [f"{host}.local", host, *local_addresses(), "localhost", "127.0.0.1", "::1"]
    return tuple(dict.fromkeys(name for name in names if _private(name)))


def local_addresses() -> tuple[str, ...]:
    """Return this machine's addresses on its networks."""
    found = []
    # addresses of documentation networks (RFC 5737, RFC 3849): connecting a datagram socket only asks the
    # routing table which of our own addresses would be used
    for family, target in ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "2001:db8::1")):
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as asked:
                asked.connect((target, 9))
                found.append(str(asked.getsockname()[0]))
        except OSError:
            continue
    return tuple(found)


def host_name() -> str:
    """Return the machine's own name, as it may stand in an address."""
    return re.sub(r"[^a-z0-9-]", "-", socket.gethostname().split(".")[0].lower()).strip("-") or "laptop"


def _private(name: str) -> bool:
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return True
    return any(address in ipaddress.ip_network(network) for network in PRIVATE)

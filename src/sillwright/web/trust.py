"""An own certificate authority, so that a phone can trust the laptop and keep the page without a signal.

The authority's key never leaves its folder, and the authority is good only for this laptop's name, for names
under `.local` and for private addresses: it could not speak for any other site.
Source: RFC 5280, section 4.2.1.10 (name constraints), and RFC 1918, RFC 4193 (private addresses).
"""

from __future__ import annotations

import datetime
import ipaddress
import os
import re
import socket
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

CA_DAYS = 3650
LEAF_DAYS = 397
"""Longest that phones accept: CA/Browser Forum Baseline Requirements 6.3.2 allow 398 (from memory)."""
RENEW_DAYS = 30
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

Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """What a server in trusted mode stands on."""

    ca_der: bytes
    certificate: Path
    key: Path
    names: tuple[str, ...]


def own_names() -> tuple[str, ...]:
    """Return the names and addresses under which this machine may be reached."""
    host = _host()
    names = [host, f"{host}.local", "localhost", "127.0.0.1", "::1", *local_addresses()]
    return tuple(dict.fromkeys(name for name in names if _private(name)))


def local_addresses() -> tuple[str, ...]:
    """Return this machine's addresses on its networks; nothing is sent to find them."""
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


def trusted(folder: Path, names: tuple[str, ...]) -> Trust:
    """Return certificate and key for these names, made anew where they are missing, old or for others."""
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    ca_key, ca = _authority(folder)
    leaf, key = folder / "laptop.pem", folder / "laptop.key"
    if not _serves(leaf, key, ca, names):
        _issue(leaf, key, ca_key, ca, names)
    der = ca.public_bytes(serialization.Encoding.DER)
    return Trust(ca_der=der, certificate=leaf, key=key, names=names)


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


def _authority(folder: Path) -> tuple[Key, x509.Certificate]:
    key_file, file = folder / "ca.key", folder / "ca.pem"
    if key_file.is_file() and file.is_file():
        ca = x509.load_pem_x509_certificate(file.read_bytes())
        key = serialization.load_pem_private_key(key_file.read_bytes(), password=None)
        if isinstance(key, ec.EllipticCurvePrivateKey) and ca.not_valid_after_utc > _now():
            return key, ca
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Sillwright on {socket.gethostname()[:40]}")])
    usage = x509.KeyUsage(
        digital_signature=False,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=True,
        crl_sign=True,
        encipher_only=False,
        decipher_only=False,
    )
    ca = (
        _builder(name, name, key.public_key(), CA_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(_bounds(), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write(key_file, _key_bytes(key))
    file.write_bytes(ca.public_bytes(serialization.Encoding.PEM))
    return key, ca


def _issue(leaf: Path, key_file: Path, ca_key: Key, ca: x509.Certificate, names: tuple[str, ...]) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0][:60])])
    ours = x509.AuthorityKeyIdentifier.from_issuer_public_key(ca_key.public_key())
    certificate = (
        _builder(subject, ca.subject, key.public_key(), LEAF_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName([_general(name) for name in names]), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(ours, critical=False)
        .sign(ca_key, hashes.SHA256())
    )
    _write(key_file, _key_bytes(key))
    chain = (certificate, ca)
    leaf.write_bytes(b"".join(each.public_bytes(serialization.Encoding.PEM) for each in chain))


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, days: int
) -> x509.CertificateBuilder:
    start = _now() - datetime.timedelta(hours=1)  # phones' clocks run a little behind
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + datetime.timedelta(days=days))
    )


def _general(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _serves(leaf: Path, key: Path, ca: x509.Certificate, names: tuple[str, ...]) -> bool:
    """Does the certificate that is there still do: of this authority, for these names, for a month?"""
    if not (leaf.is_file() and key.is_file()):
        return False
    found = x509.load_pem_x509_certificate(leaf.read_bytes())
    said = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    late = found.not_valid_after_utc - datetime.timedelta(days=RENEW_DAYS)
    return found.issuer == ca.subject and {*said} == {_general(name) for name in names} and late > _now()


def _key_bytes(key: Key) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _bounds() -> x509.NameConstraints:
    names = [x509.DNSName(name) for name in (_host(), "local", "localhost")]
    networks = [x509.IPAddress(ipaddress.ip_network(network)) for network in PRIVATE]
    return x509.NameConstraints(permitted_subtrees=[*names, *networks], excluded_subtrees=None)


def _host() -> str:
    return re.sub(r"[^a-z0-9-]", "-", socket.gethostname().split(".")[0].lower()).strip("-") or "laptop"


def _private(name: str) -> bool:
    """Is this a name, or an address of a private network?"""
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return True
    return any(address in ipaddress.ip_network(network) for network in PRIVATE)


def _write(file: Path, data: bytes) -> None:
    """Write a secret that only its owner may read."""
    file.unlink(missing_ok=True)
    descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "wb") as opened:
        opened.write(data)

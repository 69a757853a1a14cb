"""An own certificate authority, so that a phone can trust the laptop and keep the page without a signal.

The authority's key never leaves its folder, and the authority is good only for this laptop's name, for names
under `.local` and for private addresses: it could not speak for any other site.
Source: RFC 5280, section 4.2.1.10 (name constraints), and RFC 1918, RFC 4193 (private addresses).
"""

from __future__ import annotations

import datetime
import ipaddress
import os
import socket
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from sillwright.errors import OutputError
from sillwright.web.addresses import PRIVATE, host_name
from sillwright.wording import say

CA_DAYS = 3650
LEAF_DAYS = 397
"""Longest that phones accept: CA/Browser Forum Baseline Requirements 6.3.2 allow 398 (from memory)."""
RENEW_DAYS = 30
Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """What a server in trusted mode stands on."""

    ca_der: bytes
    certificate: Path
    key: Path
    names: tuple[str, ...]


def trusted(folder: Path, names: tuple[str, ...]) -> Trust:
    """Return certificate and key for these names, made anew where they are missing, old or for others.

    Raises:  OutputError: the folder cannot be used, or what is in it is spoilt
    """
    leaf, key = folder / "laptop.pem", folder / "laptop.key"
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        ca_key, ca = _authority(folder)
        spoken = tuple(name for name in names if _may_speak_for(ca, name))
        if not _serves(leaf, key, ca, spoken):
            _issue(leaf, key, ca_key, ca, spoken)
    except OSError as error:
        raise OutputError(say("trust.folder", folder=folder, reason=error.strerror or error)) from None
    except (ValueError, TypeError, x509.ExtensionNotFound):
        raise OutputError(say("trust.spoilt", folder=folder)) from None
    der = ca.public_bytes(serialization.Encoding.DER)
    return Trust(ca_der=der, certificate=leaf, key=key, names=spoken)


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


def _authority(folder: Path) -> tuple[Key, x509.Certificate]:
    key_file, file = folder / "ca.key", folder / "ca.pem"
    if key_file.is_file() and file.is_file():
        ca = x509.load_pem_x509_certificate(file.read_bytes())
        key = serialization.load_pem_private_key(key_file.read_bytes(), password=None)
        late = ca.not_valid_after_utc - datetime.timedelta(days=LEAF_DAYS)
        if (
            isinstance(key, ec.EllipticCurvePrivateKey)
            and key.public_key() == ca.public_key()
            and late > _now()
        ):
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
    own = serialization.load_pem_private_key(key.read_bytes(), password=None)
    try:
        found.verify_directly_issued_by(ca)
    except InvalidSignature:  # of an authority of the same name, that is gone
        return False
    said = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    late = found.not_valid_after_utc - datetime.timedelta(days=RENEW_DAYS)
    same = own.public_key() == found.public_key() and {*said} == {_general(name) for name in names}
    return same and late > _now()


def _key_bytes(key: Key) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _may_speak_for(ca: x509.Certificate, name: str) -> bool:
    """Is a name within the authority's bounds? The laptop may have had another name when it was made."""
    bounds = ca.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        known = [each.value for each in bounds if isinstance(each, x509.DNSName)]
        return any(name == each or name.endswith(f".{each}") for each in known)
    networks = [ipaddress.ip_network(each.value) for each in bounds if isinstance(each, x509.IPAddress)]
    return any(address in network for network in networks)


def _bounds() -> x509.NameConstraints:
    names = [x509.DNSName(name) for name in (host_name(), "local", "localhost")]
    networks = [x509.IPAddress(ipaddress.ip_network(network)) for network in PRIVATE]
    return x509.NameConstraints(permitted_subtrees=[*names, *networks], excluded_subtrees=None)


def _write(file: Path, data: bytes) -> None:
    """Write a secret that only its owner may read."""
    file.unlink(missing_ok=True)
    descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "wb") as opened:
        opened.write(data)

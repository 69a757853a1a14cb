"""The laptop's own authority: what it vouches for, what it could not, and when certificates are made anew.

Chains are judged by OpenSSL, through Python's ssl module, as a phone would: with this authority and no other.
"""

from __future__ import annotations

import datetime
import ipaddress
import socket
import ssl
import stat
import threading
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from sillwright.errors import OutputError
from sillwright.web import trust
from sillwright.web.addresses import PRIVATE, own_names
from sillwright.web.trust import LEAF_DAYS, Trust, trusted

NAMES = ("truck.local", "localhost", "127.0.0.1", "192.168.4.7", "::1", "fe80::12")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "a.trust"


def shaken(folder: Path, made: Trust, name: str) -> None:
    """Let a client that trusts the authority's file, and nothing else, reach a server by a name.

    Raises:  ssl.SSLCertVerificationError: it would warn
    """
    ours = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    ours.load_cert_chain(made.certificate, made.key)
    theirs = ssl.create_default_context(cafile=folder / "ca.pem")
    theirs.verify_flags |= ssl.VERIFY_X509_STRICT
    here, there = socket.socketpair()

    def answer() -> None:
        with here:
            try:
                ours.wrap_socket(here, server_side=True).close()
            except OSError:
                return

    thread = threading.Thread(target=answer)
    thread.start()
    try:
        with there, theirs.wrap_socket(there, server_hostname=name):
            pass
    finally:
        thread.join(timeout=20)


def leaf(folder: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate((folder / "laptop.pem").read_bytes())


@pytest.mark.parametrize("name", NAMES)
def test_the_certificate_is_good_by_every_name_of_the_laptop(folder: Path, name: str) -> None:
    shaken(folder, trusted(folder, NAMES), name)


def test_it_is_good_by_no_other_name(folder: Path) -> None:
    made = trusted(folder, NAMES)
    for name in ("other.local", "192.168.4.8"):
        with pytest.raises(ssl.SSLCertVerificationError):
            shaken(folder, made, name)


def test_names_and_times_are_those_that_phones_accept(folder: Path) -> None:
    trusted(folder, NAMES)
    found = leaf(folder)
    said = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert said.get_values_for_type(x509.DNSName) == ["truck.local", "localhost"]
    assert [str(each) for each in said.get_values_for_type(x509.IPAddress)] == list(NAMES[2:])
    assert found.not_valid_after_utc - found.not_valid_before_utc <= datetime.timedelta(days=398)
    assert found.not_valid_before_utc < datetime.datetime.now(datetime.UTC)


def test_this_machine_reaches_itself_by_what_it_calls_itself(folder: Path) -> None:
    names = own_names()
    assert names[0].endswith(".local")
    made = trusted(folder, names)
    assert made.names == names
    for name in names:
        shaken(folder, made, name)


@pytest.mark.parametrize("name", ["example.com", "203.0.113.9", "truck.local.example.com"])
def test_whoever_steals_the_authority_cannot_speak_for_other_sites(folder: Path, name: str) -> None:
    """RFC 5280, 4.2.1.10: a name outside the constraints breaks the chain."""
    trusted(folder, NAMES)
    ca = x509.load_pem_x509_certificate((folder / "ca.pem").read_bytes())
    ca_key = serialization.load_pem_private_key((folder / "ca.key").read_bytes(), password=None)
    assert isinstance(ca_key, ec.EllipticCurvePrivateKey)
    forged = folder / "forged.pem", folder / "forged.key"
    trust._issue(*forged, ca_key, ca, (name,))
    made = Trust(ca_der=b"", certificate=forged[0], key=forged[1], names=(name,))
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        shaken(folder, made, name)


def test_keys_are_for_their_owner_alone(folder: Path) -> None:
    trusted(folder, NAMES)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    for name in ("ca.key", "laptop.key"):
        assert stat.S_IMODE((folder / name).stat().st_mode) == 0o600


def test_what_still_does_is_left_alone(folder: Path) -> None:
    first = trusted(folder, NAMES)
    before = {each.name: each.read_bytes() for each in folder.iterdir()}
    assert trusted(folder, NAMES) == first
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == before


def test_a_new_address_needs_no_new_trust(folder: Path) -> None:
    first = trusted(folder, NAMES)
    moved = (*NAMES[:3], "10.0.0.5")
    second = trusted(folder, moved)
    assert second.ca_der == first.ca_der
    shaken(folder, second, "10.0.0.5")


def test_a_month_before_its_end_the_certificate_is_renewed(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = datetime.datetime.now(datetime.UTC)
    first, serial = trusted(folder, NAMES), leaf(folder).serial_number
    for days, renewed in ((LEAF_DAYS - 32, False), (LEAF_DAYS - 29, True)):
        monkeypatch.setattr(trust, "_now", lambda days=days: start + datetime.timedelta(days=days))
        assert trusted(folder, NAMES).ca_der == first.ca_der
        assert (leaf(folder).serial_number != serial) == renewed


def test_an_authority_near_its_end_is_made_anew_with_all_below_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = datetime.datetime.now(datetime.UTC) - datetime.timedelta(days=3650 - LEAF_DAYS + 1)
    with monkeypatch.context() as patched:
        patched.setattr(trust, "_now", lambda: start)
        first = trusted(folder, NAMES)
    second = trusted(folder, NAMES)
    assert second.ca_der != first.ca_der
    shaken(folder, second, "truck.local")


def test_an_authority_that_was_thrown_away_takes_its_certificate_along(folder: Path) -> None:
    first = trusted(folder, NAMES)
    (folder / "ca.key").unlink()
    second = trusted(folder, NAMES)
    assert second.ca_der != first.ca_der
    shaken(folder, second, "truck.local")


def test_a_laptop_under_a_new_name_keeps_the_trust_it_has(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trust, "host_name", lambda: "truck")
    first = trusted(folder, ("truck.local", "truck", "127.0.0.1"))
    assert first.names == ("truck.local", "truck", "127.0.0.1")
    monkeypatch.setattr(trust, "host_name", lambda: "bench")
    second = trusted(folder, ("bench.local", "bench", "127.0.0.1"))
    assert second.ca_der == first.ca_der
    assert second.names == ("bench.local", "127.0.0.1")  # the bare name is beyond the authority's bounds
    shaken(folder, second, "bench.local")


@pytest.mark.parametrize("name", ["ca.pem", "ca.key", "laptop.pem", "laptop.key"])
def test_a_spoilt_file_is_told(folder: Path, name: str) -> None:
    trusted(folder, NAMES)
    (folder / name).write_bytes(b"spoilt")
    with pytest.raises(OutputError, match="a new one is made"):
        trusted(folder, NAMES)


def test_a_folder_that_cannot_be_used_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.trust").write_text("a file")
    with pytest.raises(OutputError, match="Check the rights"):
        trusted(tmp_path / "a.trust", NAMES)


def test_addresses_of_the_internet_are_not_vouched_for() -> None:
    networks = [ipaddress.ip_network(each) for each in PRIVATE]
    for name in own_names():
        try:
            address = ipaddress.ip_address(name)
        except ValueError:
            continue
        assert any(address in network for network in networks)


def test_the_authority_is_made_for_signing_alone(folder: Path) -> None:
    ca = x509.load_der_x509_certificate(trusted(folder, NAMES).ca_der)
    bounds = ca.extensions.get_extension_for_class(x509.BasicConstraints)
    assert bounds.critical
    assert bounds.value.ca
    assert bounds.value.path_length == 0
    assert ca.extensions.get_extension_for_class(x509.NameConstraints).critical
    assert isinstance(ca.signature_hash_algorithm, hashes.SHA256)

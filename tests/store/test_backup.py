"""A backup is the whole record, and comes back as it was; a broken one is never passed on."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from sqlalchemy import text
from tests.store.jobs import EXAMPLE, PHONE, event, sent, started, width
from tests.store.postgres import Server

from sillwright.errors import BadInput, OutputError, StoreError
from sillwright.store import Address, Photo, Store, backup, new_id, restore, verify


def _filled(store: Store) -> list[str]:
    jobs = [started(store), started(store, EXAMPLE)]
    data = b"a picture of the sill" * 5000
    sha = hashlib.sha256(data).hexdigest()
    ident = new_id()
    store.photos.put(
        Photo(
            id=ident, job=jobs[0], sha256=sha, sent_sha256=sha, width=1, height=1, data=data, small=b"small"
        )
    )
    store.devices.pair("phone")
    sent(store, jobs[0], event("photo.add", photo=ident, place="", step="before"))
    for n in range(60):
        sent(store, jobs[0], event("note.add", place="", text=f"note {n}"))
    return jobs


def _same(one: Store, other: Store) -> None:
    for row in one.jobs():
        assert other.events(row.id) == one.events(row.id)
        assert other.state(row.id) == one.state(row.id)
    assert other.jobs() == one.jobs()
    assert other.devices.all() == one.devices.all()


@pytest.fixture
def elsewhere(address: Address, request: pytest.FixtureRequest, tmp_path: Path) -> Address:
    if isinstance(address, Path):
        return tmp_path / "restored.db"
    server: Server = request.getfixturevalue("server")
    return server.new_database()


def test_a_backup_comes_back_as_it_was_and_goes_on(
    store: Store, address: Address, elsewhere: Address, tmp_path: Path
) -> None:
    jobs = _filled(store)
    file = tmp_path / "copy.sillwright"
    report = backup(address, file)
    assert report.whole
    assert sorted(job.job for job in report.jobs) == sorted(jobs)
    sent(store, jobs[0], event("note.add", place="", text="after the backup"))
    assert restore(file, elsewhere) == report
    restored = Store(elsewhere)
    assert len(restored.events(jobs[0])) == len(store.events(jobs[0])) - 1
    sent(restored, jobs[0], event("note.add", place="", text="after the backup"))
    assert [each.seq for each in restored.events(jobs[0])] == [each.seq for each in store.events(jobs[0])]
    assert verify(restored.database).whole
    restored.close()


def test_a_record_moves_from_a_server_into_a_file_and_back(server: Server, tmp_path: Path) -> None:
    first = Store(server.new_database())
    _filled(first)
    backup(first.database.address, tmp_path / "file.db")
    in_a_file = Store(tmp_path / "file.db")
    _same(first, in_a_file)
    in_a_file.close()
    target = server.new_database()
    restore(tmp_path / "file.db", target)
    back = Store(target)
    _same(first, back)
    first.close()
    back.close()


def test_nothing_is_ever_written_over(store: Store, address: Address, tmp_path: Path) -> None:
    _filled(store)
    file = tmp_path / "copy.db"
    file.write_text("mine")
    with pytest.raises(OutputError, match="left alone"):
        backup(address, file)
    assert file.read_text() == "mine"
    backup(address, tmp_path / "good.db")
    with pytest.raises(OutputError, match=r"left alone|jobs in it already"):
        restore(tmp_path / "good.db", address)


def test_a_missing_backup_and_a_missing_record_are_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such file"):
        restore(tmp_path / "nothing", tmp_path / "new.db")
    with pytest.raises(BadInput, match="no such file"):
        backup(tmp_path / "nothing", tmp_path / "new.db")
    assert list(tmp_path.iterdir()) == []


def test_a_broken_record_is_not_passed_on(tmp_path: Path) -> None:
    store = Store(tmp_path / "jobs.db")
    job = started(store)
    sent(store, job, width("36"), event("note.add", place="", text="dry"))
    with store.database.writing() as connection:
        connection.execute(text("DROP TRIGGER event_fixed"))
        connection.execute(text("UPDATE event SET kind = 'sign' WHERE seq = 2"))
    with pytest.raises(StoreError, match=rf"job {job} is broken at event 2: it was changed"):
        backup(tmp_path / "jobs.db", tmp_path / "copy.db")
    with pytest.raises(StoreError, match="broken at event 2"):
        restore(tmp_path / "jobs.db", tmp_path / "copy.db")
    assert not [each for each in tmp_path.iterdir() if "copy" in each.name]
    store.close()


def test_a_backup_is_one_file(store: Store, address: Address, tmp_path: Path) -> None:
    _filled(store)
    folder = tmp_path / "backups"
    folder.mkdir()
    backup(address, folder / "copy.db")
    assert [each.name for each in folder.iterdir()] == ["copy.db"]
    copied = Store(folder / "copy.db")
    assert copied.append(copied.jobs()[0].id, [event("note.add", place="", text="x")], device=PHONE).taken
    copied.close()

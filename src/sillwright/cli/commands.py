"""The commands as they are typed. What they need is loaded when they run, so that help comes at once."""

# ruff: noqa: PLC0415  imports inside commands, see above

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import App, Parameter

from sillwright import __version__
from sillwright.cli.asked import CodePlace, ConnectionAsked, Edition, HeaderAsked, LedgerAsked, Units

Paper = Literal["letter", "a4"]

app = App(
    name="sillwright",
    help="From tape and laser readings to a set plan and a printed packet.",
    version=f"Sillwright {__version__}",
    help_formatter="plain",
    help_format="plaintext",
    result_action="return_value",
    exit_on_error=False,
    print_error=False,
)


@app.command
def new(path: Path = Path("job.toml"), /, *, units: Units = "in") -> None:
    """Start a job file with a word on every section.

    Parameters
    ----------
    path: Path
        The file to start; never one that is there already.
    units: str
        Inches or millimetres.
    """
    from sillwright.cli.job_files import start

    start(path, units=units)


@app.command
def check(job: Path, /) -> None:
    """Say all that is wrong with a job file at once.

    Reads the local amendments that it names as well.

    Parameters
    ----------
    job: Path
        The job file.
    """
    from sillwright.cli.job_files import check_job

    check_job(job)


@app.command
def plan(job: Path, /, *, out: Path, paper: Paper | None = None, packet: bool = True) -> None:
    """Plan a job into a folder, and say what was found.

    Writes plan.json, drawings (SVG and DXF) and packet.pdf.

    Parameters
    ----------
    job: Path
        The job file.
    out: Path
        Folder to write, or an earlier plan to replace.
    paper: str
        Paper of the packet; letter for inches, A4 for millimetres without it.
    packet: bool
        With the packet, or without.
    """
    from sillwright.cli.planning import plan_job

    plan_job(job, out=out, paper=paper, packet=packet)


@app.command
def explain(job: Path, ident: Annotated[str, Parameter(name="ID")], /) -> None:
    """Say why a number of the plan is what it is.

    Gives the formula, what went into it with its ±, and the source.

    Parameters
    ----------
    job: Path
        The job file.
    ident: str
        Such as pad.3, line.1, unit.A, A.width.middle, setup1.4.
    """
    from sillwright.cli.planning import explain_job

    explain_job(job, ident)


@app.command(name="import")
def import_readings(
    job: Path, readings: Annotated[Path, Parameter(name="CSV")], /, *, out: Path | None = None
) -> None:
    """Add readings from a spreadsheet to a job file.

    All else in the job file stays as it was. The columns are described in docs/job-file.md.

    Parameters
    ----------
    job: Path
        The job file, changed in place without --out.
    readings: Path
        The readings.
    out: Path
        New job file to write instead.
    """
    from sillwright.cli.job_files import add_readings

    add_readings(job, readings, out=out)


@app.command
def form(
    job: Path | None = None,
    /,
    *,
    out: Path = Path("reading-form.pdf"),
    units: Units | None = None,
    paper: Paper | None = None,
) -> None:
    """Make a blank reading form to take to the site.

    Parameters
    ----------
    job: Path
        Job file whose openings and marks to put on it, if there is one yet.
    out: Path
        New PDF to write.
    units: str
        Inches or millimetres; the job's without it.
    paper: str
        Paper of the form; letter for inches, A4 for millimetres without it.
    """
    from sillwright.cli.job_files import reading_form

    reading_form(job, out=out, units=units, paper=paper)


@app.command
def ledger(asked: Annotated[LedgerAsked, Parameter(name="*")], *, out: Path | None = None) -> None:
    """Space and lay out the fasteners of a deck ledger.

    Needs no job. Gives the spacing of the code's table with its source, distances, every fastener from the
    ledger's left end, lateral ties, and what forbids hanging a deck there.

    Parameters
    ----------
    out: Path
        New folder for the layout as SVG and DXF; needs --length.
    """
    from sillwright.cli.ledger import ledger_alone

    ledger_alone(asked, out=out)


@app.command
def header(asked: Annotated[HeaderAsked, Parameter(name="*")]) -> None:
    """Find the least header of the code's table over an opening.

    Needs no job. Gives the section, jack studs at each end and source; outside the table it refuses.
    """
    from sillwright.cli.header import header_alone

    header_alone(asked)


@app.command
def connection(asked: Annotated[ConnectionAsked, Parameter(name="*")]) -> None:
    """Calculate what bolts, lag screws or wood screws carry, for your engineer.

    Needs no job. Gives every yield mode and the one that governs, every factor with its source, and the use
    under a load; outside what the equations hold for it refuses.
    """
    from sillwright.cli.connection import connection_alone

    connection_alone(asked)


@app.command
def materials(
    one: Annotated[str | None, Parameter(name="A")] = None,
    other: Annotated[str | None, Parameter(name="B")] = None,
    /,
) -> None:
    """Say whether two families of materials may touch; without names, list the families.

    Needs no job. Gives the published statement with its source, or whom to ask.

    Parameters
    ----------
    one: str
        A family, such as "butyl tape"; alone: all that is published on it.
    other: str
        Another family.
    """
    from sillwright.cli.materials import about_materials

    about_materials(one, other)


@app.command
def water(
    job: Path | None = None,
    /,
    *,
    schemes: Annotated[bool, Parameter(negative=())] = False,
    scheme: str | None = None,
    head: str | None = None,
    psf: float | None = None,
    sheet: str | None = None,
    out: Path | None = None,
) -> None:
    """Say how a wall is dressed, in which order, and where water can get.

    Gives the verdict for every place that must stay dry, the weakest ways, and the laps with what is asked.

    Parameters
    ----------
    job: Path
        The job file.
    schemes: bool
        List the schemes instead; needs no job.
    scheme: str
        Another scheme than the job's.
    head: str
        Another head of water to stand: 1/2, 15 mm.
    psf: float
        The same by its pressure in psf.
    sheet: str
        All of one piece: A.pan, ledger.sheet.
    out: Path
        New folder for its drawings as SVG and DXF.
    """
    from sillwright.cli.water import list_schemes, water_command

    if schemes:
        list_schemes()
        return
    water_command(job, scheme=scheme, head=head, psf=psf, sheet=sheet, out=out)


@app.command
def rules(
    *, edition: Edition = "2018", place: CodePlace = "us-model-code", amendments: Path | None = None
) -> None:
    """List every check with its source, limits and severity.

    Parameters
    ----------
    edition: str
        Edition of the model code.
    place: str
        Whose water requirements.
    amendments: Path
        Local amendments to lay over it; docs/rules.md shows how to write them.
    """
    from sillwright.cli.rules import list_rules

    list_rules(edition, place, amendments)


@app.command
def serve(
    *,
    db: str = "sillwright.db",
    host: str = "0.0.0.0",  # noqa: S104  phones on the same Wi-Fi are the point
    port: int = 8080,
    trust: Annotated[bool, Parameter(negative=())] = False,
    job: Path | None = None,
) -> None:
    """Serve the site app to phones on the same Wi-Fi.

    Shows the address, the pairing code and both as a QR code. docs/site.md tells more.

    Parameters
    ----------
    db: str
        The record: a file, or postgresql://USER@HOST/NAME.
    host: str
        Address to listen on; 127.0.0.1 for this machine only.
    port: int
        Port to listen on; 0 for any that is free.
    trust: bool
        Let phones trust this laptop once, so that the page works without a signal.
    job: Path
        A job file to start with.
    """
    from sillwright.cli.site import serve_site

    serve_site(db, host=host, port=port, trust=trust, job=job)


@app.command
def verify(db: str, /) -> None:
    """Prove that nothing in a record was changed since it was written.

    Names the first broken link of each job, or the last hash of each, to be held against a printed record.

    Parameters
    ----------
    db: str
        The record: a file, or postgresql://USER@HOST/NAME.
    """
    from sillwright.cli.site import verify_record

    verify_record(db)


@app.command
def backup(db: str, file: Path, /) -> None:
    """Copy a record, photos and all, to one new file; the server may be running.

    Parameters
    ----------
    db: str
        The record: a file, or postgresql://USER@HOST/NAME.
    file: Path
        The new file.
    """
    from sillwright.cli.site import back_up

    back_up(db, file)


@app.command
def restore(file: Path, db: str, /) -> None:
    """Put a backup back as a new record.

    Parameters
    ----------
    file: Path
        The backup.
    db: str
        The new record: a file that is not there yet, or an empty database.
    """
    from sillwright.cli.site import put_back

    put_back(file, db)

"""The page itself: no data in it, so that a phone may keep it."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from pathlib import Path

import font_source_sans_pro
from fastapi import APIRouter, Response
from fastapi.responses import FileResponse, HTMLResponse
from jinja2 import Environment, FileSystemLoader, select_autoescape

from sillwright import __version__
from sillwright.web.drawings import looks
from sillwright.web.faults import Refused
from sillwright.web.service import Parts
from sillwright.wording import fault, section

router = APIRouter(include_in_schema=False)
HERE = Path(__file__).parents[1]
STATIC = HERE / "static"
FONTS = Path(str(font_source_sans_pro.__file__)).parent / "files"
FACES = ("Regular", "Semibold", "Bold", "It")
TYPES = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
}
_TEMPLATES = Environment(loader=FileSystemLoader(HERE / "templates"), autoescape=select_autoescape())


def rendered(name: str, **context: object) -> str:
    """Return a page made from a template."""
    return _TEMPLATES.get_template(name).render(version=version(), **context)


@cache
def static_files() -> dict[str, Path]:
    """Return every file of the page by its address."""
    files = {
        f"/static/{path.relative_to(STATIC).as_posix()}": path for path in STATIC.rglob("*") if path.is_file()
    }
    fonts = {f"/font/SourceSansPro-{face}.ttf": FONTS / f"SourceSansPro-{face}.ttf" for face in FACES}
    return dict(sorted({**files, **fonts}.items()))


@cache
def version() -> str:
    """Return a name of the page as it is: it changes with any of its files."""
    said = hashlib.sha256(f"{__version__}\n{looks()}".encode())
    for path in [*static_files().values(), *sorted((HERE / "templates").glob("*"))]:
        said.update(path.read_bytes())
    return said.hexdigest()[:16]


@router.get("/")
def page() -> HTMLResponse:
    """Return the page."""
    return HTMLResponse(
        rendered("shell.html", words=section("screen")), headers={"Cache-Control": "no-cache"}
    )


@router.get("/sw.js")
def service_worker() -> Response:
    """Return the service worker, behind a line that says which files make up the page."""
    kept = [name for name in static_files() if name not in ("/static/sw.js", "/static/manifest.webmanifest")]
    shell = {"version": version(), "files": ["/", "/drawing.css", "/manifest.webmanifest", *kept]}
    text = f"self.SHELL = {json.dumps(shell)};\n" + (STATIC / "sw.js").read_text(encoding="utf-8")
    return Response(text, media_type=TYPES[".js"], headers={"Cache-Control": "no-cache"})


@router.get("/manifest.webmanifest")
def manifest() -> FileResponse:
    """Return what makes the page an app."""
    return FileResponse(STATIC / "manifest.webmanifest", media_type=TYPES[".webmanifest"])


@router.get("/drawing.css")
def drawing_looks() -> Response:
    """Return how drawings look."""
    return Response(looks(), media_type=TYPES[".css"], headers={"Cache-Control": "no-cache"})


@router.get("/static/{path:path}")
def static(path: str) -> FileResponse:
    """Return a file of the page."""
    return _file(f"/static/{path}")


@router.get("/font/{name}")
def font(name: str) -> FileResponse:
    """Return a file of the page's font."""
    return _file(f"/font/{name}")


def _file(address: str) -> FileResponse:
    """Return a file by its address; only those that were listed are ever opened."""
    path = static_files().get(address)
    if path is None:
        raise Refused(404, fault("request.not_found", address))
    media = TYPES.get(path.suffix, "application/octet-stream")
    return FileResponse(path, media_type=media, headers={"Cache-Control": "no-cache"})


@router.get("/api/words")
def words() -> dict[str, object]:
    """Return words that the page shows under names the server sends."""
    return {
        "screens": dict(section("screen")),
        "acts": dict(section("act")),
        "columns": dict(section("column")),
    }


@router.get("/trust")
def trust(service: Parts) -> Response:
    """Return the certificate that a phone is to trust."""
    certificate = service.settings.ca_certificate
    if certificate is None:
        raise Refused(404, fault("trust.plain"))
    headers = {"Content-Disposition": 'attachment; filename="sillwright-laptop.crt"'}
    return Response(certificate, media_type="application/x-x509-ca-cert", headers=headers)

"""What can be asked of the server, one module a subject; each route parses, calls one thing, answers."""

from sillwright.web.routes import jobs, pairing, photos, record, screens, shell, works

ROUTERS = tuple(module.router for module in (shell, pairing, jobs, record, screens, photos, works))

__all__ = ["ROUTERS"]

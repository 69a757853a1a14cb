"""What can be asked of the server, one module a subject; each route parses, calls one thing, answers."""

from sillwright.web.routes.jobs import router as jobs
from sillwright.web.routes.pairing import router as pairing
from sillwright.web.routes.photos import router as photos
from sillwright.web.routes.record import router as record
from sillwright.web.routes.screens import router as screens
from sillwright.web.routes.shell import router as shell
from sillwright.web.routes.works import router as works

ROUTERS = (shell, pairing, jobs, record, screens, photos, works)

__all__ = ["ROUTERS"]

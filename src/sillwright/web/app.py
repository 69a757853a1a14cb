"""The app: its parts, its guards, its routes."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import FastAPI

from sillwright import __version__
from sillwright.store import Store
from sillwright.web.faults import Faults, add_handlers
from sillwright.web.routes import ROUTERS
from sillwright.web.security import Guard
from sillwright.web.service import Service
from sillwright.web.settings import Settings

_ERRORS: dict[int | str, dict[str, Any]] = {
    "4XX": {"model": Faults, "description": "what is wrong, where, what to do"}
}


def create_app(settings: Settings) -> FastAPI:
    """Return the site app over a store; its record is closed when the app ends.

    Raises:  StoreError, BadInput: the store cannot be used
    """
    service = Service(settings=settings, store=Store(settings.db))

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        try:
            yield
        finally:
            service.hub.end()
            service.works.close()
            service.store.close()

    app = FastAPI(
        title="Sillwright site app",
        version=__version__,
        lifespan=life,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        responses=_ERRORS,
    )
    app.state.service = service
    add_handlers(app)
    for router in ROUTERS:
        app.include_router(router)
    app.add_middleware(Guard, trusted=settings.ca_certificate is not None)
    return app

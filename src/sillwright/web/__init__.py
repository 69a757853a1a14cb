"""The site app: a phone at the wall, the laptop in the truck, and one record between them.

`create_app(Settings(db=...))` gives the server: paired devices only, readings in as events, screens out as
drawings and blocks made from the plan, photos, long work as PDF, a live stream. It decides nothing that a
person acts on; that is the plan. The page itself (static, templates) works without a signal.
"""

from sillwright.web.app import create_app
from sillwright.web.settings import Settings, new_code

__all__ = ["Settings", "create_app", "new_code"]

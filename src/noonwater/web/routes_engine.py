"""Route of the engine: how far its compilation is."""

from __future__ import annotations

from fastapi import FastAPI

from noonwater.app.store import Store
from noonwater.web.engine_page import stand_words


def add_engine(app: FastAPI, _store: Store) -> None:
    """Add it."""

    @app.get("/engine")
    def engine() -> dict[str, object]:
        """Tell how far the engine is."""
        stand = app.state.engine.stand()
        return {**vars(stand), "words": stand_words(stand)}

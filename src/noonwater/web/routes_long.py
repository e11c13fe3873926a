"""Routes of long work: asked for, how far it is, ended, shown."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, File, UploadFile
from fastapi.responses import RedirectResponse, Response

from noonwater.app.desk import View
from noonwater.app.desk_work import ask_for, piece_for
from noonwater.app.store import NoSuchJob, Store
from noonwater.app.store_files import tables_from_text
from noonwater.app.work import Piece, Work
from noonwater.web.long_shown import result_shown, stand_words


def add_long(app: FastAPI, store: Store) -> None:
    """Add long work."""
    work = Work(store.folder / "long")
    app.state.work = work

    def told(view: View, piece: Piece) -> dict[str, object]:
        stand = work.stand(piece)
        result = work.result(piece) if stand.stage == "done" else None
        return {
            "stage": stand.stage,
            "key": piece.key,
            "done": stand.done,
            "of": stand.of,
            "words": stand_words(piece.kind, stand),
            "html": "" if result is None else str(result_shown(view, piece, result)),
        }

    def seen(job: str) -> View:
        return View(store.state(job), shelf=store.shelf)

    @app.get("/jobs/{job}/long/{kind}")
    def look(job: str, kind: str, key: str = "") -> dict[str, object]:
        """Tell how far a piece is, and what came of it."""
        view = seen(job)
        return told(view, Piece(kind, key) if key else piece_for(view, kind))

    @app.post("/jobs/{job}/long/{kind}")
    def ask(
        job: str, kind: str, table: Annotated[UploadFile | None, File()] = None
    ) -> dict[str, object]:
        """Ask for a piece."""
        view = seen(job)
        return told(view, ask_for(work, view, kind, table.file.read() if table else None))

    @app.delete("/jobs/{job}/long/{kind}")
    def cancel(job: str, kind: str, key: str) -> dict[str, object]:
        """End a piece at once."""
        work.cancel(Piece(kind, key))
        return told(seen(job), Piece(kind, key))

    @app.post("/jobs/{job}/long/search/{key}/{name}/begin")
    def begin(job: str, key: str, name: str) -> Response:
        """Begin a job of its own with a system that a search found, its price list with it."""
        raw = work.file(Piece("search", key), name)
        if raw is None or not name.endswith(".toml"):
            raise NoSuchJob(f"there is no file '{name[:40]}' of this work")
        letter = name.removesuffix(".toml").rpartition("-")[2]
        tables = tables_from_text(raw.decode())
        begun = store.add({**tables, "name": f"{tables['name']} {letter}"}, words="from a search")
        store.shelf.copy(job, begun.job)
        return RedirectResponse(f"/jobs/{begun.job}/options", 303)

    @app.get("/jobs/{job}/long/{kind}/{key}/{name}")
    def written(job: str, kind: str, key: str, name: str) -> Response:
        """Give a file that a piece wrote."""
        raw = work.file(Piece(kind, key), name)
        if raw is None:
            raise NoSuchJob(f"there is no file '{name[:40]}' of this work")
        held = {"Content-Disposition": f'attachment; filename="{name}"'}
        return Response(raw, media_type="application/octet-stream", headers=held)

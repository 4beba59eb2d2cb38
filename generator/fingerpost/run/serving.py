"""The site on this computer only, built again whenever something it is made of has changed."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import NoReturn

from fingerpost.files.disk import stamp
from fingerpost.make.pdf import forget_styles


def serve_and_watch(
    site: Path, port: int, watched: Sequence[Path], build_again: Callable[[], object], say: Callable[[str], None]
) -> NoReturn:
    """Serve a folder until the program is stopped. `watched`: folders; a change in them builds again."""
    server = ThreadingHTTPServer(("127.0.0.1", port), partial(SimpleHTTPRequestHandler, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    say(f"http://127.0.0.1:{server.server_port}/ (stop with Ctrl-C)")
    seen = stamp(watched)
    while True:
        time.sleep(0.5)
        now = stamp(watched)
        if now != seen:
            seen = now
            forget_styles()
            build_again()

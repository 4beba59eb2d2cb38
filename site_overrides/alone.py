"""A hook of mkdocs, for who lets it build this project by itself: it then has a frame, and no page to put into it."""

from typing import Any

from mkdocs.exceptions import PluginError


def on_config(config: Any) -> None:
    """Raises PluginError where nobody has given mkdocs the plan of the site."""
    if "fingerpost" not in config.plugins:
        raise PluginError(
            "the pages come from protocols/, and mkdocs gets them from `./run build` and `./run serve`: use those"
        )

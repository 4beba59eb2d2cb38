"""One test over many like cases: every case is tried, and one message lists all that fail.

For what holds alike for each page, phrase, drawing or rule. Where a failure could not be read in such a list, pytest's
own `parametrize` is right.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterable, Mapping
from typing import Any


def for_each(names: str, cases: Iterable[Any] | Mapping[str, Any]) -> Callable[..., Any]:
    """Turn a check of one case into one test of all of them. As with `parametrize`, `names` are the arguments filled
    in, with commas between them, and other arguments are fixtures. A mapping has the names of its cases as keys.

    What a check asserts is collected; anything else that it raises ends the test, with a note that names the case.
    """
    keys = [name.strip() for name in names.split(",")]
    listed = list(cases.items()) if isinstance(cases, Mapping) else [(str(case), case) for case in cases]
    assert listed, "there is no case to look at"

    def decorate(check: Callable[..., None]) -> Callable[..., None]:
        @functools.wraps(check)
        def test(**fixtures: Any) -> None:
            failed = []
            for told, case in listed:
                values = case if len(keys) > 1 else (case,)
                try:
                    check(**fixtures, **dict(zip(keys, values, strict=True)))
                except AssertionError as error:
                    failed.append(f"{told}: {error}")
                except Exception as error:
                    error.add_note(f"with {told}")
                    raise
            assert not failed, "\n".join([f"{len(failed)} of {len(listed)} fail", *failed])

        signature = inspect.signature(check)
        left = [parameter for name, parameter in signature.parameters.items() if name not in keys]
        test.__signature__ = signature.replace(parameters=left)  # type: ignore[attr-defined]
        return test

    return decorate

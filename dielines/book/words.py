"""The words that a book file may choose from, and how a written word finds its name."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from ..documents import Refusal, suggestion
from ..workshop.roles import ROLES

TAPE = "tape"  #: the one role that no sheet plays


@dataclass(frozen=True)
class Words:
    """The names that a book may use.

    *page_kinds* maps the name of each template that is a page to the names of
    its parameters, or to None where those are checked later. *rules* are the
    checks that can be silenced; None takes any name.
    """

    page_kinds: Mapping[str, Collection[str] | None]
    bindings: Collection[str]
    roles: Collection[str] = (*ROLES, TAPE)
    rules: Collection[str] | None = None


def spoken(name: str) -> str:
    """Return *name* as one says it, so that ways of writing it compare equal.

    >>> spoken("Side-Pocket"), spoken(" side  pocket ")
    ('side pocket', 'side pocket')
    """
    return re.sub(r"[\s_-]+", " ", name).strip().casefold()


def name_of(written: str, names: Iterable[str], what: str) -> str:
    """Return the one of *names* that *written* says; raises Refusal with a suggestion."""
    known = {spoken(name): name for name in sorted(names)}
    if spoken(written) in known:
        return known[spoken(written)]
    hint = suggestion(spoken(written), known)
    remedy = "" if hint else f"Choose one of: {', '.join(known)}."
    raise Refusal(f"unknown-{what.replace(' ', '-')}", f"no {what} {written[:60]!r}{hint}", remedy)

"""Reading the text of a plan request: strict JSON, with every fault in its place."""

import json
import math
from collections.abc import Iterator

from planner.core.request.asked import PlanRequest
from planner.core.request.whole import read_request
from properties.core.errors import FaultsFound, Refused


class _Object(dict[str, object]):
    """A JSON object that remembers which of its members were written twice."""

    doubled: tuple[str, ...] = ()


def read_request_text(text: str) -> PlanRequest:
    """Read a plan request from JSON text.

    Parameters
    ----------
    text : str
        One JSON object. [-]

    Returns
    -------
    PlanRequest
        What is asked for. [unit as written]

    Raises
    ------
    FaultsFound
        If the text is not JSON, writes a member twice or holds a number that is
        not finite, or if the request has faults: every fault with its path.

    References
    ----------
    Bray, T. (2017), The JavaScript Object Notation (JSON) Data Interchange Format,
    RFC 8259: no NaN, no Infinity; names within an object should be unique.
    """
    value = _parsed(text)
    faults = list(_faults_of_text(value))
    places = {fault.field for fault in faults}
    try:
        request = read_request(value)
    except FaultsFound as found:
        faults += [fault for fault in found.faults if fault.field not in places]
        raise FaultsFound(faults) from None
    if faults:
        raise FaultsFound(faults)
    return request


def _parsed(text: str) -> object:
    try:
        return json.loads(text.removeprefix("\ufeff"), object_pairs_hook=_object)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise _not_json(where, f"This is not JSON: {error.msg}.") from None
    except RecursionError:
        raise _not_json("request", "Its brackets are nested too deep.") from None
    except ValueError:
        raise _not_json("request", "It holds a number with too many digits.") from None


def _not_json(where: str, problem: str) -> FaultsFound:
    return FaultsFound([Refused(where, problem, "Correct the text of the request.")])


def _object(pairs: list[tuple[str, object]]) -> _Object:
    read = _Object(pairs)
    if len(read) < len(pairs):
        names = [name for name, _ in pairs]
        read.doubled = tuple(name for name in read if names.count(name) > 1)
    return read


def _faults_of_text(value: object) -> Iterator[Refused]:
    waiting: list[tuple[str, object]] = [("", value)]
    while waiting:
        path, here = waiting.pop()
        if isinstance(here, float) and not math.isfinite(here):
            yield Refused(
                path or "request", "This is not a finite number.", "Write out what was measured."
            )
        elif isinstance(here, _Object):
            for name in here.doubled:
                yield Refused(_below(path, name), "This is written twice.", "Keep one of them.")
            waiting += [(_below(path, name), inner) for name, inner in reversed(here.items())]
        elif isinstance(here, list):
            waiting += [(f"{path}[{n}]", inner) for n, inner in reversed(list(enumerate(here)))]


def _below(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name

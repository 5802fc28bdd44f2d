"""What arrives at the port and is no request at all."""

from __future__ import annotations

import socket
from contextlib import ExitStack, suppress

import pytest

pytestmark = pytest.mark.faults


@pytest.mark.parametrize(
    "lines",
    [
        b"GET / HTTP/1.1\r\nHost: x\r\nX: " + b"y" * 20_000 + b"\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00",
        b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\n"
        b"Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
        b"GET /\x00 HTTP/1.1\r\nHost: x\r\n\r\n",
    ],
)
def test_the_server_survives_what_is_no_request(lines, lead_site):
    with socket.create_connection(("127.0.0.1", lead_site.port), timeout=30) as line:
        found = b""
        with suppress(ConnectionError):  # it may hang up before all is said
            line.sendall(lines)
            line.shutdown(socket.SHUT_WR)
            found = line.recv(4096)
    assert not found or found.split()[1] in (
        b"302",
        b"400",
        b"404",
        b"405",
        b"431",
        b"505",
    )
    assert lead_site.get("/healthz").status == 200


def test_bodies_that_never_end_keep_nobody_else_waiting(lead_site):
    """Fewer than the threads there are; what goes beyond is the proxy's to hold."""
    head = b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 900\r\n\r\nx"
    with ExitStack() as stack:
        for _ in range(3):
            where = ("127.0.0.1", lead_site.port)
            line = stack.enter_context(socket.create_connection(where, timeout=30))
            line.sendall(head)
        assert {lead_site.get("/people/").status for _ in range(5)} == {200}
    assert lead_site.get("/people/").status == 200

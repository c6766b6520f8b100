"""No outside check may reach for the network."""

import socket

import pytest


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """Refuse every connection, so that a library that fetches data at import or at first use is noticed."""

    def refuse(*_):
        raise OSError("an outside check reached for the network")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket.socket, "connect_ex", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)

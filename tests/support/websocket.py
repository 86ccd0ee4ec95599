"""Just enough of a WebSocket (RFC 6455) to talk JSON with a program on the same machine."""

import base64
import json
import os
import socket
import struct
from typing import Any

TEXT, CLOSE, PING, PONG = 0x1, 0x8, 0x9, 0xA
LAST, MASKED = 0x80, 0x80


class WebSocket:
    """A connection over which messages go as JSON texts.

    Raises:
        ConnectionError: when the other end refuses, or goes.
    """

    def __init__(self, port: int, path: str, patience: float) -> None:
        self._socket = socket.create_connection(("127.0.0.1", port), patience)
        self._buffer = b""
        key = base64.b64encode(os.urandom(16)).decode("ascii")
        self._socket.sendall(
            f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nUpgrade: websocket\r\n"
            f"Connection: Upgrade\r\nSec-WebSocket-Key: {key}\r\n"
            "Sec-WebSocket-Version: 13\r\n\r\n".encode()
        )
        while b"\r\n\r\n" not in self._buffer:
            self._more()
        head, _, self._buffer = self._buffer.partition(b"\r\n\r\n")
        if b" 101 " not in head.split(b"\r\n")[0]:
            raise ConnectionError(head.decode("latin-1"))

    def send(self, message: object) -> None:
        """Sends one message; what a client sends is masked."""
        self._frame(TEXT, json.dumps(message).encode())

    def receive(self, seconds: float) -> Any:
        """The next message; None where none has come within so many seconds."""
        whole = b""
        self._socket.settimeout(seconds)
        try:
            while True:
                kind, last, payload = self._next()
                if kind == CLOSE:
                    raise ConnectionError("the other end has closed")
                if kind == PING:
                    self._frame(PONG, payload)
                elif kind != PONG:
                    whole += payload
                    if last:
                        return json.loads(whole)
        except TimeoutError:
            return None

    def close(self) -> None:
        """Hangs up."""
        self._socket.close()

    def _frame(self, kind: int, payload: bytes) -> None:
        mask = os.urandom(4)
        size = len(payload)
        if size < 126:
            head = struct.pack(">BB", LAST | kind, MASKED | size)
        elif size < 1 << 16:
            head = struct.pack(">BBH", LAST | kind, MASKED | 126, size)
        else:
            head = struct.pack(">BBQ", LAST | kind, MASKED | 127, size)
        hidden = bytes(byte ^ mask[i % 4] for i, byte in enumerate(payload))
        self._socket.sendall(head + mask + hidden)

    def _next(self) -> tuple[int, bool, bytes]:
        """The kind of a frame, whether it ends its message, what it holds."""
        while (found := self._read_frame()) is None:
            self._more()
        return found

    def _read_frame(self) -> tuple[int, bool, bytes] | None:
        """A frame from what has come, which is kept until there is a whole one."""
        if len(self._buffer) < 2:
            return None
        first, size = self._buffer[0], self._buffer[1] & 0x7F
        at = 2
        for told, form in ((126, ">H"), (127, ">Q")):
            if size == told:
                at += struct.calcsize(form)
                if len(self._buffer) < at:
                    return None
                (size,) = struct.unpack(form, self._buffer[2:at])
                break
        if len(self._buffer) < at + size:
            return None
        payload, self._buffer = self._buffer[at : at + size], self._buffer[at + size :]
        return first & 0x0F, bool(first & LAST), payload

    def _more(self) -> None:
        got = self._socket.recv(1 << 20)
        if not got:
            raise ConnectionError("the other end has gone")
        self._buffer += got

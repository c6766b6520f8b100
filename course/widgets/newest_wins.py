"""Doing slow work for the newest wish only: a fast drag drops what it has passed instead of queueing it."""

import threading
from contextlib import contextmanager


class NewestWins:
    """Calls work() for the latest request; requests that arrive meanwhile replace one another."""

    def __init__(self, work):
        self._work = work
        self._lock = threading.Lock()
        self._busy = self._again = False
        self._held = 0
        self.done = 0
        self.dropped = 0

    def request(self):
        """Ask for the work; returns at once when another thread is at it, which then does the newest wish."""
        with self._lock:
            if self._busy or self._held:
                self.dropped += self._again
                self._again = True
                return
            self._busy, self._again = True, False
        while True:
            try:
                self._work()
                self.done += 1
            except BaseException:
                with self._lock:
                    self._busy = self._again = False
                raise
            with self._lock:
                if self._held or not self._again:
                    self._busy = False
                    return
                self._again = False

    @contextmanager
    def held(self):
        """Gather the requests of several settings that belong together; they are done as one afterwards."""
        with self._lock:
            self._held += 1
        try:
            yield
        finally:
            with self._lock:
                self._held -= 1
                due = self._again and not self._held and not self._busy
            if due:
                self.request()

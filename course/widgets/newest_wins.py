"""Doing slow work for the newest wish only: a fast drag drops what it has passed instead of queueing it."""

import threading


class NewestWins:
    """Calls work() for the latest request; requests that arrive meanwhile replace one another."""

    def __init__(self, work):
        self._work = work
        self._lock = threading.Lock()
        self._busy = False
        self._again = False
        self.done = 0
        self.dropped = 0

    def request(self):
        """Ask for the work; returns at once when another thread is at it, which then does the newest wish."""
        with self._lock:
            if self._busy:
                self.dropped += self._again
                self._again = True
                return
            self._busy = True
        while True:
            try:
                self._work()
                self.done += 1
            except BaseException:
                with self._lock:
                    self._busy = self._again = False
                raise
            with self._lock:
                if not self._again:
                    self._busy = False
                    return
                self._again = False

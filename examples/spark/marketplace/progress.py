"""How far a run is, told every few seconds: the stage, rows, rows a second, and how many were refused."""

import threading
import time


class Progress:
    """Tells from a thread of its own until it is left. Counts are of finished tasks, and for show: an attempt that was repeated counts twice."""

    def __init__(self, context, done, rows, waves, tell, every=5.0):
        self.context, self.done, self.rows, self.waves, self.tell, self.every = context, done, rows, waves, tell, every
        self.wave = 0
        self._began = time.monotonic()
        self._left = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def __enter__(self):
        self._thread.start()
        return self

    def __exit__(self, *_):
        self._left.set()
        self._thread.join()
        if self.rows:
            self.tell(self.line())

    def line(self):
        """One line of what is known now."""
        tracker = self.context.statusTracker()
        stages = [info for info in map(tracker.getStageInfo, tracker.getActiveStageIds()) if info]
        stage = ", ".join(f"stage {info.stageId} ({info.numCompletedTasks} of {info.numTasks} tasks)" for info in stages) or "no stage"
        rows, refused = min(self.done[0].value, self.rows), self.done[1].value
        speed = rows / max(time.monotonic() - self._began, 0.001)
        return f"wave {self.wave} of {self.waves}, {stage}: {rows:,} of {self.rows:,} rows, {speed:,.0f} a second, {refused:,} refused"

    def _run(self):
        while not self._left.wait(self.every):
            self.tell(self.line())

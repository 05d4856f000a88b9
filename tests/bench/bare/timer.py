"""Peer: a bare event loop that rings at fixed instants while it repaints a line ten times a second.

Arguments: seconds between bells, how many. It prints the instant of the first, on `time.perf_counter`.
"""

from __future__ import annotations

import asyncio
import sys
import time

_REPAINT_S = 0.1


async def ring(every: float, count: int) -> None:
    loop = asyncio.get_running_loop()
    start = loop.time() + 1.0
    print(f"start {start - loop.time() + time.perf_counter():.6f}", flush=True)
    over = asyncio.Event()

    def bell() -> None:
        sys.stdout.write("\x07")
        sys.stdout.flush()

    def repaint(n: int) -> None:
        sys.stdout.write(f"\r{n * _REPAINT_S:8.1f} s {'#' * (n % 60):<60}")
        sys.stdout.flush()
        loop.call_at(start + (n + 1) * _REPAINT_S, repaint, n + 1)

    repaint(0)
    for n in range(count):
        loop.call_at(start + n * every, bell)
    loop.call_at(start + count * every, over.set)
    await over.wait()


if __name__ == "__main__":
    asyncio.run(ring(float(sys.argv[1]), int(sys.argv[2])))

"""A pool of close-ups on the GPU, filled and refreshed by drawing processes on the CPU's cores."""

import json
import os
import queue
import subprocess
import threading
import time

import numpy as np
import torch

BRIGHTEST = 1.7  # as in draw/main.go


def read(path):
    """Returns a file's header and its planes, n × planes × side × side of uint8."""
    with open(path, "rb") as f:
        head = json.loads(f.readline())
        n, s = len(head["drawings"]), head["side"]
        planes = np.frombuffer(f.read(), np.uint8).reshape(n, len(head["planes"]), s, s)
    return head, planes


def light(codes):
    """Linear light of uint8 codes, 1 for paper."""
    return BRIGHTEST * (codes.float() / 255) ** 3


class Painter(threading.Thread):
    """One process after another that draws `each` close-ups of a style; puts what it reads into a queue."""

    def __init__(self, command, kind, styles, seeds, each, folder, out, number):
        super().__init__(daemon=True)
        self.args = command, kind, styles, seeds, each, folder, out, number
        self.stop = False

    def run(self):
        command, kind, styles, seeds, each, folder, out, number = self.args
        turn = number
        while not self.stop:
            style = styles[turn % len(styles)]
            turn += 1
            path = os.path.join(folder, f"{number}.draw")
            first = next(seeds)
            done = subprocess.run([command, "-kind", kind, "-style", style, "-first", str(first), "-n", str(each), "-out", path], capture_output=True, text=True)
            if done.returncode:
                print("drawing failed:", done.stderr[-500:], flush=True)
                return
            item = read(path)
            while not self.stop:
                try:
                    out.put(item, timeout=1)
                    break
                except queue.Full:
                    pass


class Pool:
    """Up to `size` close-ups on `device`; `refresh` takes in what has been drawn meanwhile, the oldest go first."""

    def __init__(self, command, kind, styles, size, device, folder, workers, each=16, first=1):
        os.makedirs(folder, exist_ok=True)
        self.device, self.size, self.n, self.next, self.drawn = device, size, 0, 0, 0
        self.planes, self.meta, self.names = None, [None] * size, None
        self.queue = queue.Queue(maxsize=4 * workers)
        lock = threading.Lock()

        def counter():
            at = first
            while True:
                yield at
                at += each

        c = counter()

        class Seeds:
            def __next__(s):
                with lock:
                    return next(c)

        seeds = Seeds()
        self.painters = [Painter(command, kind, styles, seeds, each, folder, self.queue, i) for i in range(workers)]
        for p in self.painters:
            p.start()

    def refresh(self, wait_for=0):
        while True:
            try:
                head, planes = self.queue.get(timeout=600) if self.n < wait_for else self.queue.get_nowait()
            except queue.Empty:
                if self.n >= wait_for:
                    return
                raise RuntimeError("nothing is being drawn") from None
            if self.planes is None:
                self.names, self.per_mm, self.side = head["planes"], head["per_mm"], head["side"]
                self.planes = torch.empty((self.size, len(self.names), self.side, self.side), dtype=torch.uint8, device=self.device)
            for k, m in enumerate(head["drawings"]):
                self.planes[self.next] = torch.from_numpy(planes[k].copy()).to(self.device)
                self.meta[self.next] = m
                self.next = (self.next + 1) % self.size
                self.n = min(self.size, self.n + 1)
                self.drawn += 1

    def plane(self, batch, name):
        return batch[:, self.names.index(name)]

    def close(self):
        for p in self.painters:
            p.stop = True

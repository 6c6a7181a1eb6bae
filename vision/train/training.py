"""What training the two networks has in common: pool, steps, judging, saving."""

import argparse
import copy
import math
import os
import time

import torch

import camera
import model
import pool


def arguments(styles, held_out, pool_size, shot, batch):
    a = argparse.ArgumentParser()
    a.add_argument("--draw", default="./draw-closeups", help="the drawing command, built by `run`")
    a.add_argument("--styles", default=styles)
    a.add_argument("--held-out", default=held_out)
    a.add_argument("--out", default=".")
    a.add_argument("--minutes", type=float, default=8.5)
    a.add_argument("--pool", type=int, default=pool_size, help="drawings kept at a time")
    a.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 2) - 2), help="drawing processes")
    a.add_argument("--shot", type=int, default=shot, help="patches by one camera")
    a.add_argument("--batch", type=int, default=batch, help="patches a step")
    a.add_argument("--kept", type=int, default=60, help="shots that steps draw from")
    a.add_argument("--steps", type=int, default=4, help="steps between two shots")
    a.add_argument("--refresh", type=int, default=8, help="shots between two looks at what has been drawn meanwhile")
    a.add_argument("--begin", type=int, default=0, help="drawings to wait for before the first step; 0: one file of each worker")
    a.add_argument("--rate", type=float, default=2.5e-3)
    a.add_argument("--warm", type=int, default=300, help="steps over which the rate rises to its full height")
    a.add_argument("--seed", type=int, default=1)
    a.add_argument("--nets", default="16,32,64,96:0,1,1,2", help="widths:blocks; several, separated by ;, learn side by side")
    a.add_argument("--start", default="", help="weights to go on from; for several networks one file each, separated by ; (none: from nothing)")
    a.add_argument("--first", type=int, default=1, help="shots before the first step")
    a.add_argument("--judged", type=int, default=6, help="batches judged on the way; 0: none")
    a.add_argument("--folder", default="/dev/shm/closeups")
    return a.parse_args()


@torch.no_grad()
def judge(net, p, device, seed, batches, photo, encode, loss, b=24):
    net.eval()
    d = camera.Dice(device, seed)
    results = []
    for _ in range(batches):
        s = photo(p, d, b, device)
        results.append(loss(net(encode(s, d)), s)[1]())
    net.train()
    return results


def load(net, file):
    """Takes weights from a file; inputs that have come since begin with no weight, and those that have gone are left out."""
    state = torch.load(file, map_location="cpu")
    new = net.first.weight
    old = state["first.weight"] = state["first.weight"][:, : new.shape[1]]
    if old.shape[1] < new.shape[1]:
        state["first.weight"] = torch.cat([old, torch.zeros(old.shape[0], new.shape[1] - old.shape[1], *old.shape[2:])], 1)
    net.load_state_dict(state)


_constants = {}


def constant(values, device):
    """A tensor of these numbers on the device, made once: a recorded step may not copy from the computer's memory."""
    key = (tuple(values), str(device))
    if key not in _constants:
        _constants[key] = torch.tensor(values, device=device)
    return _constants[key]


class Album:
    """The latest shots, ready for the network, in half precision where that does no harm. In shots of pairs, the second half shows what the first does."""

    def __init__(self, shots, shot, pairs=False):
        self.room, self.shot, self.pairs, self.n, self.at, self.kept = shots * shot, shot, pairs, 0, 0, {}

    def rows(self, many, d):
        """That many patches by chance, and in shots of pairs the others of half of them after these."""
        if not self.pairs:
            return torch.randint(self.n, (many,), generator=d.g, device=d.device)
        half = self.shot // 2
        k = torch.randint(self.n // 2, (many // 2,), generator=d.g, device=d.device)
        first = k // half * self.shot + k % half
        return torch.cat([first, first + half])

    def add(self, s):
        for k, v in s.items():
            if k not in self.kept:
                kind = torch.float16 if k in HALVED else v.dtype
                self.kept[k] = torch.zeros((self.room, *v.shape[1:]), dtype=kind, device=v.device)
            self.kept[k][self.at : self.at + self.shot] = v
        self.n = max(self.n, self.at + self.shot)
        self.at = (self.at + self.shot) % self.room

    def pick(self, rows, to):
        for k, v in self.kept.items():
            to[k].copy_(v[rows])


HALVED = {"input", "share", "line", "shares", "own"}


class Learner:
    """A network, its running mean and its optimiser; a step on the GPU is recorded once and then replayed."""

    def __init__(self, spec, net, o, device, loss):
        self.spec, self.device, self.loss_of = spec, device, loss
        self.net = net.to(device).to(memory_format=torch.channels_last)
        self.mean = copy.deepcopy(self.net)
        self.rate = torch.tensor(o.rate, device=device)
        self.keep = torch.tensor(0.0, device=device)
        on_gpu = device == "cuda"
        self.opt = torch.optim.AdamW(self.net.parameters(), self.rate if on_gpu else o.rate, weight_decay=1e-4, **({"capturable": True} if on_gpu else {}))
        self.graph, self.loss = None, None

    def work(self, s):
        x = s["input"].to(memory_format=torch.channels_last)
        with torch.autocast(self.device, torch.bfloat16):
            y = self.net(x.float())
        self.loss, _ = self.loss_of(y.float(), {k: v.float() if k in HALVED else v for k, v in s.items()})
        self.loss.backward()
        torch.nn.utils.clip_grad_norm_(self.net.parameters(), 1.0)
        self.opt.step()
        self.opt.zero_grad(set_to_none=self.device != "cuda")
        with torch.no_grad():
            for e, v in zip(self.mean.parameters(), self.net.parameters()):
                e.add_((v - e) * (1 - self.keep))

    def step(self, s, rate, keep):
        self.rate.fill_(rate)
        self.keep.fill_(keep)
        if self.device != "cuda":
            for g in self.opt.param_groups:
                g["lr"] = rate
            self.work(s)
            return
        if self.graph is None:
            side = torch.cuda.Stream()
            side.wait_stream(torch.cuda.current_stream())
            with torch.cuda.stream(side):
                for _ in range(3):
                    self.work(s)
            torch.cuda.current_stream().wait_stream(side)
            self.graph = torch.cuda.CUDAGraph()
            with torch.cuda.graph(self.graph):
                self.work(s)
        self.graph.replay()


def main(kind, photo, encode, loss, show, channels, out, side, styles, held_out, pool_size, held_size, shot, batch, each, pairs=False):
    o = arguments(styles, held_out, pool_size, shot, batch)
    if pairs and (o.shot % 2 or o.batch % 2):
        raise SystemExit("give even numbers for --shot and --batch: half of the patches show what the other half shows")
    began = time.time()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(o.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    p = pool.Pool(o.draw, kind, o.styles.split(","), o.pool, device, f"{o.folder}-{kind}", o.workers, each=each, first=1 + 10_000_000 * o.seed)
    held = pool.Pool(o.draw, kind, o.held_out.split(","), held_size, device, f"{o.folder}-{kind}-held", 1, each=8, first=1)
    learners = []
    specs, starts = o.nets.split(";"), o.start.split(";")
    for spec, start in zip(specs, starts + [""] * (len(specs) - len(starts))):
        net = model.from_spec(spec, channels, out)
        if start:
            load(net, start)
        learners.append(Learner(spec, net, o, device, loss))
    p.refresh(wait_for=min(o.pool, o.begin or each * o.workers))
    print(f"{kind}: pool {p.n} after {time.time() - began:.0f} s, {device}", flush=True)
    d = camera.Dice(device, o.seed)
    album, batch_of = Album(o.kept, o.shot, pairs), None
    span, step, shots, next_word, next_save = o.minutes * 60, 0, 0, 40.0, 300.0
    while (t := time.time() - began) < span:
        s = photo(p, d, o.shot, device)
        s["input"] = encode(s, d)
        s.pop("x")
        album.add(s)
        shots += 1
        if batch_of is None:
            batch_of = {k: v[: o.batch].clone() for k, v in album.kept.items()}
        if shots < o.first:
            continue
        for _ in range(o.steps):
            done = (time.time() - began) / span
            rate = o.rate * min(1, (step + 1) / o.warm) * (0.5 + 0.5 * math.cos(math.pi * min(1, done))) + 1e-6
            album.pick(album.rows(o.batch, d), batch_of)
            for n in learners:
                n.step(batch_of, rate, min(0.9995, 1 - 10 / (step + 10)))
            step += 1
        if shots % o.refresh == 0:
            p.refresh()
        if t > next_save:
            next_save = t + 300
            print(f"{t:.0f} s, step {step}, {shots * o.shot} patches, drawn {p.drawn}", flush=True)
            for n in learners:
                save(n, o, kind, channels, side)
        if t > next_word:
            next_word = t + max(60, span / 12)
            held.refresh()
            print(f"{t:.0f} s, step {step}, {shots * o.shot} patches, pool {p.n}, drawn {p.drawn}, held out {held.n}", flush=True)
            for n in learners:
                save(n, o, kind, channels, side)
                print(f" {n.spec} loss {n.loss.item():.4f}", flush=True)
                if held.n >= 16 and o.judged:
                    show("held out", judge(n.mean, held, device, 7, o.judged, photo, encode, loss))
                if o.judged:
                    show("trained on", judge(n.mean, p, device, 8, o.judged, photo, encode, loss))
    p.close()
    held.close()
    for n in learners:
        save(n, o, kind, channels, side)
        print(f" {n.spec} at the end, step {step}, {shots * o.shot} patches", flush=True)
        if held.n:
            show("held out", judge(n.mean, held, device, 9, 4 * o.judged or 4, photo, encode, loss))
        show("trained on", judge(n.mean, p, device, 10, 4 * o.judged or 4, photo, encode, loss))


def save(n, o, kind, channels, side):
    name = kind + "-" + n.spec.replace(",", "_").replace(":", "-")
    net = copy.deepcopy(n.mean).cpu().float().to(memory_format=torch.contiguous_format)
    torch.save(net.state_dict(), os.path.join(o.out, name + ".pt"))
    model.export(net, channels, os.path.join(o.out, name + ".onnx"), side, side)

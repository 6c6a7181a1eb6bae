"""Teaches a trained network what follows without any truth: to return the mean of what one or several networks make of a photo in all eight ways to lay it,
and to find nothing on plain surfaces. Minutes on a CPU, better on a GPU. See README.md."""

import argparse
import copy
import os
import re
import time

import torch
import torch.nn.functional as F

import camera
import leaves
import model
import pool
import roots
import training
from mean import KINDS

SHARES = 12  # channels of both networks that are shares: three maps on squares of 2 × 2 pixels
FINE = {"roots": 4, "leaves": 3}  # maps on pixels; all further ones are on squares, those of leaves' first two being where the base lies: dx and dy
STYLES = {"roots": "relief,brush", "leaves": "foliage,herbarium"}
SIZES = {"roots": dict(pool=600, shot=64, batch=64, each=16), "leaves": dict(pool=240, shot=24, batch=24, each=4)}

WAYS = [(turn, mirror) for turn in range(4) for mirror in (False, True)]


def laid(maps, way, fine, vectors=False):
    """B × C × h × w laid another way. The first 4·fine channels are squares of 2 × 2 pixels; with vectors, the two that follow are x and y of a way in the
    picture, which turns and is mirrored with it."""
    turn, mirror = way
    lay = lambda v: torch.rot90(v.flip(3) if mirror else v, turn, (2, 3))
    first = F.pixel_unshuffle(lay(F.pixel_shuffle(maps[:, : 4 * fine], 2)), 2)
    rest = lay(maps[:, 4 * fine :])
    if not vectors:
        return torch.cat([first, rest], 1)
    x, y = rest[:, 0:1], rest[:, 1:2]
    if mirror:
        x = -x
    for _ in range(turn):  # a quarter turn takes what points down to the right, and what points right upwards
        x, y = y, -x
    return torch.cat([first, x, y, rest[:, 2:]], 1)


def shown(x, way, kind):
    """An input laid another way: its light and, for leaves, its last eight planes are squares of 2 × 2 pixels."""
    if kind == "roots":
        return laid(x, way, 3)
    return torch.cat([laid(x[:, :16], way, 3), laid(x[:, 16:], way, 2)], 1)


def back(maps, way, fine, vectors=False):
    """Undoes laid."""
    turn, mirror = way
    return laid(maps, (turn, True) if mirror else (-turn % 4, False), fine, vectors)  # a mirrored way undoes itself


def as_amounts(y, kind):
    """What can be averaged: shares as probabilities, length as its rate, all else as it is."""
    rates = 4 if kind == "roots" else 0
    return torch.cat([torch.sigmoid(y[:, :SHARES]), F.softplus(y[:, SHARES : SHARES + rates]), y[:, SHARES + rates :]], 1)


def as_maps(v, kind):
    """Undoes as_amounts."""
    rates = 4 if kind == "roots" else 0
    rate = v[:, SHARES : SHARES + rates].clamp(min=1e-5)
    return torch.cat([torch.logit(v[:, :SHARES].clamp(1e-5, 1 - 1e-5)), torch.log(torch.expm1(rate)), v[:, SHARES + rates :]], 1)


@torch.no_grad()
def teach(teachers, x, kind):
    """The mean of the teachers' maps over all ways, in half precision."""
    fine, vectors = FINE[kind], kind == "leaves"
    total = 0
    for way in WAYS:
        seen = shown(x, way, kind).contiguous(memory_format=torch.channels_last)
        for net in teachers:
            with torch.autocast(x.device.type, torch.bfloat16):
                y = net(seen)
            total = total + as_amounts(back(y.float(), way, fine, vectors), kind) / (len(WAYS) * len(teachers))
    return as_maps(total, kind).half()


def settled_roots(y, before, plain):
    """Nothing on plain surfaces; elsewhere the shares, lengths and sums that the teachers give."""
    (maps, spread), (maps0, spread0) = roots.split(y), roots.split(before)
    share, share0 = torch.sigmoid(maps[:, :3]), torch.sigmoid(maps0[:, :3])
    line, line0 = F.softplus(maps[:, 3]), F.softplus(maps0[:, 3])
    keep = (~plain).float()[:, None]
    got, want = roots.sums(share, line), keep * roots.sums(share0, line0)
    floor = training.constant(roots.FLOOR, y.device)
    sums = (((got - want) / (want + floor)).clamp(-3, 3) ** 2).mean()
    there = keep[:, :, None, None]
    pixels = F.binary_cross_entropy_with_logits(maps[:, :3], share0 * there) + ((line - line0 * there[:, 0]) ** 2).mean()
    return pixels + 0.5 * sums + 0.05 * (((spread - spread0) * keep) ** 2).mean()


def settled_leaves(y, before, plain):
    """Nothing on plain surfaces; elsewhere the shares and sums that the teachers give and, where leaf is, its base, colour and spreads."""
    (maps, offset, colour, spread), (maps0, offset0, colour0, spread0) = leaves.split(y), leaves.split(before)
    keep = (~plain).float()[:, None, None, None]
    share, share0 = torch.sigmoid(maps), torch.sigmoid(maps0) * keep
    pixels = F.binary_cross_entropy_with_logits(maps, share0, reduction="none").mean((0, 2, 3))
    leaf = F.avg_pool2d(share0[:, :1], 2)
    on_leaf = lambda v: (v * leaf).sum() / leaf.sum().clamp(min=1) / v.shape[1]
    floors = training.constant([15.0, 6.0], y.device)[None, :, None, None]

    def sums(side):  # mm² of leaf and yellow in squares of so many prepared pixels
        got, want = (F.avg_pool2d(v[:, :2], side) * (side / leaves.PX_PER_MM) ** 2 for v in (share, share0))
        return (((got - want) / (want + floors)).clamp(-1.5, 1.5) ** 2).mean()

    return ((pixels * training.constant([2.0, 2.0, 1.0], y.device)).sum() + 0.4 * on_leaf((offset - offset0).abs()) + 0.25 * on_leaf((colour - colour0).abs())
            + 0.05 * on_leaf((spread - spread0) ** 2) + 0.1 * sums(48) + 0.1 * sums(leaves.SIDE))


SETTLED = {"roots": settled_roots, "leaves": settled_leaves}


def empty(s, kind):
    """Whether there is nothing to find in each patch of a shot."""
    if kind == "roots":
        return (s["share"].sum((1, 2, 3)) + s["line"].sum((1, 2))) == 0
    return s["shares"][:, 0].sum((1, 2)) == 0


def networks(text, kind, device):
    """The networks of SPEC=FILE,SPEC=FILE,…; a FILE alone is of the usual size."""
    room, usual, _ = KINDS[kind]
    found = []
    for spec, file in re.findall(r"(?:([\d,]+:[\d,]+)=)?([^,=]+)", text):
        net = model.from_spec(spec.strip(",") or usual, room.CHANNELS, room.OUT)
        training.load(net, file)
        found.append(net.to(device).to(memory_format=torch.channels_last).eval())
    return found


def write(net, spec, kind, out):
    """Writes weights and ONNX."""
    room, _, side = KINDS[kind]
    net = copy.deepcopy(net).cpu().float().to(memory_format=torch.contiguous_format)
    torch.save(net.state_dict(), out + ".pt")
    model.export(net, room.CHANNELS, out + ".onnx", side, side)


def options():
    a = argparse.ArgumentParser()
    a.add_argument("--kind", choices=KINDS, default="roots")
    a.add_argument("--draw", default="./draw-closeups", help="the drawing command, built by `run`")
    a.add_argument("--start", help="weights to go on from")
    a.add_argument("--nets", default="", help="the network's widths:blocks; as usual for the kind where not given")
    a.add_argument("--teachers", default="", help="SPEC=FILE,SPEC=FILE,…: whose mean is taught; START's own where not given")
    a.add_argument("--out", default="settled", help="name of what is written: NAME.pt and NAME.onnx")
    a.add_argument("--minutes", type=float, default=12)
    a.add_argument("--plain", type=float, default=0.0, help="share of patches that are plain surfaces; 0: 0.4 for roots, 0.1 for leaves")
    a.add_argument("--pool", type=int, default=0, help="drawings kept at a time; these four as usual for the kind where 0")
    a.add_argument("--shot", type=int, default=0, help="patches by one camera")
    a.add_argument("--batch", type=int, default=0, help="patches a step")
    a.add_argument("--each", type=int, default=0, help="drawings a file")
    a.add_argument("--kept", type=int, default=40, help="shots that steps draw from")
    a.add_argument("--steps", type=int, default=8, help="steps between two shots")
    a.add_argument("--rate", type=float, default=2e-4)
    a.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 2) - 2), help="drawing processes")
    a.add_argument("--seed", type=int, default=91)
    a.add_argument("--folder", default="/dev/shm/closeups-settle")
    a.add_argument("--check", action="store_true", help="check that photos and maps are laid rightly, and end")
    o = a.parse_args()
    if not o.start and not o.check:
        a.error("give --start WEIGHTS")
    for k, v in SIZES[o.kind].items():
        setattr(o, k, getattr(o, k) or v)
    o.nets = o.nets or KINDS[o.kind][1]
    o.plain = o.plain or {"roots": 0.4, "leaves": 0.1}[o.kind]
    return o


def main():
    o = options()
    if o.check:
        return check()
    began, room = time.time(), KINDS[o.kind][0]
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(o.seed)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    net = networks(f"{o.nets}={o.start}", o.kind, device)[0].train()
    teachers = networks(o.teachers or f"{o.nets}={o.start}", o.kind, device)
    p = pool.Pool(o.draw, o.kind, STYLES[o.kind].split(","), o.pool, device, f"{o.folder}-{o.kind}", o.workers, each=o.each, first=1 + 10_000_000 * o.seed)
    p.refresh(wait_for=min(o.pool, o.each * max(2, o.workers)))
    print(f"{o.kind}: {len(teachers)} teachers, {p.n} drawings after {time.time() - began:.0f} s, {device}", flush=True)
    learn(net, teachers, p, o, room, device)
    p.close()
    write(net, o.nets, o.kind, o.out)


def learn(net, teachers, p, o, room, device):
    """Shots and steps by turns until the time is over."""
    d = camera.Dice(device, o.seed)
    album = training.Album(o.kept, o.shot)
    opt = torch.optim.Adam(net.parameters(), o.rate)
    fine, vectors = FINE[o.kind], o.kind == "leaves"
    began, step, shots, word, saved = time.time(), 0, 0, 0.0, 300.0
    while (t := time.time() - began) < 60 * o.minutes:
        s = room.photo(p, d, o.shot, device, plain=o.plain)
        x = room.encode(s, d)
        before = torch.cat([teach(teachers, v, o.kind) for v in x.split(o.batch)])
        album.add(dict(input=x, before=before, plain=empty(s, o.kind)))
        shots += 1
        for _ in range(o.steps):
            done = (time.time() - began) / (60 * o.minutes)
            for g in opt.param_groups:
                g["lr"] = o.rate * min(1, (step + 1) / 20) * max(0.01, 1 - done)
            rows = torch.randint(album.n, (o.batch,), generator=d.g, device=device)
            seen, want, plain = (album.kept[k][rows] for k in ("input", "before", "plain"))
            way = WAYS[int(d.one(0, len(WAYS)))]
            with torch.autocast(device, torch.bfloat16):
                y = net(shown(seen.float(), way, o.kind).contiguous(memory_format=torch.channels_last))
            loss = SETTLED[o.kind](y.float(), laid(want.float(), way, fine, vectors), plain)
            opt.zero_grad(set_to_none=True)
            loss.backward()
            torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
            opt.step()
            step += 1
        if shots % 8 == 0:
            p.refresh()
        if t >= word:
            word = t + max(10, 60 * o.minutes / 40)
            print(f"{t:.0f} s, step {step}, {shots * o.shot} patches, {int(album.kept['plain'][: album.n].sum())} of {album.n} plain, drawn {p.drawn}: loss {loss.item():.5f}", flush=True)
        if t > saved:
            saved = t + 300
            write(net, o.nets, o.kind, o.out)
    print(f"at the end: step {step}, {shots * o.shot} patches", flush=True)


def check():
    """Checks what laid, back and teach do against what geometry says."""
    h, w = 5, 7
    for kind, fine in FINE.items():
        room, vectors = KINDS[kind][0], kind == "leaves"
        maps = torch.randn(2, room.OUT, h, w)
        for way in WAYS:
            there = laid(maps, way, fine, vectors)
            if not torch.equal(back(there, way, fine, vectors), maps):
                raise SystemExit(f"{kind}: way {way} is not undone")

    # each square's way to a marked one must still lead to it, wherever the mark has come to lie
    def ways_to(mark):
        rows, cols = mark.shape
        at = int(mark.argmax())
        y, x = torch.meshgrid(torch.arange(rows).float(), torch.arange(cols).float(), indexing="ij")
        return torch.stack([at % cols - x, at // cols - y])

    mark = torch.zeros(h, w)
    mark[1, 5] = 1
    maps = torch.zeros(1, leaves.OUT, h, w)
    maps[0, 12:14], maps[0, 14] = ways_to(mark), mark
    for way in WAYS:
        there = laid(maps, way, 3, True)[0]
        if not torch.equal(there[12:14], ways_to(there[14])):
            raise SystemExit(f"way {way} turns vectors wrongly")

    # what a photo's colours say lies where the photo does
    def planes(photo):
        squares = [F.pixel_unshuffle(v, 2) for v in (photo, leaves.margin(photo, torch.full((1,), leaves.HUE), torch.full((1,), leaves.CHROMA)), leaves.greenness(photo))]
        return torch.cat([squares[0], torch.zeros(1, 4, *squares[0].shape[2:]), squares[1], squares[2]], 1)

    photo = torch.rand(1, 3, 12, 12)
    for way in WAYS:
        turned = F.pixel_shuffle(laid(F.pixel_unshuffle(photo, 2), way, 3), 2)
        if (shown(planes(photo), way, "leaves") - planes(turned)).abs().max() > 1e-4:
            raise SystemExit(f"way {way} turns what colours say wrongly")

    # a network that points to the right whatever it is shown points nowhere on the mean, and shares and colours stay what they are
    def right(x):
        y = torch.zeros(len(x), leaves.OUT, *x.shape[2:])
        y[:, :4], y[:, 12], y[:, 14] = 2, 1, 0.5
        return y

    got = teach([right, right], torch.zeros(1, leaves.CHANNELS, 6, 6), "leaves").float()
    want = right(torch.zeros(1, 1, 6, 6))
    want[:, 12] = 0
    if (got - want).abs().max() > 0.01:
        raise SystemExit("the mean over all ways is wrong")
    print("photos and maps are laid rightly")


if __name__ == "__main__":
    main()
